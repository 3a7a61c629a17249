#include "cook/evaluation_private.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "cook/way_out_reuse.h"

NwEvaluation *nw_evaluation_new(const NwAim *aim, const NwCandidate *candidate) {
    NwEvaluation *trial = nw_alloc(1, sizeof *trial);
    *trial = (NwEvaluation){.aim = aim, .candidate = *candidate, .piece = -1};
    return trial;
}

void nw_evaluation_free(NwEvaluation *trial) {
    if (!trial)
        return;
    nw_proof_free(trial->proof);
    nw_variant_clear(&trial->variant);
    nw_survivors_clear(&trial->cooks);
    free(trial->merged);
    nw_outcome_clear(&trial->outcome);
    nw_founds_clear(&trial->founds);
    free(trial->past);
    free(trial);
}

static NwEvaluationEnd miss(NwEvaluation *trial, NwMissReason reason) {
    trial->reason = reason;
    return NW_TRIAL_MISSED;
}

/* Assemblies that may be cooks, before. */
static size_t loose_before(const NwBaseline *baseline) {
    return baseline->cooks + baseline->doubtful;
}

/* ---- fits -------------------------------------------------------------------------------- */

/* Lists what is left of the cooks; whether one that was asked for has left nothing. */
static bool find_remnants(NwEvaluation *trial) {
    NwBaseline *baseline = trial->aim->baseline;
    uint64_t *intended = nw_survivor_intended(baseline, &trial->variant);
    bool gone = false;
    trial->merged = nw_alloc(baseline->known_count, sizeof *trial->merged);
    for (size_t i = 0; i < baseline->known_count; i++) {
        if (baseline->known[i].intended || baseline->known[i].opens == NW_NONE)
            continue;
        size_t left = nw_survivors_add(&trial->cooks, baseline, &trial->variant, i, intended,
                                       &trial->merged[i]);
        bool wanted = trial->aim->target < 0 ? nw_baseline_is_cook(baseline, i)
                                             : trial->aim->target == (long)i;
        gone = gone || (wanted && !left);
    }
    free(intended);
    return gone;
}

static NwEvaluationEnd look_at_fits(NwEvaluation *trial) {
    NwBaseline *baseline = trial->aim->baseline;
    if (!nw_variant_make(baseline, trial->candidate.changes, trial->candidate.count,
                         &trial->variant))
        return NW_TRIAL_VOID;
    trial->fits = true;
    bool holds = nw_variant_holds(&trial->variant, &trial->piece);
    if (trial->variant.sameness)
        trial->kills = find_remnants(trial);
    trial->step = NW_STEP_MARKS;
    return holds ? NW_TRIAL_RANKED : miss(trial, NW_MISS_LUMPS);
}

static NwEvaluationEnd look_at_marks(NwEvaluation *trial) {
    NwRank *rank = &trial->candidate.rank;
    nw_rank_marks(trial->aim->baseline, &trial->variant, &rank->hangs, &rank->tips);
    trial->step = NW_STEP_START_OPENS;
    return NW_TRIAL_RANKED;
}

/* ---- slides ------------------------------------------------------------------------------ */

