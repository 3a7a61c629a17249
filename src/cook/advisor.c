#include "cook/advisor_private.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { TRIALS_KEPT_MAX = 1000 }; /* of candidates that wait; others begin anew */

NwStatus nw_advisor_new(const NwDesign *design, NwAdvisorOptions options, NwAdvisor **result) {
    NwBaseline *baseline;
    NwStatus status = nw_baseline_new(design, options.baseline, &baseline);
    *result = status == NW_OK ? nw_advisor_new_on(baseline, options) : NULL;
    return status;
}

NwAdvisor *nw_advisor_new_on(NwBaseline *baseline, NwAdvisorOptions options) {
    NwAdvisor *advisor = nw_alloc(1, sizeof *advisor);
    advisor->options = options;
    advisor->baseline = baseline;
    advisor->aim = (NwAim){.baseline = baseline, .target = -1};
    return advisor;
}

void nw_advisor_forget(NwAdvisor *advisor) {
    nw_evaluation_free(advisor->evaluation);
    nw_queue_clear(&advisor->queue, nw_evaluation_free);
    for (size_t i = 0; i < advisor->proposal_count; i++)
        nw_proposal_free(advisor->proposals[i]);
    free(advisor->proposals);
    free(advisor->misses);
    free(advisor->slides);
    nw_candidates_clear(&advisor->singles);
    free(advisor->fits);
    free(advisor->is_it);
    NwAdvisor kept = *advisor;
    *advisor = (NwAdvisor){.options = kept.options,
                           .baseline = kept.baseline,
                           .aim = {.baseline = kept.baseline, .target = -1}};
}

void nw_advisor_free(NwAdvisor *advisor) {
    if (!advisor)
        return;
    nw_advisor_forget(advisor);
    nw_baseline_free(advisor->baseline);
    free(advisor);
}

NwStatus nw_advisor_learn(NwAdvisor *advisor, const NwFound *founds, size_t count) {
    return nw_baseline_learn(advisor->baseline, founds, count);
}

/* ---- before the evaluations -------------------------------------------------------------------
 */

NwStatus nw_advisor_choose(NwAdvisor *advisor) {
    if (!advisor->options.cook)
        return advisor->baseline->cooks ? NW_OK : NW_EMPTY;
    long known = nw_baseline_find_key(advisor->baseline, advisor->options.cook);
    if (known < 0 || !nw_baseline_is_cook(advisor->baseline, (size_t)known))
        return NW_EMPTY;
    advisor->aim.target = known;
    return NW_OK;
}

/* Level and total of the intended assembly as it is drawn. */
static NwStatus measure(NwAdvisor *advisor, long *effort) {
    NwBaseline *baseline = advisor->baseline;
    if (!advisor->sliding)
        nw_enumeration_slide(baseline->slides, baseline->design, baseline->kinds,
                             baseline->design->intended, baseline->bodies, baseline->max_states);
    advisor->sliding = true;
    NwStatus status = nw_enumeration_slide_on(baseline->slides, effort);
    if (status == NW_STOPPED)
        return status;
    advisor->aim.opens = status;
    if (status == NW_OK) {
        const NwWayOut *way = nw_take_apart_result(baseline->slides);
        advisor->aim.level = way->level;
        advisor->aim.total = way->total;
        advisor->slides = nw_alloc((size_t)way->total, sizeof *advisor->slides);
        if (way->total)
            memcpy(advisor->slides, way->slides, (size_t)way->total * sizeof *advisor->slides);
        advisor->aim.slides = advisor->slides;
    }
    return NW_OK;
}

static void put(NwAdvisor *advisor, const NwChange *changes, int count) {
    NwCandidate candidate = {.count = count};
    memcpy(candidate.changes, changes, (size_t)count * sizeof *changes);
    candidate.rank = (NwRank){.changes = (size_t)count,
                              .kind = nw_rank_kind(changes, count),
                              .number = advisor->progress.tried[count]++};
    nw_queue_put(&advisor->queue, &candidate);
}

