#include "cook/trial_private.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "cook/kept_way.h"

NwTrial *nw_trial_new(const NwAim *aim, const NwCandidate *candidate) {
    NwTrial *trial = nw_alloc(1, sizeof *trial);
    *trial = (NwTrial){.aim = aim, .candidate = *candidate, .piece = -1};
    return trial;
}

void nw_trial_free(NwTrial *trial) {
    if (!trial)
        return;
    nw_proof_free(trial->proof);
    nw_altered_clear(&trial->altered);
    nw_remnants_clear(&trial->cooks);
    free(trial->merged);
    nw_outcome_clear(&trial->outcome);
    nw_founds_clear(&trial->founds);
    free(trial->past);
    free(trial);
}

static NwTrialEnd miss(NwTrial *trial, NwMissReason reason) {
    trial->reason = reason;
    return NW_TRIAL_MISSED;
}

/* Assemblies that may be cooks, before. */
static size_t loose_before(const NwGround *ground) {
    return ground->cooks + ground->doubtful;
}

/* ---- fits -------------------------------------------------------------------------------- */

/* Lists what is left of the cooks; whether one that was asked for has left nothing. */
static bool find_remnants(NwTrial *trial) {
    NwGround *ground = trial->aim->ground;
    uint64_t *intended = nw_remnant_intended(ground, &trial->altered);
    bool gone = false;
    trial->merged = nw_alloc(ground->known_count, sizeof *trial->merged);
    for (size_t i = 0; i < ground->known_count; i++) {
        if (ground->known[i].intended || ground->known[i].opens == NW_NONE)
            continue;
        size_t left =
            nw_remnants_add(&trial->cooks, ground, &trial->altered, i, intended, &trial->merged[i]);
        bool wanted =
            trial->aim->target < 0 ? nw_ground_is_cook(ground, i) : trial->aim->target == (long)i;
        gone = gone || (wanted && !left);
    }
    free(intended);
    return gone;
}

static NwTrialEnd look_at_fits(NwTrial *trial) {
    NwGround *ground = trial->aim->ground;
    if (!nw_altered_make(ground, trial->candidate.changes, trial->candidate.count, &trial->altered))
        return NW_TRIAL_VOID;
    trial->fits = true;
    bool holds = nw_altered_holds(&trial->altered, &trial->piece);
    if (trial->altered.sameness)
        trial->kills = find_remnants(trial);
    trial->step = NW_STEP_MARKS;
    return holds ? NW_TRIAL_RANKED : miss(trial, NW_MISS_LUMPS);
}

static NwTrialEnd look_at_marks(NwTrial *trial) {
    NwRank *rank = &trial->candidate.rank;
    nw_rank_marks(trial->aim->ground, &trial->altered, &rank->hangs, &rank->tips);
    trial->step = NW_STEP_START_OPENS;
    return NW_TRIAL_RANKED;
}

/* ---- slides ------------------------------------------------------------------------------ */

/* The intended assembly comes apart in this way. */
void nw_trial_take_way(NwTrial *trial, int level, int total, const NwSlide *slides) {
    NwOutcome *outcome = &trial->outcome;
    outcome->opens = NW_OK;
    outcome->level = level;
    outcome->total = total;
    outcome->slides = nw_alloc((size_t)total, sizeof *outcome->slides);
    if (total)
        memcpy(outcome->slides, slides, (size_t)total * sizeof *outcome->slides);
    NwRank *rank = &trial->candidate.rank;
    rank->level_lost = level < trial->aim->level ? trial->aim->level - level : 0;
    rank->total_lost = total < trial->aim->total ? trial->aim->total - total : 0;
    trial->step = NW_STEP_KILLS;
}

/* Whether the old way out is good enough to need no search (kept_way.h). */
static bool keeps_way(const NwTrial *trial) {
    const NwAim *aim = trial->aim;
    return aim->opens == NW_OK && (aim->level == 1 || trial->altered.adds_only) &&
           nw_way_is_kept(aim->ground, &trial->altered, aim->ground->design->intended,
                          trial->candidate.changes, trial->candidate.count, aim->slides,
                          aim->total);
}

