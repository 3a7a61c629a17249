#include "cook/queue.h"

#include <stdlib.h>

#include "base/memory.h"

static bool before(const NwCandidate *a, const NwCandidate *b) {
    return nw_rank_compare(&a->rank, &b->rank) < 0;
}

void nw_queue_put(NwQueue *queue, const NwCandidate *candidate) {
    queue->list = nw_grow(queue->list, queue->count, &queue->capacity, sizeof *queue->list);
    size_t at = queue->count++;
    while (at && before(candidate, &queue->list[(at - 1) / 2])) {
        queue->list[at] = queue->list[(at - 1) / 2];
        at = (at - 1) / 2;
    }
    queue->list[at] = *candidate;
}

NwCandidate nw_queue_take(NwQueue *queue) {
    NwCandidate first = queue->list[0], last = queue->list[--queue->count];
    size_t at = 0;
    for (size_t child; (child = 2 * at + 1) < queue->count; at = child) {
        if (child + 1 < queue->count && before(&queue->list[child + 1], &queue->list[child]))
            child++;
        if (!before(&queue->list[child], &last))
            break;
        queue->list[at] = queue->list[child];
    }
    if (queue->count)
        queue->list[at] = last;
    return first;
}

void nw_queue_clear(NwQueue *queue, void (*free_evaluation)(struct NwEvaluation *)) {
    for (size_t i = 0; i < queue->count; i++) {
        nw_proposal_free(queue->list[i].proposal);
        if (queue->list[i].evaluation)
            free_evaluation(queue->list[i].evaluation);
    }
    free(queue->list);
    *queue = (NwQueue){0};
}