void nw_advisor_put_singles(NwAdvisor *advisor) {
    advisor->progress.changes = 1;
    nw_candidates_list(advisor->baseline, advisor->baseline->design, &advisor->singles);
    advisor->fits = nw_alloc(advisor->singles.count, sizeof *advisor->fits);
    advisor->is_it = nw_alloc(advisor->singles.count, sizeof *advisor->is_it);
    for (size_t i = 0; i < advisor->singles.count; i++)
        put(advisor, &advisor->singles.list[i], 1);
}

/* Every change after the first one of the pair, unless the pair has been put the other way round
 * or one of the two does it all alone. */
static void put_pairs_of(NwAdvisor *advisor, size_t first) {
    NwChange pair[2] = {advisor->singles.list[first]};
    NwDesign *design = nw_design_copy(advisor->baseline->design);
    NwCandidates seconds = {0};
    if (nw_changes_apply(design, pair, 1))
        nw_candidates_list(advisor->baseline, design, &seconds);
    for (size_t i = 0; i < seconds.count; i++) {
        pair[1] = seconds.list[i];
        if (nw_changes_collapse(&pair[0], &pair[1]))
            continue;
        long single = nw_candidates_find(&advisor->singles, &pair[1]);
        bool put_before = single >= 0 && (size_t)single < first && advisor->fits[single];
        if (!put_before && (single < 0 || !advisor->is_it[single]))
            put(advisor, pair, 2);
    }
    nw_candidates_clear(&seconds);
    nw_design_free(design);
}

void nw_advisor_put_pairs(NwAdvisor *advisor) {
    advisor->progress.changes = 2;
    for (size_t i = 0; i < advisor->singles.count; i++)
        if (advisor->fits[i] && !advisor->is_it[i])
            put_pairs_of(advisor, i);
}

/* ---- evaluations ------------------------------------------------------------------------------
 */

static void keep_miss(NwAdvisor *advisor) {
    NwMiss miss = nw_evaluation_miss(advisor->evaluation);
    advisor->progress.missed[miss.reason]++;
    if (miss.reason == NW_MISS_COOK_STAYS || !nw_evaluation_kills(advisor->evaluation) ||
        advisor->miss_count == NW_MISSES_MAX)
        return;
    advisor->misses = nw_grow(advisor->misses, advisor->miss_count, &advisor->miss_capacity,
                              sizeof *advisor->misses);
    advisor->misses[advisor->miss_count++] = miss;
}

/* The evaluation in hand is over, but for handing out its proposal. */
static void settle(NwAdvisor *advisor) {
    const NwCandidate *candidate = nw_evaluation_get(advisor->evaluation);
    advisor->progress.settled[candidate->count]++;
    advisor->progress.proofs += nw_evaluation_proofs(advisor->evaluation);
    if (candidate->count == 1)
        advisor->fits[candidate->rank.number] = nw_evaluation_fits(advisor->evaluation);
    if (candidate->proposal)
        nw_queue_put(&advisor->queue, candidate);
    nw_evaluation_free(advisor->evaluation);
    advisor->evaluation = NULL;
}

/* Puts the evaluation in hand back if another candidate now comes first. */
static void give_way(NwAdvisor *advisor) {
    NwCandidate candidate = *nw_evaluation_get(advisor->evaluation);
    if (!advisor->queue.count || nw_rank_compare(&candidate.rank, &advisor->queue.list[0].rank) < 0)
        return;
    candidate.evaluation = NULL;
    if (advisor->kept < TRIALS_KEPT_MAX) {
        candidate.evaluation = advisor->evaluation;
        advisor->kept++;
    } else {
        advisor->progress.proofs += nw_evaluation_proofs(advisor->evaluation);
        nw_evaluation_free(advisor->evaluation);
    }
    advisor->evaluation = NULL;
    nw_queue_put(&advisor->queue, &candidate);
}

static const NwProposal *hand_out(NwAdvisor *advisor, NwProposal *proposal) {
    advisor->proposals = nw_grow(advisor->proposals, advisor->proposal_count,
                                 &advisor->proposal_capacity, sizeof *advisor->proposals);
    advisor->proposals[advisor->proposal_count++] = proposal;
    bool all =
        advisor->aim.target >= 0 || (!proposal->outcome.cooks && !proposal->outcome.undecided);
    advisor->reached = advisor->reached || all;
    if (proposal->count == 1)
        advisor->is_it[proposal->rank.number] = all;
    return proposal;
}