static NwTrialEnd look_at_opens(NwTrial *trial, long *effort) {
    NwGround *ground = trial->aim->ground;
    const NwDesign *design = trial->altered.design;
    if (trial->step == NW_STEP_START_OPENS) {
        if (nw_trial_recall(trial))
            return NW_TRIAL_RANKED;
        if (keeps_way(trial)) {
            nw_trial_take_way(trial, trial->aim->level, trial->aim->total, trial->aim->slides);
            return NW_TRIAL_RANKED;
        }
        nw_census_slide(ground->slides, design, trial->altered.kinds, design->intended,
                        ground->bodies, ground->max_states);
        trial->step = NW_STEP_OPENS;
    }
    NwStatus status = nw_census_slide_on(ground->slides, effort);
    if (status == NW_STOPPED)
        return NW_TRIAL_GOES_ON;
    if (status != NW_OK)
        return miss(trial, status == NW_NONE ? NW_MISS_STUCK : NW_MISS_UNDECIDED);
    const NwWayOut *way = nw_take_apart_result(ground->slides);
    nw_trial_take_way(trial, way->level, way->total, way->slides);
    return NW_TRIAL_RANKED;
}

/* The fate of one known cook by its remnants. */
static NwFate fate_of(const NwTrial *trial, size_t known) {
    NwFate fate = trial->merged[known] ? NW_FATE_MERGED : NW_FATE_NO_FIT;
    for (size_t i = 0; i < trial->cooks.count; i++) {
        const NwRemnant *remnant = &trial->cooks.list[i];
        NwFate own = remnant->opens == NW_OK     ? NW_FATE_OPENS
                     : remnant->opens == NW_NONE ? NW_FATE_BLOCKED
                                                 : NW_FATE_UNDECIDED;
        if (remnant->known == known && own > fate)
            fate = own;
    }
    return fate;
}

static bool removes(const NwAim *aim, const NwFate *fates) {
    if (aim->target >= 0)
        return fates[aim->target] <= NW_FATE_BLOCKED;
    for (size_t i = 0; i < aim->ground->known_count; i++)
        if (nw_ground_is_cook(aim->ground, i) && fates[i] <= NW_FATE_BLOCKED)
            return true;
    return false;
}

/* All remnants have been tried with slides. */
static NwTrialEnd settle_kills(NwTrial *trial) {
    const NwGround *ground = trial->aim->ground;
    size_t open = 0, doubtful = 0;
    for (size_t i = 0; i < trial->cooks.count; i++) {
        open += trial->cooks.list[i].opens == NW_OK;
        doubtful += trial->cooks.list[i].opens == NW_LIMIT;
    }
    NwFate *fates = nw_alloc(ground->known_count, sizeof *fates);
    for (size_t i = 0; i < ground->known_count; i++)
        fates[i] = fate_of(trial, i);
    trial->kills = removes(trial->aim, fates);
    free(fates);
    if (!trial->kills)
        return miss(trial, NW_MISS_COOK_STAYS);
    if (open + doubtful >= loose_before(ground))
        return miss(trial, NW_MISS_NEW_COOK);
    trial->candidate.rank.cooks_left = open;
    trial->step = NW_STEP_PROVE;
    return NW_TRIAL_RANKED;
}

/* Whether a remnant comes apart: in its old way, or by a slide search. */
static NwStatus slide_remnant(NwTrial *trial, NwRemnant *remnant, long *effort) {
    NwGround *ground = trial->aim->ground;
    const NwKnown *known = &ground->known[remnant->known];
    if (!trial->sliding && known->slides && remnant->direct &&
        nw_way_is_kept(ground, &trial->altered, remnant->placements, trial->candidate.changes,
                       trial->candidate.count, known->slides, known->total)) {
        remnant->level = known->level;
        remnant->total = known->total;
        return NW_OK;
    }
    if (!trial->sliding)
        nw_census_slide(ground->slides, trial->altered.design, trial->altered.kinds,
                        remnant->placements, ground->bodies, ground->max_states);
    NwStatus status = nw_census_slide_on(ground->slides, effort);
    trial->sliding = status == NW_STOPPED;
    if (status == NW_OK) {
        remnant->level = nw_take_apart_result(ground->slides)->level;
        remnant->total = nw_take_apart_result(ground->slides)->total;
    }
    return status;
}

