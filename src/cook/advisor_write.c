/* An advisor as bytes.
 *
 *     version, digest of the design and its options
 *     phase, question
 *     the baseline
 *     once candidates are tried: the way out before; which single changes fit, and which do it all;
 *     one state for each candidate in order, with rank and evaluation where it waits; proposals;
 * misses check sum
 *
 * Candidates are not written down: the same design lists the same ones in the same order, so a
 * number tells which. That keeps a settled one at a byte. */
#include <stdlib.h>

#include "base/memory.h"
#include "cook/advisor_private.h"

static void write_rank(const NwRank *rank, NwWriter *writer) {
    nw_write_number(writer, rank->cooks_left);
    nw_write_number(writer, (uint64_t)rank->level_lost);
    nw_write_number(writer, (uint64_t)rank->total_lost);
    nw_write_number(writer, rank->new_cooks);
    nw_write_number(writer, rank->hangs);
    nw_write_number(writer, rank->tips);
}

static bool is_fresh(const NwRank *rank) {
    return !rank->cooks_left && !rank->level_lost && !rank->total_lost && !rank->new_cooks &&
           !rank->hangs && !rank->tips;
}

static void write_candidate(const NwCandidate *candidate, NwWriter *writer) {
    NwWait wait = !candidate                   ? NW_WAIT_SETTLED
                  : candidate->evaluation      ? NW_WAIT_BEGUN
                  : is_fresh(&candidate->rank) ? NW_WAIT_FRESH
                                               : NW_WAIT_RANKED;
    nw_write_byte(writer, (uint8_t)wait);
    if (wait == NW_WAIT_RANKED || wait == NW_WAIT_BEGUN)
        write_rank(&candidate->rank, writer);
    if (wait == NW_WAIT_BEGUN)
        nw_evaluation_write(candidate->evaluation, writer);
}

/* All candidates of so many changes. */
static void write_candidates(const NwAdvisor *advisor, int changes, NwWriter *writer) {
    size_t count = advisor->progress.tried[changes];
    const NwCandidate **waiting = nw_alloc(count, sizeof *waiting);
    for (size_t i = 0; i < advisor->queue.count; i++) {
        const NwCandidate *candidate = &advisor->queue.list[i];
        if (candidate->count == changes && !candidate->proposal)
            waiting[candidate->rank.number] = candidate;
    }
    NwCandidate in_hand = {0};
    if (advisor->evaluation) {
        in_hand = *nw_evaluation_get(advisor->evaluation);
        in_hand.evaluation = advisor->evaluation;
        if (in_hand.count == changes)
            waiting[in_hand.rank.number] = &in_hand;
    }
    nw_write_number(writer, count);
    for (size_t i = 0; i < count; i++)
        write_candidate(waiting[i], writer);
    free(waiting);
}

/* Fates come in runs: most cooks share one. */
static void write_fates(const NwFate *fates, size_t count, NwWriter *writer) {
    for (size_t i = 0, run; i < count; i += run) {
        for (run = 1; i + run < count && fates[i + run] == fates[i];)
            run++;
        nw_write_byte(writer, (uint8_t)fates[i]);
        nw_write_number(writer, run);
    }
}

static void write_proposal(const NwAdvisor *advisor, const NwProposal *proposal, NwWriter *writer) {
    const NwOutcome *outcome = &proposal->outcome;
    nw_write_byte(writer, (uint8_t)proposal->count);
    nw_write_number(writer, proposal->rank.number);
    write_rank(&proposal->rank, writer);
    write_fates(outcome->fates, advisor->baseline->known_count, writer);
    nw_write_number(writer, (uint64_t)outcome->level);
    nw_slides_write(writer, outcome->slides, outcome->total);
    const size_t counts[] = {outcome->assemblies, outcome->cooks,          outcome->unreachable,
                             outcome->undecided,  outcome->new_assemblies, outcome->new_cooks,
                             outcome->searched};
    for (size_t i = 0; i < sizeof counts / sizeof *counts; i++)
        nw_write_number(writer, counts[i]);
    nw_write_number(writer, proposal->founds.count);
    for (size_t i = 0; i < proposal->founds.count; i++) {
        nw_write_word(writer, proposal->founds.list[i].key);
        nw_found_write(writer, &proposal->founds.list[i], advisor->baseline->bodies);
    }
}

/* Those that were handed out, then those that wait to be. */
static void write_proposals(const NwAdvisor *advisor, NwWriter *writer) {
    size_t waiting = 0;
    for (size_t i = 0; i < advisor->queue.count; i++)
        waiting += advisor->queue.list[i].proposal != NULL;
    nw_write_number(writer, advisor->proposal_count);
    for (size_t i = 0; i < advisor->proposal_count; i++)
        write_proposal(advisor, advisor->proposals[i], writer);
    nw_write_number(writer, waiting);
    for (size_t i = 0; i < advisor->queue.count; i++)
        if (advisor->queue.list[i].proposal)
            write_proposal(advisor, advisor->queue.list[i].proposal, writer);
}

static void write_misses(const NwAdvisor *advisor, NwWriter *writer) {
    for (int i = 0; i < NW_MISS_COUNT; i++)
        nw_write_number(writer, advisor->progress.missed[i]);
    nw_write_number(writer, advisor->miss_count);
    for (size_t i = 0; i < advisor->miss_count; i++) {
        const NwMiss *miss = &advisor->misses[i];
        nw_write_byte(writer, (uint8_t)miss->count);
        nw_write_number(writer, miss->number);
        nw_write_byte(writer, (uint8_t)miss->reason);
        nw_write_signed(writer, miss->piece);
    }
}

static void write_trying(const NwAdvisor *advisor, NwWriter *writer) {
    nw_opens_write(writer, advisor->aim.opens);
    if (advisor->aim.opens == NW_OK) {
        nw_write_number(writer, (uint64_t)advisor->aim.level);
        nw_slides_write(writer, advisor->slides, advisor->aim.total);
    }
    nw_write_number(writer, advisor->progress.proofs);
    nw_write_byte(writer, advisor->reached);
    nw_write_byte(writer, (uint8_t)advisor->progress.changes);
    for (size_t i = 0; i < advisor->singles.count; i++)
        nw_write_byte(writer, (uint8_t)(advisor->fits[i] | advisor->is_it[i] << 1));
    for (int changes = 1; changes <= advisor->progress.changes; changes++)
        write_candidates(advisor, changes, writer);
    write_proposals(advisor, writer);
    write_misses(advisor, writer);
}

static void write_question(const NwAdvisor *advisor, NwWriter *writer) {
    nw_write_word(writer, advisor->options.cook);
    nw_write_byte(writer, (uint8_t)(advisor->options.pairs | advisor->options.singles << 1));
}

void nw_advisor_save(const NwAdvisor *advisor, uint8_t **bytes, size_t *size) {
    NwWriter writer = {0};
    nw_write_byte(&writer, NW_ADVISOR_VERSION);
    nw_write_word(&writer, nw_baseline_digest(advisor->baseline));
    nw_write_byte(&writer, (uint8_t)advisor->phase);
    if (advisor->phase != NW_PHASE_SEARCHING)
        write_question(advisor, &writer);
    nw_baseline_write(advisor->baseline, &writer);
    if (advisor->phase >= NW_PHASE_TRYING)
        write_trying(advisor, &writer);
    nw_write_sum(&writer);
    *bytes = writer.bytes;
    *size = writer.size;
}
