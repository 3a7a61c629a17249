/* The lattice: turns, parts, solids, their symmetries, and the named solids. */
#include <check.h>
#include <stdlib.h>

#include "base/bits.h"
#include "lattice/connect.h"
#include "lattice/convex.h"
#include "lattice/named.h"
#include "lattice/symmetry.h"
#include "suite.h"

static uint64_t chance;

/* A number from 0 to below - 1; the same ones in every run. */
static int draw(int below) {
    return (int)(nw_mix(++chance) % (uint64_t)below);
}

static NwVec draw_vec(int low, int high) {
    int width = high - low + 1;
    int x = low + draw(width), y = low + draw(width);
    return nw_vec(x, y, low + draw(width));
}

static NwVec draw_even_shift(void) {
    NwVec shift = draw_vec(-9, 9);
    shift.x += nw_vec_parity(shift);
    return shift;
}

/* A solid in a box of 3 cells; `whole` fills cells entirely. */
static NwSolid *draw_solid(bool whole) {
    NwSolid *solid = nw_solid_new();
    int cells = 2 + draw(8);
    for (int i = 0; i < cells; i++)
        nw_solid_add(solid, draw_vec(-1, 1), whole ? NW_WHOLE : 1 + draw(NW_WHOLE));
    return solid;
}

static NwSolid *named(const char *name, int a, int b, int c) {
    const NwNamedSolid *row = nw_named_solid_find(name);
    ck_assert_ptr_nonnull(row);
    NwSolid *solid;
    ck_assert_int_eq(nw_named_solid_build(row, (const int[3]){a, b, c}, &solid), NW_OK);
    return solid;
}

static NwSolid *moved(const NwSolid *solid, NwMotion motion) {
    NwSolid *result;
    ck_assert_int_eq(nw_solid_moved(solid, motion, &result), NW_OK);
    return result;
}

static int determinant(NwTurn turn) {
    NwVec x = nw_turn_vec(turn, nw_vec(1, 0, 0)), y = nw_turn_vec(turn, nw_vec(0, 1, 0)),
          z = nw_turn_vec(turn, nw_vec(0, 0, 1));
    return nw_vec_dot(nw_vec_cross(x, y), z);
}

/* Whether two lists of four points are the same set. */
static bool same_points(const NwVec a[4], const NwVec b[4]) {
    for (int i = 0; i < 4; i++) {
        bool found = false;
        for (int k = 0; k < 4; k++)
            found = found || nw_vec_equal(a[i], b[k]);
        if (!found)
            return false;
    }
    return true;
}

static int volume6_of_points(const NwVec v[4]) {
    NwVec a = nw_vec_sub(v[1], v[0]), b = nw_vec_sub(v[2], v[0]), c = nw_vec_sub(v[3], v[0]);
    return abs(nw_vec_dot(nw_vec_cross(a, b), c));
}

START_TEST(turns_make_a_group) {
    for (NwTurn a = 0; a < NW_TURNS; a++) {
        ck_assert_int_eq(determinant(a), a < NW_ROTATIONS ? 1 : -1);
        ck_assert_int_eq(nw_turn_then(0, a), a);
        ck_assert_int_eq(nw_turn_then(a, 0), a);
        ck_assert_int_eq(nw_turn_then(a, nw_turn_inverse(a)), 0);
        ck_assert_int_eq(nw_turn_then(nw_turn_inverse(a), a), 0);
        for (NwTurn b = 0; b < NW_TURNS; b++) {
            NwTurn both = nw_turn_then(a, b);
            NwVec v = nw_vec(2, 3, 7);
            ck_assert(nw_vec_equal(nw_turn_vec(both, v), nw_turn_vec(b, nw_turn_vec(a, v))));
            ck_assert(a == b || !nw_vec_equal(nw_turn_vec(a, v), nw_turn_vec(b, v)));
            for (NwTurn c = 0; c < NW_TURNS; c += 5)
                ck_assert_int_eq(nw_turn_then(both, c), nw_turn_then(a, nw_turn_then(b, c)));
        }
    }
}
END_TEST