static NwTrialEnd look_at_kills(NwTrial *trial, long *effort) {
    if (!trial->altered.sameness) { /* nothing can be inferred: the proof will tell */
        trial->step = NW_STEP_PROVE;
        return NW_TRIAL_RANKED;
    }
    for (; trial->at < trial->cooks.count; trial->at++) {
        NwRemnant *remnant = &trial->cooks.list[trial->at];
        NwStatus status = slide_remnant(trial, remnant, effort);
        if (status == NW_STOPPED)
            return NW_TRIAL_GOES_ON;
        remnant->opens = status;
        if (trial->aim->target == (long)remnant->known && status != NW_NONE)
            return miss(trial, NW_MISS_COOK_STAYS);
    }
    return settle_kills(trial);
}

/* ---- proof ------------------------------------------------------------------------------- */

/* All that is left, in the order in which it was known, the intended one first. */
static void list_founds(NwTrial *trial) {
    const NwOutcome *outcome = &trial->outcome;
    size_t bodies = (size_t)trial->aim->ground->bodies;
    NwFound *found = nw_founds_add(&trial->founds, trial->altered.design->intended, bodies);
    found->opens = outcome->opens;
    found->level = outcome->level;
    found->total = outcome->total;
    for (size_t i = 0; i < trial->cooks.count; i++) {
        const NwRemnant *remnant = &trial->cooks.list[i];
        found = nw_founds_add(&trial->founds, remnant->placements, bodies);
        found->opens = remnant->opens;
        found->level = remnant->level;
        found->total = remnant->total;
    }
}

/* Without a search: nothing is new, and what could not be taken apart before cannot now. */
static void sum_up(NwTrial *trial) {
    NwGround *ground = trial->aim->ground;
    NwOutcome *outcome = &trial->outcome;
    size_t loose = trial->cooks.count;
    uint64_t *intended = nw_remnant_intended(ground, &trial->altered);
    for (size_t i = 0; i < ground->known_count; i++)
        if (!ground->known[i].intended && ground->known[i].opens == NW_NONE)
            nw_remnants_add(&trial->cooks, ground, &trial->altered, i, intended, &trial->merged[i]);
    free(intended);
    for (size_t i = loose; i < trial->cooks.count; i++)
        trial->cooks.list[i].opens = NW_NONE;
    outcome->assemblies = 1 + trial->cooks.count;
    for (size_t i = 0; i < trial->cooks.count; i++) {
        NwStatus opens = trial->cooks.list[i].opens;
        outcome->cooks += opens == NW_OK;
        outcome->unreachable += opens == NW_NONE;
        outcome->undecided += opens == NW_LIMIT;
    }
    outcome->fates = nw_alloc(ground->known_count, sizeof *outcome->fates);
    for (size_t i = 0; i < ground->known_count; i++)
        outcome->fates[i] = ground->known[i].intended ? NW_FATE_OPENS : fate_of(trial, i);
    list_founds(trial);
}

static NwTrialEnd propose(NwTrial *trial) {
    NwOutcome *outcome = &trial->outcome;
    NwCandidate *candidate = &trial->candidate;
    trial->kills = removes(trial->aim, outcome->fates);
    if (!trial->kills)
        return miss(trial, NW_MISS_COOK_STAYS);
    if (outcome->cooks + outcome->undecided >= loose_before(trial->aim->ground))
        return miss(trial, NW_MISS_NEW_COOK);
    candidate->rank.cooks_left = outcome->cooks;
    candidate->rank.new_cooks = outcome->new_cooks;
    NwProposal *proposal = nw_alloc(1, sizeof *proposal);
    *proposal = (NwProposal){.count = candidate->count,
                             .rank = candidate->rank,
                             .outcome = *outcome,
                             .design = trial->altered.design,
                             .founds = trial->founds,
                             .proved = !outcome->undecided};
    memcpy(proposal->changes, candidate->changes, sizeof proposal->changes);
    *outcome = (NwOutcome){0};
    trial->founds = (NwFounds){0};
    trial->altered.design = NULL;
    candidate->proposal = proposal;
    return NW_TRIAL_PROVED;
}

