/* The contact tables and the contact theorem (lattice/contact.h) against cddlib, K. Fukuda's
 * library for convex polyhedra, in exact rational arithmetic.
 *
 * cddlib is given the four vertices of each part and finds its faces by itself. Two parts have a
 * common interior point exactly when the linear program
 *
 *     greatest s with  a . x + s <= b  for all faces of both
 *
 * has a positive optimum: s is then room on the inner side of every face. It knows nothing of the
 * lattice's separating directions, which are what the kernel relies on. With NW_LONG set the runs
 * go two cells far; without, as far as two parts' boxes can meet. Link: cddgmp, gmp. */
#ifndef GMPRATIONAL
#define GMPRATIONAL
#endif
#include <cdd/setoper.h>

#include <cdd/cdd.h>

#include <check.h>
#include <stdlib.h>

#include "lattice/contact.h"
#include "suite.h"

enum { SIXTEENTHS = 16 };

/* One face: the part keeps the points with limit + normal . x >= 0. */
typedef struct Face {
    mytype limit, normal[3];
} Face;

/* The faces of part `bit` of a cell of the given parity that stands at (parity, 0, 0). */
static Face faces[2][NW_PARTS][4];

static void find_faces(int parity, int bit) {
    NwVec vertices[4];
    nw_part_vertices((NwPart){{parity, 0, 0}, bit}, vertices);
    dd_MatrixPtr points = dd_CreateMatrix(4, 4);
    points->representation = dd_Generator;
    for (int k = 0; k < 4; k++) {
        dd_set_si(points->matrix[k][0], 1);
        for (int axis = 0; axis < 3; axis++)
            dd_set_si(points->matrix[k][1 + axis], nw_vec_get(vertices[k], axis));
    }
    dd_ErrorType error;
    dd_PolyhedraPtr hull = dd_DDMatrix2Poly(points, &error);
    ck_assert_int_eq(error, dd_NoError);
    dd_MatrixPtr rows = dd_CopyInequalities(hull);
    ck_assert_int_eq(rows->rowsize, 4);
    for (int k = 0; k < 4; k++) {
        Face *face = &faces[parity][bit][k];
        dd_init(face->limit);
        dd_set(face->limit, rows->matrix[k][0]);
        for (int axis = 0; axis < 3; axis++) {
            dd_init(face->normal[axis]);
            dd_set(face->normal[axis], rows->matrix[k][1 + axis]);
        }
    }
    dd_FreeMatrix(rows);
    dd_FreePolyhedra(hull);
    dd_FreeMatrix(points);
}

static void set_up(void) {
    dd_set_global_constants();
    for (int parity = 0; parity < 2; parity++)
        for (int bit = 0; bit < NW_PARTS; bit++)
            find_faces(parity, bit);
}

static void tear_down(void) {
    for (int parity = 0; parity < 2; parity++)
        for (int bit = 0; bit < NW_PARTS; bit++)
            for (int k = 0; k < 4; k++) {
                dd_clear(faces[parity][bit][k].limit);
                for (int axis = 0; axis < 3; axis++)
                    dd_clear(faces[parity][bit][k].normal[axis]);
            }
    dd_free_global_constants();
}

/* Fills four rows of the program: a part of the lattice carried by `sixteenths` from where its
 * faces were found. A face limit + n . x >= 0 becomes limit - n . d + n . x - s >= 0. */
static void set_rows(dd_MatrixPtr program, int first, const Face part[4], NwVec sixteenths) {
    mytype way, term;
    dd_init(way);
    dd_init(term);
    for (int k = 0; k < 4; k++) {
        mytype *row = program->matrix[first + k];
        dd_set(row[0], part[k].limit);
        for (int axis = 0; axis < 3; axis++) {
            mpq_set_si(way, nw_vec_get(sixteenths, axis), SIXTEENTHS);
            mpq_canonicalize(way);
            dd_mul(term, way, part[k].normal[axis]);
            dd_sub(row[0], row[0], term);
            dd_set(row[1 + axis], part[k].normal[axis]);
        }
        dd_set_si(row[4], -1);
    }
    dd_clear(term);
    dd_clear(way);
}