START_TEST(turn_names_round_trip) {
    for (NwTurn turn = 0; turn < NW_TURNS; turn++) {
        char name[NW_TURN_NAME_SIZE];
        NwTurn back = -1;
        nw_turn_name(turn, name);
        ck_assert_int_eq(nw_turn_parse(name, &back), NW_OK);
        ck_assert_int_eq(back, turn);
        NwTurnMap map = nw_turn_map(turn), partner = nw_turn_map((turn + 24) % 48);
        ck_assert_int_eq(map.sign[2], -partner.sign[2]);
        for (int k = 0; k < 3; k++)
            ck_assert_int_eq(map.axis[k], partner.axis[k]);
    }
    NwTurn turn;
    ck_assert_int_eq(nw_turn_parse("+y-x+z", &turn), NW_OK);
    ck_assert(nw_vec_equal(nw_turn_vec(turn, nw_vec(1, 2, 3)), nw_vec(2, -1, 3)));
    static const char *const wrong[] = {"",       "+x",     "+x+y+z+", "+x+x+z",
                                        "x+y+z+", "+x+y+w", "*x+y+z"};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++)
        ck_assert_int_eq(nw_turn_parse(wrong[i], &turn), NW_UNKNOWN_NAME);
}
END_TEST

START_TEST(motions_make_a_group) {
    for (int i = 0; i < 2000; i++) {
        NwMotion a = {draw(NW_TURNS), draw_vec(-9, 9)}, b = {draw(NW_TURNS), draw_vec(-9, 9)};
        NwVec v = draw_vec(-9, 9);
        NwVec after_a = nw_vec_add(nw_turn_vec(a.turn, v), a.shift);
        NwVec after_b = nw_vec_add(nw_turn_vec(b.turn, after_a), b.shift);
        NwMotion both = nw_motion_then(a, b);
        ck_assert(nw_vec_equal(nw_vec_add(nw_turn_vec(both.turn, v), both.shift), after_b));
        NwMotion nothing = {0, {0, 0, 0}};
        ck_assert(nw_motion_equal(nw_motion_then(a, nw_motion_inverse(a)), nothing));
        ck_assert(nw_motion_equal(nw_motion_then(nw_motion_inverse(a), a), nothing));
    }
}
END_TEST

START_TEST(parts_fill_their_cell) {
    for (int parity = 0; parity < 2; parity++) {
        int whole = 0;
        for (int bit = 0; bit < NW_PARTS; bit++) {
            NwVec v[4];
            nw_part_vertices((NwPart){{parity, 0, 0}, bit}, v);
            int odd = 0;
            for (int k = 0; k < 4; k++)
                odd += nw_vec_parity(v[k]);
            ck_assert_int_eq(odd, bit == 0 ? 0 : 1);
            ck_assert(bit == 0 || nw_vec_parity(v[0]) == 1);
            ck_assert_int_eq(volume6_of_points(v), nw_part_volume6(bit));
            ck_assert_int_eq(nw_mask_volume6(1 << bit), nw_part_volume6(bit));
            whole += nw_part_volume6(bit);
        }
        ck_assert_int_eq(whole, 6);
        for (int bit = 1; bit < NW_PARTS; bit++)
            ck_assert_int_eq(nw_part_bit(parity, nw_part_vertex(parity, bit)), bit);
    }
    ck_assert_int_eq(nw_mask_volume6(NW_WHOLE), 6);
}
END_TEST

START_TEST(masks_turn_as_their_vertices_do) {
    for (NwTurn turn = 0; turn < NW_TURNS; turn++)
        for (int parity = 0; parity < 2; parity++) {
            NwVec cell = nw_vec(4 + parity, -3, 5);
            int whole = 0;
            for (int bit = 0; bit < NW_PARTS; bit++) {
                NwVec turned[4], expected[4];
                int mask = nw_mask_turn(turn, nw_vec_parity(cell), 1 << bit);
                ck_assert_int_eq(nw_count_bits((uint64_t)mask), 1);
                nw_part_vertices((NwPart){cell, bit}, turned);
                for (int k = 0; k < 4; k++)
                    turned[k] = nw_turn_vec(turn, turned[k]);
                NwPart image = {nw_turn_cell(turn, cell), nw_lowest((uint64_t)mask)};
                nw_part_vertices(image, expected);
                ck_assert(same_points(turned, expected));
                whole |= mask;
            }
            ck_assert_int_eq(whole, NW_WHOLE);
            for (int mask = 0; mask <= NW_WHOLE; mask++) {
                int there = nw_mask_turn(turn, nw_vec_parity(cell), mask);
                int parity_there = nw_vec_parity(nw_turn_cell(turn, cell));
                ck_assert_int_eq(nw_mask_turn(nw_turn_inverse(turn), parity_there, there), mask);
            }
        }
}
END_TEST

