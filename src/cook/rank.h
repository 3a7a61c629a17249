/* The order of proposals: what a maker wants.
 *
 * Compared from the top: fewest changes; fewest cooks left, so all gone before some gone; level and
 * total of the intended assembly kept or raised before lowered; no new assembly that opens; nothing
 * that hangs by one face; no new sharp tip outside. What is still equal goes by kind (give before
 * take before hand over, which alters two pieces; a swap before any other pair) and by number.
 *
 * Every field but the last three only grows while a candidate is looked into, so the rank of one
 * that is not yet settled is a bound from below: when a settled one comes before all others, no
 * other can overtake it, and proposals can be handed out in their final order. Thread: any. */
#ifndef NW_COOK_RANK_H
#define NW_COOK_RANK_H

#include "cook/variant.h"

typedef struct NwRank {
    size_t changes;
    size_t cooks_left;
    int level_lost, total_lost; /* 0 if kept or raised */
    size_t new_cooks;
    size_t hangs; /* more places than before where something hangs by one face */
    size_t tips;  /* more sharp tips than before that a hand can touch */
    int kind;
    size_t number;
} NwRank;

int nw_rank_compare(const NwRank *a, const NwRank *b);

int nw_rank_kind(const NwChange *changes, int count);

/* How many more hanging places and touchable sharp tips (weak_spots.h) the changed pieces have. */
void nw_rank_marks(const NwBaseline *baseline, const NwVariant *variant, size_t *hangs,
                   size_t *tips);

#endif