/* Whether the interiors meet, by cddlib. Part a belongs to a cell of parity `parity_a`, carried by
 * `a` sixteenths of a cell from (parity_a, 0, 0); b likewise. */
static bool interiors_meet(int parity_a, int bit_a, NwVec a, int parity_b, int bit_b, NwVec b) {
    dd_MatrixPtr program = dd_CreateMatrix(8, 5);
    program->representation = dd_Inequality;
    program->objective = dd_LPmax;
    dd_set_si(program->rowvec[4], 1);
    set_rows(program, 0, faces[parity_a][bit_a], a);
    set_rows(program, 4, faces[parity_b][bit_b], b);
    dd_ErrorType error;
    dd_LPPtr lp = dd_Matrix2LP(program, &error);
    ck_assert_int_eq(error, dd_NoError);
    ck_assert(dd_LPSolve(lp, dd_DualSimplex, &error));
    ck_assert_int_eq(error, dd_NoError);
    ck_assert_int_eq(lp->LPS, dd_Optimal);
    bool meet = dd_Positive(lp->optvalue);
    dd_FreeLPData(lp);
    dd_FreeMatrix(program);
    return meet;
}

/* The same by the kernel, in sixteenths. */
static bool kernel_overlap(int parity_a, int bit_a, NwVec a, int parity_b, int bit_b, NwVec b) {
    NwVec of_a[4], of_b[4];
    nw_part_vertices((NwPart){{parity_a, 0, 0}, bit_a}, of_a);
    nw_part_vertices((NwPart){{parity_b, 0, 0}, bit_b}, of_b);
    for (int k = 0; k < 4; k++) {
        of_a[k] = nw_vec_add(nw_vec_scale(of_a[k], SIXTEENTHS), a);
        of_b[k] = nw_vec_add(nw_vec_scale(of_b[k], SIXTEENTHS), b);
    }
    return nw_contact_overlap(of_a, of_b);
}

static bool long_run(void) {
    return getenv("NW_LONG") != NULL;
}

/* Compares one table with cddlib: every moving part, at both parities of the whole displacement,
 * against all parts of the cells around. Cells out of the table's reach must not be met. */
static void check_table(NwVec quarters) {
    NwContact contact;
    nw_contact_build(quarters, &contact);
    int octants = 0;
    int low = long_run() ? -1 : 0, high = long_run() ? 2 : 1;
    for (int parity = 0; parity < 2; parity++)
        for (int odd = 0; odd < 2; odd++)
            for (int x = low; x <= high; x++)
                for (int y = low; y <= high; y++)
                    for (int z = low; z <= high; z++) {
                        bool in_table = x >= 0 && x < 2 && y >= 0 && y < 2 && z >= 0 && z < 2;
                        int octant = in_table ? x + 2 * y + 4 * z : 0;
                        NwVec fixed = nw_vec(parity + odd + x, y, z);
                        int parity_there = nw_vec_parity(fixed);
                        NwVec a = nw_vec_add(nw_vec(SIXTEENTHS * odd, 0, 0),
                                             nw_vec_scale(quarters, SIXTEENTHS / 4));
                        NwVec b =
                            nw_vec_scale(nw_vec_sub(fixed, nw_vec(parity_there, 0, 0)), SIXTEENTHS);
                        int together = 0;
                        for (int moving = 0; moving < NW_PARTS; moving++) {
                            int mask = 0;
                            for (int still = 0; still < NW_PARTS; still++) {
                                bool meet =
                                    interiors_meet(parity, moving, a, parity_there, still, b);
                                ck_assert_int_eq(
                                    kernel_overlap(parity, moving, a, parity_there, still, b),
                                    meet);
                                mask |= meet << still;
                            }
                            together |= mask;
                            const uint8_t *hit = contact.hit[parity][odd][octant];
                            ck_assert_int_eq(in_table ? hit[1 << moving] : 0, mask);
                            for (int other = 0; in_table && other <= NW_WHOLE; other++)
                                ck_assert(!(other >> moving & 1) || (hit[other] & mask) == mask);
                        }
                        if (in_table) {
                            ck_assert_int_eq(contact.hit[parity][odd][octant][NW_WHOLE], together);
                            ck_assert_int_eq(contact.hit[parity][odd][octant][0], 0);
                            octants |= (together != 0) << octant;
                        }
                    }
    ck_assert_int_eq(contact.octants, octants);
}

