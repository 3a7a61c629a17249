/* Counts of shapes, grown from the kernel's own neighbours and its canonical form: a wrong
 * neighbour, turn, shift or canonical form would show in them.
 *
 * Polycubes: OEIS A000162 (mirror images apart) and A038119 (together). Polyforms of the
 * tetrahedral-octahedral honeycomb, mirror images together: OEIS A343909, and by their number of
 * octahedra A365970. There a tetrahedron is a core and an octahedron the eight corners round an
 * odd vertex. Sizes that take long are counted when NW_LONG is set. */
#include <check.h>
#include <stdlib.h>

#include "base/bits.h"
#include "base/memory.h"
#include "lattice/symmetry.h"
#include "suite.h"

/* A set of solids, hashed by their cells. Slots hold index + 1. */
typedef struct Family {
    NwSolid **shapes;
    size_t count, capacity;
    size_t *slots, slot_count;
} Family;

static uint64_t hash(const NwSolid *solid) {
    uint64_t word = solid->count;
    for (size_t i = 0; i < solid->count; i++) {
        const NwCell *c = &solid->cells[i];
        uint64_t cell = (uint64_t)(uint16_t)c->x << 48 | (uint64_t)(uint16_t)c->y << 32 |
                        (uint64_t)(uint16_t)c->z << 16 | c->mask;
        word = nw_mix(word ^ cell);
    }
    return word;
}

static size_t *slot_of(Family *family, const NwSolid *solid) {
    size_t at = hash(solid) & (family->slot_count - 1);
    while (family->slots[at] && !nw_solid_equal(family->shapes[family->slots[at] - 1], solid))
        at = (at + 1) & (family->slot_count - 1);
    return &family->slots[at];
}

static void make_room(Family *family) {
    if (2 * family->count < family->slot_count)
        return;
    free(family->slots);
    family->slot_count = family->slot_count ? 4 * family->slot_count : 64;
    family->slots = nw_alloc(family->slot_count, sizeof(size_t));
    for (size_t i = 0; i < family->count; i++)
        *slot_of(family, family->shapes[i]) = i + 1;
}

/* Takes the canonical form of `solid`, unless the family has it. */
static void add_shape(Family *family, const NwSolid *solid, bool mirrors) {
    NwSolid *canonical = nw_solid_canonical(solid, mirrors, NULL);
    make_room(family);
    size_t *slot = slot_of(family, canonical);
    if (*slot) {
        nw_solid_free(canonical);
        return;
    }
    family->shapes = nw_grow(family->shapes, family->count, &family->capacity, sizeof(NwSolid *));
    family->shapes[family->count++] = canonical;
    *slot = family->count;
}

static void clear_family(Family *family) {
    for (size_t i = 0; i < family->count; i++)
        nw_solid_free(family->shapes[i]);
    free(family->shapes);
    free(family->slots);
    *family = (Family){0};
}

/* Adds all that one building block more makes of `shape`. */
typedef void Grower(Family *next, const NwSolid *shape);

static void grow(Family *family, Grower *grower) {
    Family next = {0};
    for (size_t i = 0; i < family->count; i++)
        grower(&next, family->shapes[i]);
    clear_family(family);
    *family = next;
}

static void add_joined(Family *next, const NwSolid *shape, const NwSolid *block, bool mirrors) {
    NwSolid *joined = nw_solid_union(shape, block);
    add_shape(next, joined, mirrors);
    nw_solid_free(joined);
}

/* The cells across the faces of a whole cell are those that its corners lead to. */
static void grow_polycube(Family *next, const NwSolid *shape, bool mirrors) {
    for (size_t i = 0; i < shape->count; i++)
        for (int bit = 1; bit < NW_PARTS; bit++)
            for (int face = 1; face < 4; face++) {
                NwPart across = nw_part_across((NwPart){nw_cell_at(&shape->cells[i]), bit}, face);
                if (nw_solid_mask(shape, across.cell))
                    continue;
                NwSolid *cell = nw_solid_new();
                nw_solid_add(cell, across.cell, NW_WHOLE);
                add_joined(next, shape, cell, mirrors);
                nw_solid_free(cell);
            }
}

static void grow_one_sided(Family *next, const NwSolid *shape) {
    grow_polycube(next, shape, false);
}

static void grow_free(Family *next, const NwSolid *shape) {
    grow_polycube(next, shape, true);
}

/* The octahedron that a corner belongs to: all that its faces 1 to 3 lead to. */
static NwSolid *octahedron_round(NwPart corner) {
    NwSolid *octahedron = nw_solid_new();
    for (int way = 0; way < 8; way++) {
        NwPart at = corner;
        for (int axis = 0; axis < 3; axis++)
            if (way >> axis & 1)
                at = nw_part_across(at, 1 + axis);
        nw_solid_add(octahedron, at.cell, 1 << at.bit);
    }
    ck_assert_int_eq(nw_solid_volume6(octahedron), 8);
    return octahedron;
}

