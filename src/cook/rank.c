#include "cook/rank.h"

#include "base/bits.h"

static int compare(size_t a, size_t b) {
    return (a > b) - (a < b);
}

int nw_rank_compare(const NwRank *a, const NwRank *b) {
    const size_t order[][2] = {
        {a->changes, b->changes},
        {a->cooks_left, b->cooks_left},
        {(size_t)a->level_lost, (size_t)b->level_lost},
        {(size_t)a->total_lost, (size_t)b->total_lost},
        {a->new_cooks, b->new_cooks},
        {a->hangs, b->hangs},
        {a->tips, b->tips},
        {(size_t)a->kind, (size_t)b->kind},
        {a->number, b->number},
    };
    for (size_t i = 0; i < sizeof order / sizeof order[0]; i++)
        if (order[i][0] != order[i][1])
            return compare(order[i][0], order[i][1]);
    return 0;
}

int nw_rank_kind(const NwChange *changes, int count) {
    if (count == 1)
        return (int)nw_change_kind(&changes[0]);
    if (nw_changes_swap(&changes[0], &changes[1]))
        return 0;
    return 1 + (int)nw_change_kind(&changes[0]) + (int)nw_change_kind(&changes[1]);
}

void nw_rank_marks(const NwBaseline *baseline, const NwVariant *variant, size_t *hangs,
                   size_t *tips) {
    *hangs = *tips = 0;
    for (uint64_t rest = variant->changed; rest; rest &= rest - 1) {
        int p = nw_lowest(rest);
        NwWeakSpots before = baseline->looks[p], after = nw_weak_spots_of(variant->design, p);
        *hangs += after.hangs > before.hangs ? after.hangs - before.hangs : 0;
        *tips += after.tips > before.tips ? after.tips - before.tips : 0;
    }
}
