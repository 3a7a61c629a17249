/* The candidates that wait, best rank in front: a binary heap. Thread: each belongs to one. */
#ifndef NW_COOK_QUEUE_H
#define NW_COOK_QUEUE_H

#include "cook/proposal.h"

struct NwEvaluation;

typedef struct NwCandidate {
    NwRank rank;
    NwChange changes[NW_CHANGES_MAX];
    int count;
    NwProposal *proposal;            /* once it is proved */
    struct NwEvaluation *evaluation; /* where it was left, or NULL to begin anew */
} NwCandidate;

typedef struct NwQueue {
    NwCandidate *list;
    size_t count, capacity;
} NwQueue;

void nw_queue_put(NwQueue *queue, const NwCandidate *candidate);
NwCandidate nw_queue_take(NwQueue *queue); /* it must not be empty */

/* Proposals included, and evaluations, each by `free_evaluation`. */
void nw_queue_clear(NwQueue *queue, void (*free_evaluation)(struct NwEvaluation *));

#endif
