/* An advisor from its bytes (advisor_write.c): every number is checked before it is used. */
#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "cook/advisor_private.h"

/* The candidates of each number of changes, by their number. */
typedef struct Listed {
    NwCandidate *list[NW_CHANGES_MAX + 1];
    size_t count[NW_CHANGES_MAX + 1];
} Listed;

static void read_rank(NwReader *reader, NwRank *rank) {
    rank->cooks_left = (size_t)nw_read_number(reader, SIZE_MAX);
    rank->level_lost = (int)nw_read_number(reader, INT_MAX);
    rank->total_lost = (int)nw_read_number(reader, INT_MAX);
    rank->new_cooks = (size_t)nw_read_number(reader, SIZE_MAX);
    rank->hangs = (size_t)nw_read_number(reader, SIZE_MAX);
    rank->tips = (size_t)nw_read_number(reader, SIZE_MAX);
}

/* Empties the queue, into which all candidates of so many changes have just been put. */
static void list_candidates(NwAdvisor *advisor, int changes, Listed *listed) {
    NwQueue *queue = &advisor->queue;
    listed->count[changes] = queue->count;
    listed->list[changes] = nw_alloc(queue->count, sizeof **listed->list);
    for (size_t i = 0; i < queue->count; i++)
        listed->list[changes][queue->list[i].rank.number] = queue->list[i];
    queue->count = 0;
}

static void read_candidates(NwAdvisor *advisor, NwReader *reader, const Listed *listed,
                            int changes) {
    if (nw_read_count(reader) != listed->count[changes])
        reader->bad = true;
    for (size_t i = 0; i < listed->count[changes] && !reader->bad; i++) {
        NwCandidate candidate = listed->list[changes][i];
        NwWait wait = (NwWait)nw_read_byte(reader, NW_WAIT_BEGUN);
        advisor->progress.settled[changes] += wait == NW_WAIT_SETTLED;
        if (wait == NW_WAIT_SETTLED)
            continue;
        if (wait != NW_WAIT_FRESH)
            read_rank(reader, &candidate.rank);
        if (wait == NW_WAIT_BEGUN && !reader->bad) {
            candidate.evaluation = nw_evaluation_new(&advisor->aim, &candidate);
            nw_evaluation_read(candidate.evaluation, reader);
            advisor->kept++;
        }
        nw_queue_put(&advisor->queue, &candidate);
    }
}

/* The candidate that is told by its number; NULL, and the reader is bad, if there is none. */
static const NwCandidate *read_which(NwReader *reader, const Listed *listed) {
    int changes = nw_read_byte(reader, NW_CHANGES_MAX);
    size_t number = (size_t)nw_read_number(reader, SIZE_MAX);
    if (reader->bad || number >= listed->count[changes]) {
        reader->bad = true;
        return NULL;
    }
    return &listed->list[changes][number];
}

static void read_fates(NwReader *reader, NwFate *fates, size_t count) {
    for (size_t i = 0; i < count && !reader->bad;) {
        NwFate fate = (NwFate)nw_read_byte(reader, NW_FATE_OPENS);
        size_t run = (size_t)nw_read_number(reader, count - i);
        reader->bad = reader->bad || !run;
        while (run--)
            fates[i++] = fate;
    }
}

/* Its slides must take the intended assembly of the altered design apart. */
static void read_outcome(NwReader *reader, const NwBaseline *baseline, const NwDesign *variant,
                         NwOutcome *outcome) {
    outcome->fates = nw_alloc(baseline->known_count, sizeof *outcome->fates);
    read_fates(reader, outcome->fates, baseline->known_count);
    outcome->opens = NW_OK;
    outcome->level = (int)nw_read_number(reader, INT_MAX);
    outcome->slides = nw_slides_read(reader, baseline->bodies, &outcome->total);
    reader->bad = reader->bad || !nw_slides_open(variant, variant->intended, baseline->bodies,
                                                 outcome->slides, outcome->total);
    size_t *const counts[] = {&outcome->assemblies, &outcome->cooks,          &outcome->unreachable,
                              &outcome->undecided,  &outcome->new_assemblies, &outcome->new_cooks,
                              &outcome->searched};
    for (size_t i = 0; i < sizeof counts / sizeof *counts; i++)
        *counts[i] = (size_t)nw_read_number(reader, SIZE_MAX);
    reader->bad = reader->bad || outcome->level > outcome->total;
}