/* Across is symmetrical, and the two sides of a face are the same triangle run the other way. */
START_TEST(faces_lead_across_and_back) {
    for (int parity = 0; parity < 2; parity++)
        for (int bit = 0; bit < NW_PARTS; bit++)
            for (int face = 0; face < 4; face++) {
                NwPart part = {{parity, 2, 0}, bit}, other = nw_part_across(part, face);
                NwVec here[3], there[3], all[4];
                int ways_back = 0;
                nw_part_face(part, face, here);
                for (int back = 0; back < 4; back++) {
                    NwPart home = nw_part_across(other, back);
                    if (!nw_vec_equal(home.cell, part.cell) || home.bit != part.bit)
                        continue;
                    ways_back++;
                    nw_part_face(other, back, there);
                }
                ck_assert_int_eq(ways_back, 1);
                int at = 0;
                while (at < 3 && !nw_vec_equal(here[at], there[0]))
                    at++;
                ck_assert_int_lt(at, 3);
                ck_assert(nw_vec_equal(here[(at + 2) % 3], there[1]));
                ck_assert(nw_vec_equal(here[(at + 1) % 3], there[2]));
                nw_part_vertices(part, all);
                NwVec normal =
                    nw_vec_cross(nw_vec_sub(here[1], here[0]), nw_vec_sub(here[2], here[0]));
                for (int k = 0; k < 4; k++)
                    ck_assert_int_le(nw_vec_dot(normal, nw_vec_sub(all[k], here[0])), 0);
            }
}
END_TEST

START_TEST(set_operations_agree_with_masks) {
    for (int round = 0; round < 500; round++) {
        NwSolid *a = draw_solid(round % 5 == 0), *b = draw_solid(round % 3 == 0);
        NwSolid *both = nw_solid_union(a, b), *less = nw_solid_difference(a, b),
                *common = nw_solid_intersection(a, b), *copy = nw_solid_copy(a);
        size_t parts = 0;
        long volume6 = 0;
        bool contains = true, overlaps = false, whole = true;
        for (int i = 0; i < 27; i++) {
            NwVec cell = nw_vec(i % 3 - 1, i / 3 % 3 - 1, i / 9 - 1);
            int in_a = nw_solid_mask(a, cell), in_b = nw_solid_mask(b, cell);
            ck_assert_int_eq(nw_solid_mask(both, cell), in_a | in_b);
            ck_assert_int_eq(nw_solid_mask(less, cell), in_a & ~in_b);
            ck_assert_int_eq(nw_solid_mask(common, cell), in_a & in_b);
            contains = contains && !(in_b & ~in_a);
            overlaps = overlaps || (in_a & in_b);
            whole = whole && (in_a == 0 || in_a == NW_WHOLE);
            parts += (size_t)nw_count_bits((uint64_t)in_a);
            for (int bit = 0; bit < NW_PARTS; bit++)
                volume6 += (in_a >> bit & 1) * nw_part_volume6(bit);
            nw_solid_remove(copy, cell, in_b);
        }
        ck_assert(nw_solid_equal(copy, less));
        ck_assert_int_eq(nw_solid_contains(a, b), contains);
        ck_assert_int_eq(nw_solid_overlaps(a, b), overlaps);
        ck_assert_int_eq(nw_solid_is_whole(a), whole);
        ck_assert_uint_eq(nw_solid_parts(a), parts);
        ck_assert_int_eq(nw_solid_volume6(a), volume6);
        ck_assert(nw_solid_contains(both, a) && nw_solid_contains(a, less));
        ck_assert(!nw_solid_overlaps(less, b));
        ck_assert_int_eq(nw_solid_compare(a, b), -nw_solid_compare(b, a));
        for (size_t i = 1; i < both->count; i++)
            ck_assert_int_lt(
                nw_vec_compare(nw_cell_at(&both->cells[i - 1]), nw_cell_at(&both->cells[i])), 0);
        NwSolid *all[] = {a, b, both, less, common, copy};
        for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
            nw_solid_free(all[i]);
    }
}
END_TEST