START_TEST(whole_table_agrees) {
    check_table(nw_vec(0, 0, 0));
}
END_TEST

START_TEST(axis_tables_agree) {
    for (int axis = 0; axis < 3; axis++) {
        NwVec half = nw_vec(0, 0, 0);
        nw_vec_set(&half, axis, 2);
        check_table(half);
    }
}
END_TEST

/* A step along a face diagonal is tested at a quarter and three quarters of its way: 1 and 3 of
 * four in both coordinates, or 1 in one and 3 in the other where the two signs differ. */
START_TEST(diagonal_tables_agree) {
    for (int still = 0; still < 3; still++)
        for (int first = 1; first <= 3; first += 2)
            for (int second = 1; second <= 3; second += 2) {
                NwVec quarters = nw_vec(0, 0, 0);
                nw_vec_set(&quarters, (still + 1) % 3, first);
                nw_vec_set(&quarters, (still + 2) % 3, second);
                check_table(quarters);
            }
}
END_TEST

/* At an even whole displacement a part meets itself alone. At an odd one a core meets the whole
 * cell, and a corner all but the corner at the opposite vertex. */
START_TEST(whole_table_is_what_the_design_says) {
    NwContact contact;
    nw_contact_build(nw_vec(0, 0, 0), &contact);
    ck_assert_int_eq(contact.octants, 1);
    for (int parity = 0; parity < 2; parity++)
        for (int bit = 0; bit < NW_PARTS; bit++) {
            int opposite = bit ? nw_part_bit(1 - parity, nw_part_vertex(parity, bit) ^ 7) : 0;
            int all_but = bit ? NW_WHOLE & ~(1 << opposite) : NW_WHOLE;
            ck_assert_int_eq(contact.hit[parity][0][0][1 << bit], 1 << bit);
            ck_assert_int_eq(contact.hit[parity][1][0][1 << bit], all_but);
        }
}
END_TEST

/* The masks of a table are unions of its single parts' masks. */
START_TEST(table_masks_are_unions) {
    NwContact contact;
    nw_contact_build(nw_vec(0, 2, 0), &contact);
    for (int at = 0; at < 2 * 2 * 8; at++) {
        const uint8_t *hit = contact.hit[at / 16][at / 8 % 2][at % 8];
        for (int mask = 0; mask <= NW_WHOLE; mask++) {
            int expected = 0;
            for (int bit = 0; bit < NW_PARTS; bit++)
                if (mask >> bit & 1)
                    expected |= hit[1 << bit];
            ck_assert_int_eq(hit[mask], expected);
        }
    }
}
END_TEST

/* Follows two parts through one step: from the whole displacement `from`, along `way`, in
 * sixteenths; between multiples of `stretch` sixteenths the answer must not change. Both the
 * library and the kernel are asked. Returns how many times. */
static int follow(int parity_a, int bit_a, NwVec from, NwVec way, int parity_b, int bit_b,
                  int stretch) {
    int cases = 0;
    bool at_first = false;
    for (int k = 1; k < SIXTEENTHS; k++) {
        if (k % stretch == 0)
            continue;
        NwVec a = nw_vec_add(nw_vec_scale(from, SIXTEENTHS), nw_vec_scale(way, k));
        bool meet = interiors_meet(parity_a, bit_a, a, parity_b, bit_b, nw_vec(0, 0, 0));
        ck_assert_int_eq(kernel_overlap(parity_a, bit_a, a, parity_b, bit_b, nw_vec(0, 0, 0)),
                         meet);
        if (k % stretch == 1)
            at_first = meet;
        ck_assert_msg(meet == at_first, "contact changes at %d/16 of (%d,%d,%d)+(%d,%d,%d)", k,
                      from.x, from.y, from.z, way.x, way.y, way.z);
        cases++;
    }
    return cases;
}