static void read_founds(NwReader *reader, const NwBaseline *baseline, NwFounds *founds) {
    size_t count = nw_read_count(reader);
    int pieces = (int)baseline->design->piece_count;
    for (size_t i = 0; i < count && !reader->bad; i++) {
        founds->list =
            nw_grow(founds->list, founds->count, &founds->capacity, sizeof *founds->list);
        NwFound *found = &founds->list[founds->count];
        uint64_t key = nw_read_word(reader);
        nw_found_read(reader, baseline->bodies, pieces, found);
        found->key = key;
        founds->count += !reader->bad;
    }
}

/* NULL if the reader is bad then. */
static NwProposal *read_proposal(NwAdvisor *advisor, NwReader *reader, const Listed *listed) {
    const NwCandidate *candidate = read_which(reader, listed);
    NwVariant variant;
    if (!candidate)
        return NULL;
    if (!nw_variant_make(advisor->baseline, candidate->changes, candidate->count, &variant)) {
        reader->bad = true;
        return NULL;
    }
    NwProposal *proposal = nw_alloc(1, sizeof *proposal);
    *proposal =
        (NwProposal){.count = candidate->count, .rank = candidate->rank, .design = variant.design};
    memcpy(proposal->changes, candidate->changes, sizeof proposal->changes);
    read_rank(reader, &proposal->rank);
    read_outcome(reader, advisor->baseline, proposal->design, &proposal->outcome);
    read_founds(reader, advisor->baseline, &proposal->founds);
    proposal->proved = !proposal->outcome.undecided;
    if (!reader->bad)
        return proposal;
    nw_proposal_free(proposal);
    return NULL;
}

static void read_proposals(NwAdvisor *advisor, NwReader *reader, const Listed *listed) {
    size_t handed_out = nw_read_count(reader);
    for (size_t i = 0; i < handed_out && !reader->bad; i++) {
        NwProposal *proposal = read_proposal(advisor, reader, listed);
        if (!proposal)
            return;
        advisor->proposals = nw_grow(advisor->proposals, advisor->proposal_count,
                                     &advisor->proposal_capacity, sizeof *advisor->proposals);
        advisor->proposals[advisor->proposal_count++] = proposal;
    }
    size_t waiting = nw_read_count(reader);
    for (size_t i = 0; i < waiting && !reader->bad; i++) {
        NwProposal *proposal = read_proposal(advisor, reader, listed);
        if (!proposal)
            return;
        NwCandidate candidate = {
            .rank = proposal->rank, .count = proposal->count, .proposal = proposal};
        memcpy(candidate.changes, proposal->changes, sizeof candidate.changes);
        nw_queue_put(&advisor->queue, &candidate);
    }
}

static void read_misses(NwAdvisor *advisor, NwReader *reader, const Listed *listed) {
    for (int i = 0; i < NW_MISS_COUNT; i++)
        advisor->progress.missed[i] = (size_t)nw_read_number(reader, SIZE_MAX);
    size_t count = nw_read_count(reader);
    reader->bad = reader->bad || count > NW_MISSES_MAX;
    for (size_t i = 0; i < count && !reader->bad; i++) {
        const NwCandidate *candidate = read_which(reader, listed);
        NwMiss miss = {.reason = (NwMissReason)nw_read_byte(reader, NW_MISS_COUNT - 1)};
        int pieces = (int)advisor->baseline->design->piece_count;
        miss.piece = nw_read_signed(reader, miss.reason == NW_MISS_LUMPS ? 0 : -1, pieces - 1);
        if (reader->bad)
            return;
        memcpy(miss.changes, candidate->changes, sizeof miss.changes);
        miss.count = candidate->count;
        miss.number = candidate->rank.number;
        advisor->misses = nw_grow(advisor->misses, advisor->miss_count, &advisor->miss_capacity,
                                  sizeof *advisor->misses);
        advisor->misses[advisor->miss_count++] = miss;
    }
}