START_TEST(empty_solids_are_harmless) {
    NwSolid *empty = nw_solid_new(), *copy = nw_solid_copy(empty);
    NwSolid *image = moved(empty, (NwMotion){3, {2, 0, 0}});
    NwMotion symmetries[NW_TURNS];
    NwBounds box = nw_solid_bounds(empty);
    ck_assert(nw_vec_equal(box.low, box.high));
    ck_assert_uint_eq(nw_solid_lumps(empty), 0);
    ck_assert_int_eq(nw_solid_volume6(image), 0);
    ck_assert(nw_solid_equal(empty, copy) && nw_solid_equal(empty, image));
    ck_assert_int_eq(nw_solid_symmetries(empty, (NwAllowed){true, true}, symmetries), 0);
    nw_solid_remove(empty, nw_vec(0, 0, 0), NW_WHOLE);
    ck_assert_int_eq(nw_solid_add(empty, nw_vec(0, 0, 0), 0), NW_OK);
    ck_assert_int_eq(nw_solid_add(empty, nw_vec(NW_COORD_MAX + 1, 0, 0), 1), NW_OUT_OF_RANGE);
    ck_assert_int_eq(nw_solid_add(empty, nw_vec(0, NW_COORD_MIN - 1, 0), 1), NW_OUT_OF_RANGE);
    ck_assert_uint_eq(empty->count, 0);
    NwSolid *canonical = nw_solid_canonical(empty, true, NULL);
    ck_assert_uint_eq(canonical->count, 0);
    nw_solid_free(canonical);
    nw_solid_free(image);
    nw_solid_free(copy);
    nw_solid_free(empty);
}
END_TEST

START_TEST(moved_solids_stand_where_their_points_go) {
    for (int round = 0; round < 500; round++) {
        NwSolid *solid = draw_solid(false);
        NwMotion motion = {draw(NW_TURNS), draw_even_shift()};
        NwSolid *image = moved(solid, motion);
        ck_assert_uint_eq(nw_solid_parts(image), nw_solid_parts(solid));
        for (size_t i = 0; i < solid->count; i++)
            for (int bit = 0; bit < NW_PARTS; bit++) {
                if (!(solid->cells[i].mask >> bit & 1))
                    continue;
                NwVec from[4], to[4];
                NwVec cell = nw_cell_at(&solid->cells[i]);
                nw_part_vertices((NwPart){cell, bit}, from);
                for (int k = 0; k < 4; k++)
                    from[k] = nw_vec_add(nw_turn_vec(motion.turn, from[k]), motion.shift);
                NwVec there = nw_vec_add(nw_turn_cell(motion.turn, cell), motion.shift);
                bool found = false;
                for (int other = 0; other < NW_PARTS; other++) {
                    nw_part_vertices((NwPart){there, other}, to);
                    found = found ||
                            (same_points(from, to) && nw_solid_has(image, (NwPart){there, other}));
                }
                ck_assert(found);
            }
        NwSolid *back = moved(image, nw_motion_inverse(motion));
        ck_assert(nw_solid_equal(back, solid));
        nw_solid_free(back);
        nw_solid_free(image);
        nw_solid_free(solid);
    }
}
END_TEST

START_TEST(odd_shifts_are_for_whole_cells_only) {
    NwSolid *cut = named("tetrahedron", 1, 0, 0), *whole = named("box", 1, 2, 3), *image;
    NwMotion odd = {7, {1, 0, 0}};
    ck_assert_int_eq(nw_solid_moved(cut, odd, &image), NW_OFF_LATTICE);
    ck_assert_ptr_null(image);
    ck_assert_int_eq(nw_solid_moved(whole, odd, &image), NW_OK);
    ck_assert(nw_solid_is_whole(image));
    ck_assert_int_eq(nw_solid_volume6(image), 36);
    nw_solid_free(image);
    NwMotion far = {0, {NW_COORD_MAX + 1, 0, 0}};
    ck_assert_int_eq(nw_solid_moved(whole, far, &image), NW_OUT_OF_RANGE);
    ck_assert_ptr_null(image);
    nw_solid_free(whole);
    nw_solid_free(cut);
}
END_TEST

