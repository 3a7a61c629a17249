#include "plain/random_design.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "lattice/connect.h"
#include "lattice/named.h"
#include "lattice/symmetry.h"

uint64_t nw_random_next(NwRandom *random) {
    random->state += UINT64_C(0x9e3779b97f4a7c15);
    return nw_mix(random->state);
}

int nw_random_below(NwRandom *random, int bound) {
    return (int)(nw_random_next(random) % (uint64_t)bound);
}

static bool chance(NwRandom *random, int one_in) {
    return nw_random_below(random, one_in) == 0;
}

/* What regions are made of: a part alone, or a whole cell (bit is not used). */
typedef struct Grain {
    NwPart part;
    int mask;
} Grain;

static Grain grain_at(NwPart part, bool whole_cells) {
    return (Grain){part, whole_cells ? NW_WHOLE : 1 << part.bit};
}

static Grain random_grain(NwRandom *random, const NwSolid *solid, bool whole_cells) {
    const NwCell *cell = &solid->cells[nw_random_below(random, (int)solid->count)];
    int bit = nw_random_below(random, NW_PARTS);
    while (!(cell->mask >> bit & 1))
        bit = (bit + 1) % NW_PARTS;
    return grain_at((NwPart){nw_cell_at(cell), bit}, whole_cells);
}

/* A neighbour across a random face. */
static Grain random_neighbour(NwRandom *random, Grain grain, bool whole_cells) {
    if (!whole_cells)
        return grain_at(nw_part_across(grain.part, nw_random_below(random, 4)), false);
    int axis = nw_random_below(random, 3);
    NwVec cell = grain.part.cell;
    nw_vec_set(&cell, axis, nw_vec_get(cell, axis) + (chance(random, 2) ? 1 : -1));
    return grain_at((NwPart){cell, 0}, true);
}

NwSolid *nw_random_solid(NwRandom *random, int size, bool whole_cells) {
    NwSolid *solid = nw_solid_new();
    NwVec start = nw_vec(nw_random_below(random, 2), 0, 0);
    NwPart first = {start, nw_random_below(random, NW_PARTS)};
    nw_solid_add(solid, start, grain_at(first, whole_cells).mask);
    for (int grown = 1; grown < size;) {
        Grain next =
            random_neighbour(random, random_grain(random, solid, whole_cells), whole_cells);
        if (nw_solid_mask(solid, next.part.cell) & next.mask)
            continue;
        nw_solid_add(solid, next.part.cell, next.mask);
        grown++;
    }
    return solid;
}

typedef enum { WHOLE, CUT, MIXED, KINDS } Kind;

static NwSolid *build_named(NwRandom *random, Kind kind) {
    static const struct {
        const char *name;
        int sizes[3];
        bool whole;
    } rows[] = {
        {"cube", {2}, true},
        {"box", {3, 2, 1}, true},
        {"box", {3, 2, 2}, true},
        {"box", {3, 3, 1}, true},
        {"box", {4, 2, 1}, true},
        {"tetrahedron", {2}, false},
        {"octahedron", {1}, false},
        {"octahedron", {2}, false},
        {"cuboctahedron", {1}, false},
        {"stella-octangula", {2}, false},
        {"truncated-tetrahedron", {1}, false},
        {"cube", {2}, false},
    };
    int count = (int)(sizeof rows / sizeof rows[0]), row;
    do
        row = nw_random_below(random, count);
    while (rows[row].whole != (kind != CUT));
    NwSolid *solid = NULL;
    nw_named_solid_build(nw_named_solid_find(rows[row].name), rows[row].sizes, &solid);
    return solid;
}

/* Turns and shifts a solid; `motion` is what was done. Whole cells may be shifted by odd vectors.
 */
static NwSolid *scatter(NwRandom *random, NwSolid *take, bool reflections, NwMotion *motion) {
    motion->turn = nw_random_below(random, reflections ? NW_TURNS : NW_ROTATIONS);
    motion->shift = nw_vec(nw_random_below(random, 7) - 3, nw_random_below(random, 7) - 3,
                           nw_random_below(random, 7) - 3);
    if (nw_vec_parity(motion->shift) && !nw_solid_is_whole(take))
        motion->shift.x++;
    NwSolid *moved = NULL;
    nw_solid_moved(take, *motion, &moved);
    nw_solid_free(take);
    return moved;
}

static NwSolid *build_envelope(NwRandom *random, Kind kind) {
    NwSolid *solid;
    if (chance(random, 2))
        solid = build_named(random, kind);
    else if (kind == CUT)
        solid = nw_random_solid(random, 8 + nw_random_below(random, 32), false);
    else
        solid = nw_random_solid(random, 4 + nw_random_below(random, 5), true);
    NwMotion motion;
    return scatter(random, solid, true, &motion);
}

