#include "cook/evaluation_private.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "cook/way_out_reuse.h"

NwEvaluation *nw_evaluation_new(const NwAim *aim, const NwCandidate *candidate) {
    NwEvaluation *evaluation = nw_alloc(1, sizeof *evaluation);
    *evaluation = (NwEvaluation){.aim = aim, .candidate = *candidate, .piece = -1};
    return evaluation;
}

void nw_evaluation_free(NwEvaluation *evaluation) {
    if (!evaluation)
        return;
    nw_fit_setup_free(evaluation->setup);
    nw_proof_free(evaluation->proof);
    nw_variant_clear(&evaluation->variant);
    nw_survivors_clear(&evaluation->cooks);
    free(evaluation->merged);
    nw_outcome_clear(&evaluation->outcome);
    nw_founds_clear(&evaluation->founds);
    free(evaluation->past);
    free(evaluation);
}

static NwEvaluationEnd miss(NwEvaluation *evaluation, NwMissReason reason) {
    evaluation->reason = reason;
    return NW_EVALUATION_MISSED;
}

/* Assemblies that may be cooks, before. */
static size_t loose_before(const NwBaseline *baseline) {
    return baseline->cooks + baseline->doubtful;
}

/* ---- fits -------------------------------------------------------------------------------- */

/* Lists what is left of the cooks; whether one that was asked for has left nothing. */
static bool find_survivors(NwEvaluation *evaluation) {
    NwBaseline *baseline = evaluation->aim->baseline;
    uint64_t *intended = nw_survivor_intended(baseline, &evaluation->variant);
    bool gone = false;
    evaluation->merged = nw_alloc(baseline->known_count, sizeof *evaluation->merged);
    for (size_t i = 0; i < baseline->known_count; i++) {
        if (baseline->known[i].intended || baseline->known[i].opens == NW_NONE)
            continue;
        size_t left = nw_survivors_add(&evaluation->cooks, baseline, &evaluation->variant, i,
                                       intended, &evaluation->merged[i]);
        bool wanted = evaluation->aim->target < 0 ? nw_baseline_is_cook(baseline, i)
                                                  : evaluation->aim->target == (long)i;
        gone = gone || (wanted && !left);
    }
    free(intended);
    return gone;
}

static NwEvaluationEnd look_at_fits(NwEvaluation *evaluation) {
    NwBaseline *baseline = evaluation->aim->baseline;
    if (!nw_variant_make(baseline, evaluation->candidate.changes, evaluation->candidate.count,
                         &evaluation->variant))
        return NW_EVALUATION_VOID;
    evaluation->fits = true;
    bool holds = nw_variant_holds(&evaluation->variant, &evaluation->piece);
    if (evaluation->variant.sameness)
        evaluation->kills = find_survivors(evaluation);
    evaluation->step = NW_STEP_MARKS;
    return holds ? NW_EVALUATION_RANKED : miss(evaluation, NW_MISS_LUMPS);
}

static NwEvaluationEnd look_at_marks(NwEvaluation *evaluation) {
    NwRank *rank = &evaluation->candidate.rank;
    nw_rank_marks(evaluation->aim->baseline, &evaluation->variant, &rank->hangs, &rank->tips);
    evaluation->step = NW_STEP_START_OPENS;
    return NW_EVALUATION_RANKED;
}

/* ---- slides ------------------------------------------------------------------------------ */

/* The intended assembly comes apart in this way. */
void nw_evaluation_take_way(NwEvaluation *evaluation, int level, int total, const NwSlide *slides) {
    NwOutcome *outcome = &evaluation->outcome;
    outcome->opens = NW_OK;
    outcome->level = level;
    outcome->total = total;
    outcome->slides = nw_alloc((size_t)total, sizeof *outcome->slides);
    if (total)
        memcpy(outcome->slides, slides, (size_t)total * sizeof *outcome->slides);
    NwRank *rank = &evaluation->candidate.rank;
    rank->level_lost = level < evaluation->aim->level ? evaluation->aim->level - level : 0;
    rank->total_lost = total < evaluation->aim->total ? evaluation->aim->total - total : 0;
    evaluation->step = NW_STEP_KILLS;
}

/* Whether the old way out is good enough to need no search (way_out_reuse.h). */
static bool keeps_way(const NwEvaluation *evaluation) {
    const NwAim *aim = evaluation->aim;
    return aim->opens == NW_OK && (aim->level == 1 || evaluation->variant.adds_only) &&
           nw_way_out_still_works(aim->baseline, &evaluation->variant,
                                  aim->baseline->design->intended, evaluation->candidate.changes,
                                  evaluation->candidate.count, aim->slides, aim->total);
}