START_TEST(lumps_hold_by_whole_faces) {
    static const struct {
        NwCell cells[3];
        size_t count, lumps;
    } cases[] = {
        {{{0, 0, 0, NW_WHOLE}, {1, 0, 0, NW_WHOLE}}, 2, 1}, /* a face */
        {{{0, 0, 0, NW_WHOLE}, {1, 1, 0, NW_WHOLE}}, 2, 2}, /* an edge */
        {{{0, 0, 0, NW_WHOLE}, {1, 1, 1, NW_WHOLE}}, 2, 2}, /* a vertex */
        {{{0, 0, 0, NW_CORE}, {1, 0, 0, NW_CORE}}, 2, 2},   /* cores never touch by a face */
        {{{0, 0, 0, 2}, {1, 0, 0, 2}}, 2, 1}, /* corners at (1,0,0), on both sides of x = 1 */
        {{{0, 0, 0, 2}, {1, 0, 0, 4}}, 2, 2}, /* the neighbour's other triangle */
        {{{0, 0, 0, 6}}, 1, 2},               /* two corners of a cell share only an edge */
        {{{0, 0, 0, 7}}, 1, 1},               /* and hold by the core */
        {{{0, 0, 0, 1}, {5, 5, 0, 30}, {9, 9, 9, 31}}, 3, 6},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        NwSolid *solid = nw_solid_new();
        for (size_t k = 0; k < cases[i].count; k++)
            nw_solid_add(solid, nw_cell_at(&cases[i].cells[k]), cases[i].cells[k].mask);
        ck_assert_msg(nw_solid_lumps(solid) == cases[i].lumps, "case %zu", i);
        nw_solid_free(solid);
    }
    NwSolid *box = named("cube", 2, 0, 0);
    nw_solid_add(box, nw_vec(8, 8, 8), NW_CORE);
    NwSolid *lump = nw_solid_lump_of(box, (NwPart){{1, 1, 0}, 0});
    ck_assert_int_eq(nw_solid_volume6(lump), 48);
    nw_solid_free(lump);
    nw_solid_free(box);
}
END_TEST

/* Orders of the point groups: elementary (Coxeter, Regular Polytopes, from memory). */
START_TEST(named_solids_have_their_symmetries) {
    static const struct {
        const char *name;
        int a, b, c;
        bool odd_shifts;
        int rotations, all;
    } cases[] = {
        {"cube", 1, 0, 0, true, 24, 48},
        {"cube", 1, 0, 0, false, 12, 24}, /* the half that keeps even vertices even */
        {"cube", 2, 0, 0, false, 24, 48},
        {"octahedron", 1, 0, 0, false, 24, 48},
        {"octahedron", 2, 0, 0, false, 24, 48},
        {"tetrahedron", 1, 0, 0, false, 12, 24},
        {"tetrahedron", 4, 0, 0, false, 12, 24},
        {"cuboctahedron", 1, 0, 0, false, 24, 48},
        {"cuboctahedron", 2, 0, 0, false, 24, 48},
        {"stella-octangula", 2, 0, 0, false, 24, 48},
        {"stella-octangula", 4, 0, 0, false, 24, 48},
        {"truncated-tetrahedron", 1, 0, 0, false, 12, 24},
        {"truncated-octahedron", 1, 0, 0, false, 24, 48},
        {"truncated-octahedron", 2, 0, 0, false, 24, 48},
        {"box", 1, 2, 3, true, 4, 8},
        {"box", 2, 2, 1, true, 8, 16},
        {"box", 2, 4, 6, false, 4, 8},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        NwSolid *solid = named(cases[i].name, cases[i].a, cases[i].b, cases[i].c);
        NwMotion list[NW_TURNS];
        NwAllowed rotations = {false, cases[i].odd_shifts}, all = {true, cases[i].odd_shifts};
        ck_assert_msg(nw_solid_symmetries(solid, rotations, list) == cases[i].rotations,
                      "rotations of %s %d", cases[i].name, cases[i].a);
        int count = nw_solid_symmetries(solid, all, list);
        ck_assert_msg(count == cases[i].all, "%s %d has %d", cases[i].name, cases[i].a, count);
        ck_assert(nw_motion_equal(list[0], (NwMotion){0, {0, 0, 0}}));
        for (int k = 0; k < count; k++) {
            NwSolid *image = moved(solid, list[k]);
            ck_assert(nw_solid_equal(image, solid));
            nw_solid_free(image);
        }
        nw_solid_free(solid);
    }
}
END_TEST