static void read_aim(NwAdvisor *advisor, NwReader *reader) {
    NwAim *aim = &advisor->aim;
    aim->opens = nw_opens_read(reader);
    if (aim->opens != NW_OK)
        return;
    aim->level = (int)nw_read_number(reader, INT_MAX);
    advisor->slides = nw_slides_read(reader, advisor->baseline->bodies, &aim->total);
    aim->slides = advisor->slides;
    const NwDesign *design = advisor->baseline->design;
    reader->bad = reader->bad || aim->level > aim->total ||
                  !nw_slides_open(design, design->intended, advisor->baseline->bodies,
                                  advisor->slides, aim->total);
}

static void read_singles(NwAdvisor *advisor, NwReader *reader) {
    for (size_t i = 0; i < advisor->singles.count; i++) {
        uint8_t flags = nw_read_byte(reader, 3);
        advisor->fits[i] = flags & 1;
        advisor->is_it[i] = flags >> 1;
    }
}

static void read_all_candidates(NwAdvisor *advisor, NwReader *reader, Listed *listed) {
    int changes = nw_read_byte(reader, NW_CHANGES_MAX);
    if (reader->bad || !changes) {
        reader->bad = true;
        return;
    }
    nw_advisor_put_singles(advisor);
    list_candidates(advisor, 1, listed);
    read_singles(advisor, reader);
    if (changes > 1 && !reader->bad) {
        nw_advisor_put_pairs(advisor);
        list_candidates(advisor, 2, listed);
    }
    for (int count = 1; count <= changes && !reader->bad; count++)
        read_candidates(advisor, reader, listed, count);
}

static void read_trying(NwAdvisor *advisor, NwReader *reader) {
    read_aim(advisor, reader);
    advisor->progress.proofs = (size_t)nw_read_number(reader, SIZE_MAX);
    advisor->reached = nw_read_byte(reader, 1) != 0;
    Listed listed = {0};
    read_all_candidates(advisor, reader, &listed);
    if (!reader->bad)
        read_proposals(advisor, reader, &listed);
    if (!reader->bad)
        read_misses(advisor, reader, &listed);
    for (int changes = 0; changes <= NW_CHANGES_MAX; changes++)
        free(listed.list[changes]);
}

static bool is_same_question(const NwAdvisor *advisor, NwReader *reader) {
    uint64_t cook = nw_read_word(reader);
    uint8_t flags = nw_read_byte(reader, 3);
    return !reader->bad && cook == advisor->options.cook &&
           flags == (advisor->options.pairs | advisor->options.singles << 1);
}

NwStatus nw_advisor_restore(NwAdvisor *advisor, const uint8_t *bytes, size_t size) {
    NwReader reader = {.at = bytes, .end = bytes + size};
    nw_read_sum(&reader);
    if (reader.bad || nw_read_byte(&reader, UINT8_MAX) != NW_ADVISOR_VERSION ||
        nw_read_word(&reader) != nw_baseline_digest(advisor->baseline))
        return NW_BAD_RESUME;
    NwPhase phase = (NwPhase)nw_read_byte(&reader, NW_PHASE_FINISHED);
    if (reader.bad || (phase != NW_PHASE_SEARCHING && !is_same_question(advisor, &reader)))
        return NW_BAD_RESUME;
    nw_advisor_forget(advisor);
    nw_baseline_read(advisor->baseline, &reader);
    if (phase != NW_PHASE_SEARCHING && !reader.bad)
        reader.bad = !advisor->baseline->complete || nw_advisor_choose(advisor) != NW_OK;
    if (phase >= NW_PHASE_TRYING && !reader.bad)
        read_trying(advisor, &reader);
    advisor->phase = phase;
    if (!reader.bad && reader.at == reader.end)
        return NW_OK;
    nw_advisor_forget(advisor);
    nw_baseline_forget(advisor->baseline);
    return NW_BAD_RESUME;
}