static NwProof *new_proof(const NwTrial *trial) {
    NwGround *ground = trial->aim->ground;
    NwFit *fit;
    if (nw_altered_fit(ground, &trial->altered, &fit) != NW_OK)
        return NULL;
    /* As soon as there are as many as before, the change is no better than none; but where sameness
     * may change, only the whole search tells whether the cook was removed at all. */
    size_t most = trial->altered.sameness ? loose_before(ground) : 0;
    NwProof *proof = nw_proof_new(ground, &trial->altered, fit, most);
    nw_proof_spare_intended(proof);
    return proof;
}

static NwTrialEnd begin_proof(NwTrial *trial) {
    nw_altered_settle(trial->aim->ground, trial->candidate.changes, trial->candidate.count,
                      &trial->altered);
    if (trial->altered.known_only) {
        sum_up(trial);
        return propose(trial);
    }
    trial->proof = new_proof(trial);
    if (trial->proof && !nw_trial_recall_proof(trial)) {
        nw_proof_free(trial->proof);
        trial->proof = new_proof(trial);
    }
    if (!trial->proof)
        return miss(trial, NW_MISS_UNDECIDED);
    trial->proofs++;
    trial->step = NW_STEP_PROVING;
    return NW_TRIAL_RANKED;
}

static NwTrialEnd go_on_proving(NwTrial *trial, long *effort) {
    NwStatus status = nw_proof_step(trial->proof, effort);
    if (status == NW_STOPPED)
        return NW_TRIAL_GOES_ON;
    if (status != NW_NONE)
        return miss(trial, status == NW_LIMIT ? NW_MISS_NEW_COOK : NW_MISS_UNDECIDED);
    NwOutcome own = trial->outcome;
    trial->outcome = nw_proof_take(trial->proof);
    trial->outcome.opens = own.opens;
    trial->outcome.level = own.level;
    trial->outcome.total = own.total;
    trial->outcome.slides = own.slides;
    trial->founds = nw_proof_dup_founds(trial->proof, own.level, own.total);
    return propose(trial);
}

NwTrialEnd nw_trial_step(NwTrial *trial, long *effort) {
    if (*effort <= 0)
        return NW_TRIAL_GOES_ON;
    --*effort;
    switch (trial->step) {
    case NW_STEP_FITS:
        return look_at_fits(trial);
    case NW_STEP_MARKS:
        return look_at_marks(trial);
    case NW_STEP_START_OPENS:
    case NW_STEP_OPENS:
        return look_at_opens(trial, effort);
    case NW_STEP_KILLS:
        return look_at_kills(trial, effort);
    case NW_STEP_PROVE:
        return begin_proof(trial);
    case NW_STEP_PROVING:
        return go_on_proving(trial, effort);
    }
    return NW_TRIAL_VOID;
}

NwFrontStage nw_trial_stage(const NwTrial *trial, double *share) {
    static const NwFrontStage stages[] = {
        [NW_STEP_FITS] = NW_FRONT_FITS,         [NW_STEP_MARKS] = NW_FRONT_MARKS,
        [NW_STEP_START_OPENS] = NW_FRONT_OPENS, [NW_STEP_OPENS] = NW_FRONT_OPENS,
        [NW_STEP_KILLS] = NW_FRONT_KILLS,       [NW_STEP_PROVE] = NW_FRONT_PROVED,
        [NW_STEP_PROVING] = NW_FRONT_PROVED,
    };
    *share = 0;
    if (trial->step == NW_STEP_KILLS && trial->cooks.count)
        *share = (double)trial->at / (double)trial->cooks.count;
    if (trial->step == NW_STEP_PROVING)
        *share = nw_proof_share(trial->proof);
    return stages[trial->step];
}

const NwCandidate *nw_trial_get(const NwTrial *trial) {
    return &trial->candidate;
}

NwMiss nw_trial_miss(const NwTrial *trial) {
    NwMiss result = {.count = trial->candidate.count,
                     .number = trial->candidate.rank.number,
                     .reason = trial->reason,
                     .piece = trial->reason == NW_MISS_LUMPS ? trial->piece : -1};
    memcpy(result.changes, trial->candidate.changes, sizeof result.changes);
    return result;
}

bool nw_trial_kills(const NwTrial *trial) {
    return trial->kills;
}

size_t nw_trial_proofs(const NwTrial *trial) {
    return trial->proofs;
}

bool nw_trial_fits(const NwTrial *trial) {
    return trial->fits;
}