START_TEST(canonical_forms_forget_motions) {
    for (int round = 0; round < 200; round++) {
        bool whole = round % 4 == 0, reflections = round & 1;
        NwSolid *solid = draw_solid(whole);
        whole = nw_solid_is_whole(solid);
        NwMotion motion = {draw(reflections ? NW_TURNS : NW_ROTATIONS),
                           whole ? draw_vec(-9, 9) : draw_even_shift()};
        NwMotion way;
        NwSolid *image = moved(solid, motion);
        NwSolid *first = nw_solid_canonical(solid, reflections, &way),
                *second = nw_solid_canonical(image, reflections, NULL);
        NwSolid *led = moved(solid, way);
        ck_assert(nw_solid_equal(first, second));
        ck_assert(nw_solid_equal(first, led));
        NwVec low = nw_solid_bounds(first).low;
        ck_assert(nw_vec_equal(low, nw_vec(0, 0, 0)) ||
                  (!whole && nw_vec_equal(low, nw_vec(1, 0, 0))));
        nw_solid_free(led);
        nw_solid_free(second);
        nw_solid_free(first);
        nw_solid_free(image);
        nw_solid_free(solid);
    }
}
END_TEST

START_TEST(canonical_forms_tell_shapes_apart) {
    /* The screw tetracube and its mirror image. */
    NwSolid *screw = nw_solid_new(), *mirrored;
    static const NwVec cells[] = {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {1, 1, 1}};
    for (int i = 0; i < 4; i++)
        nw_solid_add(screw, cells[i], NW_WHOLE);
    mirrored = moved(screw, (NwMotion){NW_ROTATIONS, {0, 0, 0}});
    NwSolid *a = nw_solid_canonical(screw, false, NULL),
            *b = nw_solid_canonical(mirrored, false, NULL);
    ck_assert(!nw_solid_equal(a, b));
    nw_solid_free(a);
    nw_solid_free(b);
    a = nw_solid_canonical(screw, true, NULL);
    b = nw_solid_canonical(mirrored, true, NULL);
    ck_assert(nw_solid_equal(a, b));
    nw_solid_free(a);
    nw_solid_free(b);
    /* An even cell that has lost a corner is no even shift of an odd one; a turn is needed. */
    NwSolid *even = nw_solid_new(), *odd = nw_solid_new();
    nw_solid_add(even, nw_vec(0, 0, 0), NW_WHOLE & ~2);
    nw_solid_add(odd, nw_vec(1, 0, 0), NW_WHOLE & ~2);
    NwMotion motion;
    ck_assert(!nw_solid_carries(even, odd, 0, true, &motion) || nw_vec_parity(motion.shift) == 1);
    ck_assert(!nw_solid_carries(even, odd, 0, false, &motion));
    a = nw_solid_canonical(even, false, NULL);
    b = nw_solid_canonical(odd, false, NULL);
    ck_assert(nw_solid_equal(a, b));
    nw_solid_free(a);
    nw_solid_free(b);
    nw_solid_free(odd);
    nw_solid_free(even);
    nw_solid_free(mirrored);
    nw_solid_free(screw);
}
END_TEST

/* Volumes: elementary, from the edge lengths (tetrahedron n^3/3, stella octangula n^3/2 and
 * octahedron by kjmaclean.com/Geometry/Volume_Star_Tetra.html; the truncated ones from memory). */