/* The intended assembly comes apart in this way. */
void nw_evaluation_take_way(NwEvaluation *trial, int level, int total, const NwSlide *slides) {
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
static bool keeps_way(const NwEvaluation *trial) {
    const NwAim *aim = trial->aim;
    return aim->opens == NW_OK && (aim->level == 1 || trial->variant.adds_only) &&
           nw_way_out_still_works(aim->baseline, &trial->variant, aim->baseline->design->intended,
                                  trial->candidate.changes, trial->candidate.count, aim->slides,
                                  aim->total);
}

static NwEvaluationEnd look_at_opens(NwEvaluation *trial, long *effort) {
    NwBaseline *baseline = trial->aim->baseline;
    const NwDesign *design = trial->variant.design;
    if (trial->step == NW_STEP_START_OPENS) {
        if (nw_evaluation_recall(trial))
            return NW_TRIAL_RANKED;
        if (keeps_way(trial)) {
            nw_evaluation_take_way(trial, trial->aim->level, trial->aim->total, trial->aim->slides);
            return NW_TRIAL_RANKED;
        }
        nw_enumeration_slide(baseline->slides, design, trial->variant.kinds, design->intended,
                             baseline->bodies, baseline->max_states);
        trial->step = NW_STEP_OPENS;
    }
    NwStatus status = nw_enumeration_slide_on(baseline->slides, effort);
    if (status == NW_STOPPED)
        return NW_TRIAL_GOES_ON;
    if (status != NW_OK)
        return miss(trial, status == NW_NONE ? NW_MISS_STUCK : NW_MISS_UNDECIDED);
    const NwWayOut *way = nw_take_apart_result(baseline->slides);
    nw_evaluation_take_way(trial, way->level, way->total, way->slides);
    return NW_TRIAL_RANKED;
}

/* The fate of one known cook by its survivors. */
static NwFate fate_of(const NwEvaluation *trial, size_t known) {
    NwFate fate = trial->merged[known] ? NW_FATE_MERGED : NW_FATE_NO_FIT;
    for (size_t i = 0; i < trial->cooks.count; i++) {
        const NwSurvivor *survivor = &trial->cooks.list[i];
        NwFate own = survivor->opens == NW_OK     ? NW_FATE_OPENS
                     : survivor->opens == NW_NONE ? NW_FATE_BLOCKED
                                                  : NW_FATE_UNDECIDED;
        if (survivor->known == known && own > fate)
            fate = own;
    }
    return fate;
}

static bool removes(const NwAim *aim, const NwFate *fates) {
    if (aim->target >= 0)
        return fates[aim->target] <= NW_FATE_BLOCKED;
    for (size_t i = 0; i < aim->baseline->known_count; i++)
        if (nw_baseline_is_cook(aim->baseline, i) && fates[i] <= NW_FATE_BLOCKED)
            return true;
    return false;
}

/* All survivors have been tried with slides. */
static NwEvaluationEnd settle_kills(NwEvaluation *trial) {
    const NwBaseline *baseline = trial->aim->baseline;
    size_t open = 0, doubtful = 0;
    for (size_t i = 0; i < trial->cooks.count; i++) {
        open += trial->cooks.list[i].opens == NW_OK;
        doubtful += trial->cooks.list[i].opens == NW_LIMIT;
    }
    NwFate *fates = nw_alloc(baseline->known_count, sizeof *fates);
    for (size_t i = 0; i < baseline->known_count; i++)
        fates[i] = fate_of(trial, i);
    trial->kills = removes(trial->aim, fates);
    free(fates);
    if (!trial->kills)
        return miss(trial, NW_MISS_COOK_STAYS);
    if (open + doubtful >= loose_before(baseline))
        return miss(trial, NW_MISS_NEW_COOK);
    trial->candidate.rank.cooks_left = open;
    trial->step = NW_STEP_PROVE;
    return NW_TRIAL_RANKED;
}

/* Whether a survivor comes apart: in its old way, or by a slide search. */
static NwStatus slide_remnant(NwEvaluation *trial, NwSurvivor *survivor, long *effort) {
    NwBaseline *baseline = trial->aim->baseline;
    const NwKnown *known = &baseline->known[survivor->known];
    if (!trial->sliding && known->slides && survivor->direct &&
        nw_way_out_still_works(baseline, &trial->variant, survivor->placements,
                               trial->candidate.changes, trial->candidate.count, known->slides,
                               known->total)) {
        survivor->level = known->level;
        survivor->total = known->total;
        return NW_OK;
    }
    if (!trial->sliding)
        nw_enumeration_slide(baseline->slides, trial->variant.design, trial->variant.kinds,
                             survivor->placements, baseline->bodies, baseline->max_states);
    NwStatus status = nw_enumeration_slide_on(baseline->slides, effort);
    trial->sliding = status == NW_STOPPED;
    if (status == NW_OK) {
        survivor->level = nw_take_apart_result(baseline->slides)->level;
        survivor->total = nw_take_apart_result(baseline->slides)->total;
    }
    return status;
}

static NwEvaluationEnd look_at_kills(NwEvaluation *trial, long *effort) {
    if (!trial->variant.sameness) { /* nothing can be inferred: the proof will tell */
        trial->step = NW_STEP_PROVE;
        return NW_TRIAL_RANKED;
    }
    for (; trial->at < trial->cooks.count; trial->at++) {
        NwSurvivor *survivor = &trial->cooks.list[trial->at];
        NwStatus status = slide_remnant(trial, survivor, effort);
        if (status == NW_STOPPED)
            return NW_TRIAL_GOES_ON;
        survivor->opens = status;
        if (trial->aim->target == (long)survivor->known && status != NW_NONE)
            return miss(trial, NW_MISS_COOK_STAYS);
    }
    return settle_kills(trial);
}

/* ---- proof ------------------------------------------------------------------------------- */

/* All that is left, in the order in which it was known, the intended one first. */
static void list_founds(NwEvaluation *trial) {
    const NwOutcome *outcome = &trial->outcome;
    size_t bodies = (size_t)trial->aim->baseline->bodies;
    NwFound *found = nw_founds_add(&trial->founds, trial->variant.design->intended, bodies);
    found->opens = outcome->opens;
    found->level = outcome->level;
    found->total = outcome->total;
    for (size_t i = 0; i < trial->cooks.count; i++) {
        const NwSurvivor *survivor = &trial->cooks.list[i];
        found = nw_founds_add(&trial->founds, survivor->placements, bodies);
        found->opens = survivor->opens;
        found->level = survivor->level;
        found->total = survivor->total;
    }
}

/* Without a search: nothing is new, and what could not be taken apart before cannot now. */
static void sum_up(NwEvaluation *trial) {
    NwBaseline *baseline = trial->aim->baseline;
    NwOutcome *outcome = &trial->outcome;
    size_t loose = trial->cooks.count;
    uint64_t *intended = nw_survivor_intended(baseline, &trial->variant);
    for (size_t i = 0; i < baseline->known_count; i++)
        if (!baseline->known[i].intended && baseline->known[i].opens == NW_NONE)
            nw_survivors_add(&trial->cooks, baseline, &trial->variant, i, intended,
                             &trial->merged[i]);
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
    outcome->fates = nw_alloc(baseline->known_count, sizeof *outcome->fates);
    for (size_t i = 0; i < baseline->known_count; i++)
        outcome->fates[i] = baseline->known[i].intended ? NW_FATE_OPENS : fate_of(trial, i);
    list_founds(trial);
}

static NwEvaluationEnd propose(NwEvaluation *trial) {
    NwOutcome *outcome = &trial->outcome;
    NwCandidate *candidate = &trial->candidate;
    trial->kills = removes(trial->aim, outcome->fates);
    if (!trial->kills)
        return miss(trial, NW_MISS_COOK_STAYS);
    if (outcome->cooks + outcome->undecided >= loose_before(trial->aim->baseline))
        return miss(trial, NW_MISS_NEW_COOK);
    candidate->rank.cooks_left = outcome->cooks;
    candidate->rank.new_cooks = outcome->new_cooks;
    NwProposal *proposal = nw_alloc(1, sizeof *proposal);
    *proposal = (NwProposal){.count = candidate->count,
                             .rank = candidate->rank,
                             .outcome = *outcome,
                             .design = trial->variant.design,
                             .founds = trial->founds,
                             .proved = !outcome->undecided};
    memcpy(proposal->changes, candidate->changes, sizeof proposal->changes);
    *outcome = (NwOutcome){0};
    trial->founds = (NwFounds){0};
    trial->variant.design = NULL;
    candidate->proposal = proposal;
    return NW_TRIAL_PROVED;
}

static NwProof *new_proof(const NwEvaluation *trial) {
    NwBaseline *baseline = trial->aim->baseline;
    NwFit *fit;
    if (nw_variant_fit(baseline, &trial->variant, &fit) != NW_OK)
        return NULL;
    /* As soon as there are as many as before, the change is no better than none; but where sameness
     * may change, only the whole search tells whether the cook was removed at all. */
    size_t most = trial->variant.sameness ? loose_before(baseline) : 0;
    NwProof *proof = nw_proof_new(baseline, &trial->variant, fit, most);
    nw_proof_spare_intended(proof);
    return proof;
}

static NwEvaluationEnd begin_proof(NwEvaluation *trial) {
    nw_variant_settle(trial->aim->baseline, trial->candidate.changes, trial->candidate.count,
                      &trial->variant);
    if (trial->variant.known_only) {
        sum_up(trial);
        return propose(trial);
    }
    trial->proof = new_proof(trial);
    if (trial->proof && !nw_evaluation_recall_proof(trial)) {
        nw_proof_free(trial->proof);
        trial->proof = new_proof(trial);
    }
    if (!trial->proof)
        return miss(trial, NW_MISS_UNDECIDED);
    trial->proofs++;
    trial->step = NW_STEP_PROVING;
    return NW_TRIAL_RANKED;
}

static NwEvaluationEnd go_on_proving(NwEvaluation *trial, long *effort) {
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

NwEvaluationEnd nw_evaluation_step(NwEvaluation *trial, long *effort) {
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

NwFrontStage nw_evaluation_stage(const NwEvaluation *trial, double *share) {
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

const NwCandidate *nw_evaluation_get(const NwEvaluation *trial) {
    return &trial->candidate;
}

NwMiss nw_evaluation_miss(const NwEvaluation *trial) {
    NwMiss result = {.count = trial->candidate.count,
                     .number = trial->candidate.rank.number,
                     .reason = trial->reason,
                     .piece = trial->reason == NW_MISS_LUMPS ? trial->piece : -1};
    memcpy(result.changes, trial->candidate.changes, sizeof result.changes);
    return result;
}

bool nw_evaluation_kills(const NwEvaluation *trial) {
    return trial->kills;
}

size_t nw_evaluation_proofs(const NwEvaluation *trial) {
    return trial->proofs;
}

bool nw_evaluation_fits(const NwEvaluation *trial) {
    return trial->fits;
}
