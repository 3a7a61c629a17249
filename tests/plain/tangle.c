#include "plain/tangle.h"

#include <stdlib.h>

#include "base/bits.h"
#include "lattice/connect.h"
#include "lattice/named.h"
#include "plain/plain_slide.h"
#include "plain/random_design.h"

enum { POSITIONS_LIMIT = 400, LONGEST_WEAR = 200, CLIMB = 300, ATTEMPTS = 20 };

static NwSolid *build_start(NwRandom *random) {
    static const int sizes[3][3] = {{4, 4, 4}, {5, 4, 3}, {5, 4, 4}};
    NwSolid *solid = NULL;
    nw_named_solid_build(nw_named_solid_find("box"), sizes[nw_random_below(random, 3)], &solid);
    return solid;
}

static NwPlainWayOut search(const NwTangle *tangle) {
    const NwSolid *solids[NW_TANGLE_PIECES_MAX];
    for (size_t i = 0; i < tangle->count; i++)
        solids[i] = tangle->solids[i];
    NwPlainWayOut way = nw_plain_slide(solids, tangle->count, false, POSITIONS_LIMIT);
    free(way.slides);
    way.slides = NULL;
    return way;
}

/* Takes a random cell from a random piece, unless that would part or use up the piece. */
static void wear(NwRandom *random, NwTangle *tangle) {
    NwSolid **solid = &tangle->solids[nw_random_below(random, (int)tangle->count)];
    const NwCell *cell = &(*solid)->cells[nw_random_below(random, (int)(*solid)->count)];
    NwSolid *worn = nw_solid_copy(*solid);
    nw_solid_remove(worn, nw_cell_at(cell), NW_WHOLE);
    if (nw_solid_lumps(worn) == 1) {
        nw_solid_free(*solid);
        *solid = worn;
    } else {
        nw_solid_free(worn);
    }
}

static void start(NwRandom *random, NwTangle *tangle, const NwSolid *all) {
    size_t wanted = (size_t)(3 + nw_random_below(random, 2));
    tangle->count = nw_random_divide(random, all, true, tangle->solids, wanted);
}

/* Gives a random part or cell of the start, whoever has it, to a random piece. False, and nothing
 * changed, if that piece has it or would not hold together, or the one it is taken from. */
static bool hand_over(NwRandom *random, NwTangle *tangle, const NwSolid *all, bool whole_cells) {
    size_t to = (size_t)nw_random_below(random, (int)tangle->count), from = tangle->count;
    const NwCell *cell = &all->cells[nw_random_below(random, (int)all->count)];
    int mask = whole_cells ? NW_WHOLE : 1 << nw_random_below(random, NW_PARTS);
    if (!(cell->mask & mask) || nw_solid_mask(tangle->solids[to], nw_cell_at(cell)) & mask)
        return false;
    for (size_t i = 0; i < tangle->count; i++)
        if (nw_solid_mask(tangle->solids[i], nw_cell_at(cell)) & mask)
            from = i;
    NwSolid *more = nw_solid_copy(tangle->solids[to]), *less = NULL;
    nw_solid_add(more, nw_cell_at(cell), mask);
    bool hold = nw_solid_lumps(more) == 1;
    if (from < tangle->count) {
        less = nw_solid_copy(tangle->solids[from]);
        nw_solid_remove(less, nw_cell_at(cell), mask);
        hold = hold && nw_solid_lumps(less) == 1;
    }
    if (!hold) {
        nw_solid_free(more);
        nw_solid_free(less);
        return false;
    }
    nw_solid_free(tangle->solids[to]);
    tangle->solids[to] = more;
    if (less) {
        nw_solid_free(tangle->solids[from]);
        tangle->solids[from] = less;
    }
    return true;
}

static NwTangle copy_of(const NwTangle *tangle) {
    NwTangle copy = *tangle;
    for (size_t i = 0; i < tangle->count; i++)
        copy.solids[i] = nw_solid_copy(tangle->solids[i]);
    return copy;
}

/* Changes what does not lower the level are kept. */
static void climb(NwRandom *random, NwTangle *tangle, const NwSolid *all, bool whole_cells) {
    for (int step = 0; step < CLIMB; step++) {
        NwTangle before = copy_of(tangle);
        bool changed = hand_over(random, tangle, all, whole_cells);
        if (changed)
            tangle->level = search(tangle).level;
        if (!changed || tangle->level < before.level) {
            nw_tangle_clear(tangle);
            *tangle = before;
        } else {
            nw_tangle_clear(&before);
        }
    }
}

static NwTangle attempt(NwRandom *random, bool whole_cells) {
    NwTangle tangle = {.count = 0};
    NwSolid *all = build_start(random);
    for (start(random, &tangle, all); search(&tangle).status != NW_NONE;
         start(random, &tangle, all))
        nw_tangle_clear(&tangle);
    for (int worn = 0; worn < LONGEST_WEAR && !tangle.level; worn++) {
        wear(random, &tangle);
        tangle.level = search(&tangle).level;
    }
    if (tangle.level)
        climb(random, &tangle, all, whole_cells);
    nw_solid_free(all);
    return tangle;
}

NwTangle nw_random_tangle(uint64_t seed, bool whole_cells) {
    NwRandom random = {nw_mix(seed ^ UINT64_C(0x74616e676c65))};
    NwTangle tangle = attempt(&random, whole_cells);
    for (int tried = 1; tried < ATTEMPTS && tangle.level < 2; tried++) {
        nw_tangle_clear(&tangle);
        tangle = attempt(&random, whole_cells);
    }
    return tangle;
}

void nw_tangle_clear(NwTangle *tangle) {
    for (size_t i = 0; i < tangle->count; i++)
        nw_solid_free(tangle->solids[i]);
    *tangle = (NwTangle){.count = 0};
}