START_TEST(named_solids_have_their_volumes) {
    static const struct {
        const char *name;
        long sixths; /* of n^3 */
        int step;
    } cases[] = {
        {"tetrahedron", 2, 1},
        {"octahedron", 8, 1},
        {"cube", 6, 1},
        {"cuboctahedron", 40, 1},
        {"stella-octangula", 3, 2},
        {"truncated-tetrahedron", 46, 1},
        {"truncated-octahedron", 192, 1},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        for (int n = cases[i].step; n <= 4; n += cases[i].step) {
            NwSolid *solid = named(cases[i].name, n, 0, 0);
            ck_assert_int_eq(nw_solid_volume6(solid), cases[i].sixths * n * n * n);
            ck_assert_uint_eq(nw_solid_lumps(solid), 1);
            nw_solid_free(solid);
        }
    NwSolid *box = named("box", 2, 3, 5);
    ck_assert_int_eq(nw_solid_volume6(box), 180);
    ck_assert(nw_solid_is_whole(box));
    NwBounds bounds = nw_solid_bounds(box);
    ck_assert(nw_vec_equal(nw_vec_sub(bounds.high, bounds.low), nw_vec(2, 3, 5)));
    nw_solid_free(box);
}
END_TEST

START_TEST(wrong_sizes_are_refused_with_the_nearest) {
    const NwNamedSolid *row;
    int rows = 0;
    for (; (row = nw_named_solid((size_t)rows)); rows++) {
        int wrong[NW_SIZES_MAX] = {0, 1, 1}, below, above;
        NwSolid *solid;
        ck_assert_ptr_eq(nw_named_solid_find(row->name), row);
        ck_assert_int_eq(nw_named_solid_build(row, wrong, &solid), NW_OUT_OF_RANGE);
        ck_assert_ptr_null(solid);
        wrong[0] = row->largest + 1;
        ck_assert_int_eq(nw_named_solid_build(row, wrong, &solid), NW_OUT_OF_RANGE);
        nw_named_solid_nearest(row, row->largest + 9, &below, &above);
        ck_assert(below >= 1 && below <= row->largest && above <= row->largest);
        for (int wanted = 1; wanted <= row->largest; wanted++) {
            nw_named_solid_nearest(row, wanted, &below, &above);
            ck_assert(below <= wanted && wanted <= above && above - below < 2 * row->step);
            ck_assert((below == above) == (wanted % row->step == 0));
        }
    }
    ck_assert_int_eq(rows, 8);
    ck_assert_ptr_null(nw_named_solid_find("dodecahedron"));
    row = nw_named_solid_find("stella-octangula");
    NwSolid *solid;
    int below, above;
    ck_assert_int_eq(nw_named_solid_build(row, (const int[]){3}, &solid), NW_OFF_LATTICE);
    nw_named_solid_nearest(row, 3, &below, &above);
    ck_assert_int_eq(below, 2);
    ck_assert_int_eq(above, 4);
}
END_TEST

static NwStatus build(const NwPlane *planes, size_t count, size_t *fault) {
    NwSolid *solid;
    NwStatus status = nw_solid_from_planes(planes, count, &solid, fault);
    ck_assert((status == NW_OK) == (solid != NULL));
    nw_solid_free(solid);
    return status;
}

/* The last cell of the range in either direction is there, and none beyond. */
START_TEST(planes_reach_the_last_cell) {
    static const NwVec ways[3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    for (int axis = 0; axis < 3; axis++) {
        NwPlane box[6];
        for (int k = 0; k < 3; k++) {
            box[2 * k] = (NwPlane){ways[k], NW_COORD_MAX + 1};
            box[2 * k + 1] = (NwPlane){nw_vec_scale(ways[k], -1), -NW_COORD_MAX};
        }
        NwSolid *solid;
        ck_assert_int_eq(nw_solid_from_planes(box, 6, &solid, NULL), NW_OK);
        ck_assert_uint_eq(solid->count, 1);
        ck_assert(nw_vec_equal(nw_cell_at(&solid->cells[0]),
                               nw_vec(NW_COORD_MAX, NW_COORD_MAX, NW_COORD_MAX)));
        nw_solid_free(solid);
        box[2 * axis].limit++;
        ck_assert_int_eq(build(box, 6, NULL), NW_TOO_MANY);
        box[2 * axis] = (NwPlane){ways[axis], NW_COORD_MIN + 1};
        box[2 * axis + 1] = (NwPlane){nw_vec_scale(ways[axis], -1), -NW_COORD_MIN};
        ck_assert_int_eq(build(box, 6, NULL), NW_OK);
        box[2 * axis + 1].limit++;
        ck_assert_int_eq(build(box, 6, NULL), NW_TOO_MANY);
    }
    /* The plane through the outermost corner of all. */
    NwPlane tip[] = {{{1, 1, 1}, 3 * (NW_COORD_MAX + 1)}, {{-1, 0, 0}, -NW_COORD_MAX},
                     {{0, -1, 0}, -NW_COORD_MAX},         {{0, 0, -1}, -NW_COORD_MAX},
                     {{1, 0, 0}, NW_COORD_MAX + 1},       {{0, 1, 0}, NW_COORD_MAX + 1},
                     {{0, 0, 1}, NW_COORD_MAX + 1}};
    ck_assert_int_eq(build(tip, 7, NULL), NW_OK);
}
END_TEST

START_TEST(planes_are_checked) {
    ck_assert_int_eq(nw_plane_check((NwPlane){{1, 0, 0}, 5}), NW_OK);
    ck_assert_int_eq(nw_plane_check((NwPlane){{0, -1, 0}, -4}), NW_OK);
    ck_assert_int_eq(nw_plane_check((NwPlane){{1, -1, 1}, -4}), NW_OK);
    ck_assert_int_eq(nw_plane_check((NwPlane){{1, -1, 1}, 3}), NW_OFF_LATTICE);
    ck_assert_int_eq(nw_plane_check((NwPlane){{1, 1, 1}, -3}), NW_OFF_LATTICE);
    ck_assert_int_eq(nw_plane_check((NwPlane){{1, 1, 0}, 2}), NW_UNKNOWN_NAME);
    ck_assert_int_eq(nw_plane_check((NwPlane){{2, 0, 0}, 2}), NW_UNKNOWN_NAME);
    ck_assert_int_eq(nw_plane_check((NwPlane){{0, 0, 0}, 2}), NW_UNKNOWN_NAME);

    NwPlane tetrahedron[] = {{{1, 1, 1}, 4}, {{1, -1, -1}, 0}, {{-1, 1, -1}, 0}, {{-1, -1, 1}, 0}};
    size_t fault = 99;
    ck_assert_int_eq(build(tetrahedron, 4, NULL), NW_OK);
    ck_assert_int_eq(build(tetrahedron, 3, NULL), NW_UNBOUNDED);
    ck_assert_int_eq(build(tetrahedron, 1, NULL), NW_UNBOUNDED);
    ck_assert_int_eq(build(tetrahedron, 0, NULL), NW_UNBOUNDED);
    tetrahedron[2].limit = 1;
    ck_assert_int_eq(build(tetrahedron, 4, &fault), NW_OFF_LATTICE);
    ck_assert_uint_eq(fault, 2);
    tetrahedron[2].limit = 0;
    tetrahedron[0].limit = -4;
    ck_assert_int_eq(build(tetrahedron, 4, NULL), NW_EMPTY);
    tetrahedron[0].limit = 0;
    ck_assert_int_eq(build(tetrahedron, 4, NULL), NW_EMPTY);
    tetrahedron[0].limit = 2 * (NW_EXTENT_MAX + 2);
    ck_assert_int_eq(build(tetrahedron, 4, NULL), NW_TOO_MANY);
    tetrahedron[0].limit = 1000000000;
    ck_assert_int_eq(build(tetrahedron, 4, &fault), NW_OUT_OF_RANGE);
    ck_assert_uint_eq(fault, 0);

    NwPlane slab[] = {{{1, 0, 0}, 3},  {{-1, 0, 0}, 0}, {{0, 1, 0}, 3},
                      {{0, -1, 0}, 0}, {{0, 0, 1}, 3},  {{0, 0, -1}, 0}};
    ck_assert_int_eq(build(slab, 2, NULL), NW_UNBOUNDED);
    ck_assert_int_eq(build(slab, 5, NULL), NW_UNBOUNDED);
    ck_assert_int_eq(build(slab, 6, NULL), NW_OK);
    slab[0].limit = 0; /* flat */
    ck_assert_int_eq(build(slab, 6, NULL), NW_EMPTY);
    slab[0].limit = -2; /* inside out */
    ck_assert_int_eq(build(slab, 6, NULL), NW_EMPTY);
}
END_TEST

START_TEST(every_status_has_its_text) {
    for (int status = 0; status < NW_STATUS_COUNT; status++) {
        const char *text = nw_status_text((NwStatus)status);
        ck_assert_ptr_nonnull(text);
        ck_assert_str_ne(text, "");
        for (int other = 0; other < status; other++)
            ck_assert_str_ne(text, nw_status_text((NwStatus)other));
    }
    ck_assert_str_eq(nw_status_text(NW_STATUS_COUNT), "unknown status");
}
END_TEST

int main(void) {
    const TTest *tests[] = {
        turns_make_a_group,
        turn_names_round_trip,
        motions_make_a_group,
        parts_fill_their_cell,
        masks_turn_as_their_vertices_do,
        faces_lead_across_and_back,
        set_operations_agree_with_masks,
        empty_solids_are_harmless,
        moved_solids_stand_where_their_points_go,
        odd_shifts_are_for_whole_cells_only,
        lumps_hold_by_whole_faces,
        named_solids_have_their_symmetries,
        canonical_forms_forget_motions,
        canonical_forms_tell_shapes_apart,
        named_solids_have_their_volumes,
        wrong_sizes_are_refused_with_the_nearest,
        planes_are_checked,
        planes_reach_the_last_cell,
        every_status_has_its_text,
    };
    Suite *suite = suite_create("lattice");
    TCase *all = tcase_create("lattice");
    tcase_set_timeout(all, 60);
    for (size_t i = 0; i < sizeof tests / sizeof tests[0]; i++)
        tcase_add_test(all, tests[i]);
    suite_add_tcase(suite, all);
    return run_suite(suite);
}