static NwStatus try_on(NwAdvisor *advisor, long *effort, const NwProposal **proposal) {
    for (;;) {
        if (!advisor->evaluation) {
            if (!advisor->queue.count)
                return NW_NONE;
            NwCandidate first = nw_queue_take(&advisor->queue);
            if (first.proposal) {
                *proposal = hand_out(advisor, first.proposal);
                return NW_OK;
            }
            advisor->kept -= first.evaluation != NULL;
            advisor->evaluation =
                first.evaluation ? first.evaluation : nw_evaluation_new(&advisor->aim, &first);
        }
        switch (nw_evaluation_step(advisor->evaluation, effort)) {
        case NW_EVALUATION_GOES_ON:
            return NW_STOPPED;
        case NW_EVALUATION_RANKED:
            give_way(advisor);
            break;
        case NW_EVALUATION_MISSED:
            keep_miss(advisor);
            settle(advisor);
            break;
        case NW_EVALUATION_PROVED:
        case NW_EVALUATION_VOID:
            settle(advisor);
            break;
        }
    }
}

NwStatus nw_advisor_search(NwAdvisor *advisor, long effort) {
    return nw_baseline_step(advisor->baseline, &effort);
}

void nw_advisor_aim(NwAdvisor *advisor, uint64_t cook) {
    advisor->options.cook = cook;
}

NwStatus nw_advisor_step(NwAdvisor *advisor, long effort, const NwProposal **proposal) {
    NwStatus status;
    *proposal = NULL;
    if (advisor->phase == NW_PHASE_SEARCHING) {
        status = nw_baseline_step(advisor->baseline, &effort);
        if (status != NW_NONE)
            return status;
        status = nw_advisor_choose(advisor);
        if (status != NW_OK)
            return status;
        advisor->phase = NW_PHASE_MEASURING;
    }
    if (advisor->phase == NW_PHASE_MEASURING) {
        status = measure(advisor, &effort);
        if (status != NW_OK)
            return status;
        nw_advisor_put_singles(advisor);
        advisor->phase = NW_PHASE_TRYING;
    }
    while (advisor->phase == NW_PHASE_TRYING) {
        status = try_on(advisor, &effort, proposal);
        if (status != NW_NONE)
            return status;
        bool more = advisor->options.pairs || !advisor->reached;
        if (advisor->progress.changes == 1 && more && !advisor->options.singles)
            nw_advisor_put_pairs(advisor);
        else
            advisor->phase = NW_PHASE_FINISHED;
    }
    return NW_NONE;
}

NwBaseline *nw_advisor_ground(NwAdvisor *advisor) {
    return advisor->baseline;
}

NwStatus nw_advisor_before(const NwAdvisor *advisor, int *level, int *total) {
    *level = advisor->aim.level;
    *total = advisor->aim.total;
    return advisor->aim.opens;
}

void nw_advisor_progress(const NwAdvisor *advisor, NwAdvisorProgress *progress) {
    *progress = advisor->progress;
    int changes = progress->changes;
    if (!changes)
        progress->share = advisor->baseline->enumeration
                              ? nw_enumeration_share(advisor->baseline->enumeration)
                              : 1;
    else
        progress->share = progress->tried[changes] ? (double)progress->settled[changes] /
                                                         (double)progress->tried[changes]
                                                   : 1;
}

bool nw_advisor_get_front(const NwAdvisor *advisor, NwFront *front) {
    *front = (NwFront){0};
    if (!advisor->evaluation)
        return false;
    const NwCandidate *candidate = nw_evaluation_get(advisor->evaluation);
    memcpy(front->changes, candidate->changes, sizeof front->changes);
    front->count = candidate->count;
    front->stage = nw_evaluation_stage(advisor->evaluation, &front->share);
    return true;
}

const NwProposal *const *nw_advisor_proposals(const NwAdvisor *advisor, size_t *count) {
    *count = advisor->proposal_count;
    return (const NwProposal *const *)advisor->proposals;
}

const NwMiss *nw_advisor_misses(const NwAdvisor *advisor, size_t *count) {
    *count = advisor->miss_count;
    return advisor->misses;
}