static void add_block(Family *next, const NwSolid *shape, const NwSolid *block) {
    if (!nw_solid_overlaps(shape, block))
        add_joined(next, shape, block, true);
}

/* A core's neighbours are the four octahedra at its cell's odd vertices; a corner's octahedron
 * meets the core of the corner's cell. */
static void grow_honeycomb(Family *next, const NwSolid *shape) {
    for (size_t i = 0; i < shape->count; i++) {
        NwPart core = {nw_cell_at(&shape->cells[i]), 0};
        if (shape->cells[i].mask & NW_CORE) {
            for (int face = 0; face < 4; face++) {
                NwSolid *octahedron = octahedron_round(nw_part_across(core, face));
                add_block(next, shape, octahedron);
                nw_solid_free(octahedron);
            }
        } else {
            NwSolid *tetrahedron = nw_solid_new();
            nw_solid_add(tetrahedron, core.cell, NW_CORE);
            add_block(next, shape, tetrahedron);
            nw_solid_free(tetrahedron);
        }
    }
}

static bool long_run(void) {
    return getenv("NW_LONG") != NULL;
}

static void check_counts(Family *family, Grower *grower, const size_t *counts, int sizes) {
    for (int n = 1; n <= sizes; n++) {
        if (n > 1)
            grow(family, grower);
        ck_assert_msg(family->count == counts[n - 1], "size %d: %zu shapes, not %zu", n,
                      family->count, counts[n - 1]);
    }
    clear_family(family);
}

static void start_with_cube(Family *family) {
    NwSolid *cube = nw_solid_new();
    nw_solid_add(cube, nw_vec(3, -2, 6), NW_WHOLE);
    add_shape(family, cube, false);
    nw_solid_free(cube);
}

START_TEST(one_sided_polycubes) {
    static const size_t a000162[] = {1, 1, 2, 8, 29, 166, 1023, 6922, 48311};
    Family family = {0};
    start_with_cube(&family);
    check_counts(&family, grow_one_sided, a000162, long_run() ? 9 : 8);
}
END_TEST

START_TEST(free_polycubes) {
    static const size_t a038119[] = {1, 1, 2, 7, 23, 112, 607, 3811, 25413};
    Family family = {0};
    start_with_cube(&family);
    check_counts(&family, grow_free, a038119, long_run() ? 9 : 8);
}
END_TEST

/* A tetrahedron and an octahedron, away from the origin. */
static void start_with_both(Family *family) {
    NwSolid *tetrahedron = nw_solid_new(), *octahedron = octahedron_round((NwPart){{4, 1, 0}, 2});
    nw_solid_add(tetrahedron, nw_vec(5, 5, 5), NW_CORE);
    add_shape(family, tetrahedron, true);
    add_shape(family, octahedron, true);
    nw_solid_free(octahedron);
    nw_solid_free(tetrahedron);
}

START_TEST(honeycomb_polyforms) {
    static const size_t a343909[] = {2, 1, 4, 9, 44, 195, 1186, 7385};
    Family family = {0};
    start_with_both(&family);
    check_counts(&family, grow_honeycomb, a343909, long_run() ? 8 : 7);
}
END_TEST

/* Volume tells the kinds apart: k octahedra of 8 sixths and n - k tetrahedra of 2. */
START_TEST(honeycomb_polyforms_by_octahedra) {
    static const size_t a365970[6][7] = {
        {1, 1}, {0, 1, 0}, {0, 3, 1, 0}, {0, 3, 5, 1}, {0, 6, 24, 13, 1}, {0, 3, 74, 105, 13},
    };
    Family family = {0};
    start_with_both(&family);
    for (int n = 1; n <= 6; n++) {
        if (n > 1)
            grow(&family, grow_honeycomb);
        size_t with[7] = {0};
        for (size_t i = 0; i < family.count; i++) {
            long octahedra = (nw_solid_volume6(family.shapes[i]) - 2 * n) / 6;
            ck_assert(octahedra >= 0 && octahedra <= n);
            ck_assert_msg(!nw_solid_is_whole(family.shapes[i]), "odd shifts would be used");
            with[octahedra]++;
        }
        for (int k = 0; k <= n; k++)
            ck_assert_msg(with[k] == a365970[n - 1][k], "%d blocks, %d octahedra: %zu", n, k,
                          with[k]);
    }
    clear_family(&family);
}
END_TEST

int main(void) {
    const TTest *tests[] = {
        one_sided_polycubes,
        free_polycubes,
        honeycomb_polyforms,
        honeycomb_polyforms_by_octahedra,
    };
    Suite *suite = suite_create("polyforms");
    TCase *all = tcase_create("polyforms");
    tcase_set_timeout(all, 300);
    for (size_t i = 0; i < sizeof tests / sizeof tests[0]; i++)
        tcase_add_test(all, tests[i]);
    suite_add_tcase(suite, all);
    return run_suite(suite);
}