size_t nw_random_divide(NwRandom *random, const NwSolid *solid, bool whole_cells, NwSolid **regions,
                        size_t wanted) {
    NwSolid *rest = nw_solid_copy(solid);
    size_t count = 0;
    for (; count < wanted && rest->count; count++) {
        Grain seed = random_grain(random, rest, whole_cells);
        regions[count] = nw_solid_new();
        nw_solid_add(regions[count], seed.part.cell, seed.mask);
        nw_solid_remove(rest, seed.part.cell, seed.mask);
    }
    while (rest->count) {
        NwSolid *region = regions[nw_random_below(random, (int)count)];
        Grain next =
            random_neighbour(random, random_grain(random, region, whole_cells), whole_cells);
        if (!(nw_solid_mask(rest, next.part.cell) & next.mask))
            continue;
        nw_solid_add(region, next.part.cell, next.mask);
        nw_solid_remove(rest, next.part.cell, next.mask);
    }
    nw_solid_free(rest);
    return count;
}

enum { REGIONS_MAX = 6 };

/* Parts that may stay empty: one region is given up, or some single parts are let off. */
static void let_off(NwRandom *random, NwDesign *design, NwSolid **regions, size_t *count,
                    bool whole_cells) {
    if (*count > 2 && chance(random, 4)) {
        nw_solid_free(design->may_be_empty);
        design->may_be_empty = regions[--*count];
    } else if (chance(random, 4)) {
        for (int k = 1 + nw_random_below(random, 4); k > 0; k--) {
            Grain grain = random_grain(random, design->envelope, whole_cells);
            nw_solid_add(design->may_be_empty, grain.part.cell, grain.mask);
        }
    }
}

/* The piece that a rotation carries to the region, if there is one already. */
static bool find_congruent(const NwDesign *design, const NwSolid *region, size_t *piece,
                           NwMotion *motion) {
    bool whole = nw_solid_is_whole(region);
    for (*piece = 0; *piece < design->piece_count; ++*piece)
        for (NwTurn turn = 0; turn < NW_ROTATIONS; turn++)
            if (nw_solid_carries(design->pieces[*piece].solid, region, turn, whole, motion))
                return true;
    return false;
}

/* Takes the regions over as pieces; with `merge`, congruent ones become copies of one piece. */
static void take_regions(NwRandom *random, NwDesign *design, NwSolid **regions, size_t count) {
    NwPlacement intended[REGIONS_MAX];
    bool merge = !chance(random, 3);
    for (size_t i = 0; i < count; i++) {
        size_t piece;
        NwMotion motion;
        if (merge && find_congruent(design, regions[i], &piece, &motion)) {
            design->pieces[piece].copies++;
            nw_solid_free(regions[i]);
        } else {
            char name[2] = {(char)('A' + (int)i), 0};
            NwMotion away;
            NwSolid *solid = scatter(random, regions[i], false, &away);
            piece = nw_design_take_piece(design, name, solid);
            motion = nw_motion_inverse(away);
        }
        intended[i] = (NwPlacement){(int)piece, motion};
    }
    nw_design_set_intended(design, intended, count);
}

NwDesign *nw_random_design(uint64_t seed) {
    NwRandom random = {nw_mix(seed ^ UINT64_C(0x6e6f746368))};
    NwDesign *design = nw_design_new("random");
    Kind kind = (Kind)nw_random_below(&random, KINDS);
    nw_solid_free(design->envelope);
    design->envelope = build_envelope(&random, kind);
    design->mirrors_together = chance(&random, 2);
    NwSolid *regions[REGIONS_MAX];
    size_t wanted = (size_t)(2 + nw_random_below(&random, 4));
    size_t count = nw_random_divide(&random, design->envelope, kind != CUT, regions, wanted);
    let_off(&random, design, regions, &count, kind != CUT);
    if (kind == MIXED) {
        NwSolid *uncut = regions[--count];
        count += nw_random_divide(&random, uncut, false, regions + count, 2);
        nw_solid_free(uncut);
    }
    take_regions(&random, design, regions, count);
    if (chance(&random, 12)) {
        design->pieces[nw_random_below(&random, (int)design->piece_count)].copies++;
        nw_design_set_intended(design, NULL, 0);
    }
    return design;
}

NwDesign *nw_random_dissection(uint64_t seed, const NwSolid *solid, bool whole_cells, int pieces) {
    NwRandom random = {nw_mix(seed ^ UINT64_C(0x646973736563))};
    NwDesign *design = nw_design_new("dissection");
    nw_solid_free(design->envelope);
    design->envelope = nw_solid_copy(solid);
    NwSolid **regions = nw_alloc((size_t)pieces, sizeof *regions);
    size_t count = nw_random_divide(&random, solid, whole_cells, regions, (size_t)pieces);
    for (size_t i = 0; i < count; i++) {
        char name[24];
        if (pieces <= 26)
            snprintf(name, sizeof name, "%c", (char)('A' + (int)i));
        else
            snprintf(name, sizeof name, "P%zu", i + 1);
        nw_design_take_piece(design, name, regions[i]);
    }
    free(regions);
    return design;
}