static NwEvaluationEnd look_at_opens(NwEvaluation *evaluation, long *effort) {
    NwBaseline *baseline = evaluation->aim->baseline;
    const NwDesign *design = evaluation->variant.design;
    if (evaluation->step == NW_STEP_START_OPENS) {
        if (nw_evaluation_recall(evaluation))
            return NW_EVALUATION_RANKED;
        if (keeps_way(evaluation)) {
            nw_evaluation_take_way(evaluation, evaluation->aim->level, evaluation->aim->total,
                                   evaluation->aim->slides);
            return NW_EVALUATION_RANKED;
        }
        nw_enumeration_slide(baseline->slides, design, evaluation->variant.kinds, design->intended,
                             baseline->bodies, baseline->max_states);
        evaluation->step = NW_STEP_OPENS;
    }
    NwStatus status = nw_enumeration_slide_on(baseline->slides, effort);
    if (status == NW_STOPPED)
        return NW_EVALUATION_GOES_ON;
    if (status != NW_OK)
        return miss(evaluation, status == NW_NONE ? NW_MISS_STUCK : NW_MISS_UNDECIDED);
    const NwWayOut *way = nw_take_apart_result(baseline->slides);
    nw_evaluation_take_way(evaluation, way->level, way->total, way->slides);
    return NW_EVALUATION_RANKED;
}