/* Whether two unit cells at this whole displacement can meet while it grows by `way`. */
static bool boxes_can_meet(NwVec from, NwVec way) {
    for (int axis = 0; axis < 3; axis++) {
        int start = nw_vec_get(from, axis), end = start + nw_vec_get(way, axis);
        if ((start >= 1 && end >= 1) || (start <= -1 && end <= -1))
            return false;
    }
    return true;
}

/* Runs all pairs of parts of both parities along `way`. Displacements are of the moving cell
 * against the fixed one, both of which stand at (parity, 0, 0). */
static int check_direction(NwVec way, int stretch) {
    int cases = 0, reach = 2;
    for (int kinds = 0; kinds < 4; kinds++)
        for (int at = 0; at < 5 * 5 * 5; at++) {
            int parity_a = kinds & 1, parity_b = kinds >> 1;
            NwVec apart = nw_vec(at % 5 - reach, at / 5 % 5 - reach, at / 25 - reach);
            NwVec from = nw_vec_add(apart, nw_vec(parity_b - parity_a, 0, 0));
            if (!boxes_can_meet(apart, way) && !long_run())
                continue;
            for (int pair = 0; pair < NW_PARTS * NW_PARTS; pair++)
                cases += follow(parity_a, pair % NW_PARTS, from, way, parity_b, pair / NW_PARTS,
                                stretch);
        }
    return cases;
}

START_TEST(contact_changes_only_at_whole_cells) {
    int cases = 0;
    for (int axis = 0; axis < 3; axis++)
        for (int sign = -1; sign <= 1; sign += 2) {
            NwVec way = nw_vec(0, 0, 0);
            nw_vec_set(&way, axis, sign);
            cases += check_direction(way, SIXTEENTHS);
        }
    /* Six ways, displacements, kinds, pairs, sub-steps. */
    ck_assert_int_eq(cases, 6 * (long_run() ? 125 : 2) * 4 * 25 * 15);
}
END_TEST

START_TEST(contact_changes_only_at_halves_of_a_diagonal) {
    int cases = 0;
    for (int still = 0; still < 3; still++)
        for (int sign = -1; sign <= 1; sign += 2) {
            NwVec way = nw_vec(0, 0, 0);
            nw_vec_set(&way, (still + 1) % 3, 1);
            nw_vec_set(&way, (still + 2) % 3, sign);
            cases += check_direction(way, SIXTEENTHS / 2);
        }
    ck_assert_int_eq(cases, 6 * (long_run() ? 125 : 4) * 4 * 25 * 14);
}
END_TEST

/* The test can tell: along (2,1,0), which is no way of this lattice, contact does change between
 * whole places and halves. */
START_TEST(a_slanting_way_is_told_apart) {
    int changes = 0;
    for (int pair = 0; pair < NW_PARTS * NW_PARTS; pair++) {
        bool last = false;
        for (int k = 1; k < SIXTEENTHS; k++) {
            NwVec a = nw_vec(2 * k - SIXTEENTHS, k, 0);
            bool meet = interiors_meet(0, pair % NW_PARTS, a, 0, pair / NW_PARTS, nw_vec(0, 0, 0));
            changes += k > 1 && k != 8 && k != 9 && meet != last;
            last = meet;
        }
    }
    ck_assert_int_gt(changes, 0);
}
END_TEST

int main(void) {
    const TTest *tests[] = {
        whole_table_agrees,
        whole_table_is_what_the_design_says,
        axis_tables_agree,
        diagonal_tables_agree,
        table_masks_are_unions,
        contact_changes_only_at_whole_cells,
        contact_changes_only_at_halves_of_a_diagonal,
        a_slanting_way_is_told_apart,
    };
    Suite *suite = suite_create("contact against cddlib");
    TCase *all = tcase_create("contact against cddlib");
    tcase_set_timeout(all, long_run() ? 1200 : 120);
    for (size_t i = 0; i < sizeof tests / sizeof tests[0]; i++)
        tcase_add_test(all, tests[i]);
    tcase_add_checked_fixture(all, set_up, tear_down);
    suite_add_tcase(suite, all);
    return run_suite(suite);
}