/* The fate of one known cook by its survivors. */
static NwFate fate_of(const NwEvaluation *evaluation, size_t known) {
    NwFate fate = evaluation->merged[known] ? NW_FATE_MERGED : NW_FATE_NO_FIT;
    for (size_t i = 0; i < evaluation->cooks.count; i++) {
        const NwSurvivor *survivor = &evaluation->cooks.list[i];
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
static NwEvaluationEnd settle_kills(NwEvaluation *evaluation) {
    const NwBaseline *baseline = evaluation->aim->baseline;
    size_t open = 0, doubtful = 0;
    for (size_t i = 0; i < evaluation->cooks.count; i++) {
        open += evaluation->cooks.list[i].opens == NW_OK;
        doubtful += evaluation->cooks.list[i].opens == NW_LIMIT;
    }
    NwFate *fates = nw_alloc(baseline->known_count, sizeof *fates);
    for (size_t i = 0; i < baseline->known_count; i++)
        fates[i] = fate_of(evaluation, i);
    evaluation->kills = removes(evaluation->aim, fates);
    free(fates);
    if (!evaluation->kills)
        return miss(evaluation, NW_MISS_COOK_STAYS);
    if (open + doubtful >= loose_before(baseline))
        return miss(evaluation, NW_MISS_NEW_COOK);
    evaluation->candidate.rank.cooks_left = open;
    evaluation->step = NW_STEP_PROVE;
    return NW_EVALUATION_RANKED;
}

/* Whether a survivor comes apart: in its old way, or by a slide search. */
static NwStatus slide_survivor(NwEvaluation *evaluation, NwSurvivor *survivor, long *effort) {
    NwBaseline *baseline = evaluation->aim->baseline;
    const NwKnown *known = &baseline->known[survivor->known];
    if (!evaluation->sliding && known->slides && survivor->direct &&
        nw_way_out_still_works(baseline, &evaluation->variant, survivor->placements,
                               evaluation->candidate.changes, evaluation->candidate.count,
                               known->slides, known->total)) {
        survivor->level = known->level;
        survivor->total = known->total;
        return NW_OK;
    }
    if (!evaluation->sliding)
        nw_enumeration_slide(baseline->slides, evaluation->variant.design,
                             evaluation->variant.kinds, survivor->placements, baseline->bodies,
                             baseline->max_states);
    NwStatus status = nw_enumeration_slide_on(baseline->slides, effort);
    evaluation->sliding = status == NW_STOPPED;
    if (status == NW_OK) {
        survivor->level = nw_take_apart_result(baseline->slides)->level;
        survivor->total = nw_take_apart_result(baseline->slides)->total;
    }
    return status;
}

static NwEvaluationEnd look_at_kills(NwEvaluation *evaluation, long *effort) {
    if (!evaluation->variant.sameness) { /* nothing can be inferred: the proof will tell */
        evaluation->step = NW_STEP_PROVE;
        return NW_EVALUATION_RANKED;
    }
    for (; evaluation->at < evaluation->cooks.count; evaluation->at++) {
        NwSurvivor *survivor = &evaluation->cooks.list[evaluation->at];
        NwStatus status = slide_survivor(evaluation, survivor, effort);
        if (status == NW_STOPPED)
            return NW_EVALUATION_GOES_ON;
        survivor->opens = status;
        if (evaluation->aim->target == (long)survivor->known && status != NW_NONE)
            return miss(evaluation, NW_MISS_COOK_STAYS);
    }
    return settle_kills(evaluation);
}

/* ---- proof ------------------------------------------------------------------------------- */

/* All that is left, in the order in which it was known, the intended one first. */
static void list_founds(NwEvaluation *evaluation) {
    const NwOutcome *outcome = &evaluation->outcome;
    size_t bodies = (size_t)evaluation->aim->baseline->bodies;
    NwFound *found =
        nw_founds_add(&evaluation->founds, evaluation->variant.design->intended, bodies);
    found->opens = outcome->opens;
    found->level = outcome->level;
    found->total = outcome->total;
    for (size_t i = 0; i < evaluation->cooks.count; i++) {
        const NwSurvivor *survivor = &evaluation->cooks.list[i];
        found = nw_founds_add(&evaluation->founds, survivor->placements, bodies);
        found->opens = survivor->opens;
        found->level = survivor->level;
        found->total = survivor->total;
    }
}

/* Without a search: nothing is new, and what could not be taken apart before cannot now. */
static void sum_up(NwEvaluation *evaluation) {
    NwBaseline *baseline = evaluation->aim->baseline;
    NwOutcome *outcome = &evaluation->outcome;
    size_t loose = evaluation->cooks.count;
    uint64_t *intended = nw_survivor_intended(baseline, &evaluation->variant);
    for (size_t i = 0; i < baseline->known_count; i++)
        if (!baseline->known[i].intended && baseline->known[i].opens == NW_NONE)
            nw_survivors_add(&evaluation->cooks, baseline, &evaluation->variant, i, intended,
                             &evaluation->merged[i]);
    free(intended);
    for (size_t i = loose; i < evaluation->cooks.count; i++)
        evaluation->cooks.list[i].opens = NW_NONE;
    outcome->assemblies = 1 + evaluation->cooks.count;
    for (size_t i = 0; i < evaluation->cooks.count; i++) {
        NwStatus opens = evaluation->cooks.list[i].opens;
        outcome->cooks += opens == NW_OK;
        outcome->unreachable += opens == NW_NONE;
        outcome->undecided += opens == NW_LIMIT;
    }
    outcome->fates = nw_alloc(baseline->known_count, sizeof *outcome->fates);
    for (size_t i = 0; i < baseline->known_count; i++)
        outcome->fates[i] = baseline->known[i].intended ? NW_FATE_OPENS : fate_of(evaluation, i);
    list_founds(evaluation);
}

static NwEvaluationEnd propose(NwEvaluation *evaluation) {
    NwOutcome *outcome = &evaluation->outcome;
    NwCandidate *candidate = &evaluation->candidate;
    evaluation->kills = removes(evaluation->aim, outcome->fates);
    if (!evaluation->kills)
        return miss(evaluation, NW_MISS_COOK_STAYS);
    if (outcome->cooks + outcome->undecided >= loose_before(evaluation->aim->baseline))
        return miss(evaluation, NW_MISS_NEW_COOK);
    candidate->rank.cooks_left = outcome->cooks;
    candidate->rank.new_cooks = outcome->new_cooks;
    NwProposal *proposal = nw_alloc(1, sizeof *proposal);
    *proposal = (NwProposal){.count = candidate->count,
                             .rank = candidate->rank,
                             .outcome = *outcome,
                             .design = evaluation->variant.design,
                             .founds = evaluation->founds,
                             .proved = !outcome->undecided};
    memcpy(proposal->changes, candidate->changes, sizeof proposal->changes);
    *outcome = (NwOutcome){0};
    evaluation->founds = (NwFounds){0};
    evaluation->variant.design = NULL;
    candidate->proposal = proposal;
    return NW_EVALUATION_PROVED;
}

static NwProof *new_proof(const NwEvaluation *evaluation, NwFit *fit) {
    NwBaseline *baseline = evaluation->aim->baseline;
    /* As soon as there are as many as before, the change is no better than none; but where sameness
     * may change, only the whole search tells whether the cook was removed at all. */
    size_t most = evaluation->variant.sameness ? loose_before(baseline) : 0;
    NwProof *proof = nw_proof_new(baseline, &evaluation->variant, fit, most);
    nw_proof_spare_intended(proof);
    return proof;
}

/* Sets the fit of the proof up and begins it. If what an earlier session had found of it is
 * spoilt, that is forgotten, and this step is gone through once more. */
static NwEvaluationEnd set_proof_up(NwEvaluation *evaluation, long *effort) {
    NwFit *fit;
    NwStatus status = nw_fit_setup_go_on(evaluation->setup, effort, &fit);
    if (status == NW_STOPPED)
        return NW_EVALUATION_GOES_ON;
    nw_fit_setup_free(evaluation->setup);
    evaluation->setup = NULL;
    if (status != NW_OK)
        return miss(evaluation, NW_MISS_UNDECIDED);
    evaluation->proof = new_proof(evaluation, fit);
    if (!nw_evaluation_recall_proof(evaluation)) {
        nw_proof_free(evaluation->proof);
        evaluation->proof = NULL;
        return NW_EVALUATION_RANKED;
    }
    evaluation->proofs++;
    evaluation->step = NW_STEP_PROVING;
    return NW_EVALUATION_RANKED;
}

static NwEvaluationEnd begin_proof(NwEvaluation *evaluation, long *effort) {
    NwBaseline *baseline = evaluation->aim->baseline;
    if (evaluation->setup)
        return set_proof_up(evaluation, effort);
    nw_variant_settle(baseline, evaluation->candidate.changes, evaluation->candidate.count,
                      &evaluation->variant);
    if (evaluation->variant.known_only) {
        sum_up(evaluation);
        return propose(evaluation);
    }
    if (nw_variant_set_up(baseline, &evaluation->variant, &evaluation->setup) != NW_OK)
        return miss(evaluation, NW_MISS_UNDECIDED);
    return set_proof_up(evaluation, effort);
}

static NwEvaluationEnd go_on_proving(NwEvaluation *evaluation, long *effort) {
    NwStatus status = nw_proof_step(evaluation->proof, effort);
    if (status == NW_STOPPED)
        return NW_EVALUATION_GOES_ON;
    if (status != NW_NONE)
        return miss(evaluation, status == NW_LIMIT ? NW_MISS_NEW_COOK : NW_MISS_UNDECIDED);
    NwOutcome own = evaluation->outcome;
    evaluation->outcome = nw_proof_take(evaluation->proof);
    evaluation->outcome.opens = own.opens;
    evaluation->outcome.level = own.level;
    evaluation->outcome.total = own.total;
    evaluation->outcome.slides = own.slides;
    evaluation->founds = nw_proof_dup_founds(evaluation->proof, own.level, own.total);
    return propose(evaluation);
}

NwEvaluationEnd nw_evaluation_step(NwEvaluation *evaluation, long *effort) {
    if (*effort <= 0)
        return NW_EVALUATION_GOES_ON;
    --*effort;
    switch (evaluation->step) {
    case NW_STEP_FITS:
        return look_at_fits(evaluation);
    case NW_STEP_MARKS:
        return look_at_marks(evaluation);
    case NW_STEP_START_OPENS:
    case NW_STEP_OPENS:
        return look_at_opens(evaluation, effort);
    case NW_STEP_KILLS:
        return look_at_kills(evaluation, effort);
    case NW_STEP_PROVE:
        return begin_proof(evaluation, effort);
    case NW_STEP_PROVING:
        return go_on_proving(evaluation, effort);
    }
    return NW_EVALUATION_VOID;
}

NwFrontStage nw_evaluation_stage(const NwEvaluation *evaluation, double *share) {
    static const NwFrontStage stages[] = {
        [NW_STEP_FITS] = NW_FRONT_FITS,         [NW_STEP_MARKS] = NW_FRONT_MARKS,
        [NW_STEP_START_OPENS] = NW_FRONT_OPENS, [NW_STEP_OPENS] = NW_FRONT_OPENS,
        [NW_STEP_KILLS] = NW_FRONT_KILLS,       [NW_STEP_PROVE] = NW_FRONT_PROVED,
        [NW_STEP_PROVING] = NW_FRONT_PROVED,
    };
    *share = 0;
    if (evaluation->step == NW_STEP_KILLS && evaluation->cooks.count)
        *share = (double)evaluation->at / (double)evaluation->cooks.count;
    if (evaluation->step == NW_STEP_PROVING)
        *share = nw_proof_share(evaluation->proof);
    return stages[evaluation->step];
}

const NwCandidate *nw_evaluation_get(const NwEvaluation *evaluation) {
    return &evaluation->candidate;
}

NwMiss nw_evaluation_miss(const NwEvaluation *evaluation) {
    NwMiss result = {.count = evaluation->candidate.count,
                     .number = evaluation->candidate.rank.number,
                     .reason = evaluation->reason,
                     .piece = evaluation->reason == NW_MISS_LUMPS ? evaluation->piece : -1};
    memcpy(result.changes, evaluation->candidate.changes, sizeof result.changes);
    return result;
}

bool nw_evaluation_kills(const NwEvaluation *evaluation) {
    return evaluation->kills;
}

size_t nw_evaluation_proofs(const NwEvaluation *evaluation) {
    return evaluation->proofs;
}

bool nw_evaluation_fits(const NwEvaluation *evaluation) {
    return evaluation->fits;
}
