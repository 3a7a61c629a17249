/* What stops a body: against exact overlap, against every set of bodies, and where it is known. */
#include <check.h>
#include <stdlib.h>

#include "base/bits.h"
#include "base/memory.h"
#include "lattice/contact.h"
#include "lattice/overlap.h"
#include "plain/random_design.h"
#include "plain/tangle.h"
#include "slide/obstacles.h"
#include "slide/way_out.h"
#include "suite.h"

enum { X = 0, LESS_X = 1, Y = 2, LESS_Y = 3, Z = 4, LESS_Z = 5 };

static NwSolid *box_at(NwVec low, NwVec size) {
    NwSolid *solid = nw_solid_new();
    for (int x = 0; x < size.x; x++)
        for (int y = 0; y < size.y; y++)
            for (int z = 0; z < size.z; z++)
                nw_solid_add(solid, nw_vec_add(low, nw_vec(x, y, z)), NW_WHOLE);
    return solid;
}

static NwBody as_body(int kind, const NwSolid *solid) {
    return (NwBody){kind, solid, {0, {0, 0, 0}}};
}

/* ---- known ------------------------------------------------------------------------------- */

START_TEST(three_cubes_in_a_row) {
    NwBody bodies[3];
    NwSolid *solids[3];
    for (int b = 0; b < 3; b++) {
        /* The third has a gap of two cells before it. */
        solids[b] = box_at(nw_vec(b == 2 ? 4 : b, 0, 0), nw_vec(1, 1, 1));
        bodies[b] = as_body(b, solids[b]);
    }
    NwGroupPositions standing;
    NwObstacles obstacles;
    nw_group_positions_after(3, NULL, 0, &standing);
    nw_obstacles_find(bodies, &standing, &obstacles);
    const NwObstacle *row = obstacles.of[0];
    ck_assert(row[X].run == 0 && row[X].stops == 2 && row[X].pushed == 3);
    ck_assert(row[LESS_X].run == NW_RUN_FOREVER && row[LESS_X].stops == 0);
    ck_assert_uint_eq(row[LESS_X].pushed, 1);
    for (int d = Y; d <= LESS_Z; d++)
        ck_assert(row[d].run == NW_RUN_FOREVER && row[d].pushed == 1);
    row = obstacles.of[1];
    ck_assert(row[X].run == 2 && row[X].stops == 4 && row[X].pushed == 2);
    ck_assert(row[LESS_X].run == 0 && row[LESS_X].stops == 1 && row[LESS_X].pushed == 3);

    /* The middle one goes to the third: now the first has the gap. */
    const NwSlide slide = {2, X, 2};
    nw_group_positions_after(3, &slide, 1, &standing);
    ck_assert(nw_vec_equal(standing.at[1], nw_vec(2, 0, 0)));
    nw_obstacles_find(bodies, &standing, &obstacles);
    ck_assert(obstacles.of[0][X].run == 2 && obstacles.of[0][X].stops == 2);
    ck_assert(obstacles.of[1][X].run == 0 && obstacles.of[1][X].pushed == 6);
    NwStoppingPart *parts;
    size_t count = nw_obstacles_parts(bodies, &standing, &obstacles, 1, X, &parts);
    ck_assert_int_eq((int)count, 5); /* a cube is hit in all its parts */
    for (size_t i = 0; i < count; i++) {
        ck_assert(parts[i].body == 2 && parts[i].part.bit == (int)i);
        ck_assert(nw_vec_equal(parts[i].part.cell, nw_vec(4, 0, 0)));
    }
    free(parts);
    ck_assert_int_eq((int)nw_obstacles_parts(bodies, &standing, &obstacles, 1, Y, &parts), 0);
    ck_assert_ptr_null(parts);
    for (int b = 0; b < 3; b++)
        nw_solid_free(solids[b]);
}
END_TEST

/* Once parted, bodies stop each other no more; each way out ends with everyone alone. */
START_TEST(what_has_parted_stops_nothing) {
    NwBody bodies[2];
    NwSolid *solids[2];
    for (int b = 0; b < 2; b++) {
        solids[b] = box_at(nw_vec(b, 0, 0), nw_vec(1, 1, 1));
        bodies[b] = as_body(b, solids[b]);
    }
    const NwSlide out = {2, Z, NW_SLIDE_OUT};
    NwGroupPositions standing;
    NwObstacles obstacles;
    nw_group_positions_after(2, &out, 1, &standing);
    ck_assert(standing.group[0] == 1 && standing.group[1] == 2);
    nw_obstacles_find(bodies, &standing, &obstacles);
    ck_assert(obstacles.of[0][X].run == NW_RUN_FOREVER && obstacles.of[0][X].stops == 0);
    nw_solid_free(solids[0]);
    nw_solid_free(solids[1]);
}
END_TEST

/* A cube in a closed shell: neither goes anywhere without the other. */
START_TEST(a_closed_shell_holds) {
    NwSolid *cube = box_at(nw_vec(0, 0, 0), nw_vec(1, 1, 1));
    NwSolid *block = box_at(nw_vec(-1, -1, -1), nw_vec(3, 3, 3));
    NwSolid *shell = nw_solid_difference(block, cube);
    const NwBody bodies[2] = {as_body(0, cube), as_body(1, shell)};
    NwGroupPositions standing;
    NwObstacles obstacles;
    nw_group_positions_after(2, NULL, 0, &standing);
    nw_obstacles_find(bodies, &standing, &obstacles);
    for (int b = 0; b < 2; b++)
        for (int d = 0; d < NW_CUBE_DIRECTIONS; d++) {
            ck_assert_int_eq(obstacles.of[b][d].run, 0);
            ck_assert(nw_obstacles_holds(&obstacles, &standing, b, d));
        }
    nw_solid_free(cube);
    nw_solid_free(block);
    nw_solid_free(shell);
}
END_TEST

/* ---- against exact overlap --------------------------------------------------------------- */

typedef struct Tally {
    int stopped_at_once, stopped_later, free, joined, odd, parts, spared, held;
} Tally;

/* Solids at their places, before any slide. */
static NwVec between(const NwGroupPositions *standing, int a, int b) {
    return nw_vec_sub(standing->at[b], standing->at[a]);
}

static bool is_past(const NwSolid *a, const NwSolid *b, NwVec apart, NwVec step) {
    NwBounds box_a = nw_solid_bounds(a), box_b = nw_solid_bounds(b);
    for (int axis = 0; axis < 3; axis++) {
        int way = nw_vec_get(step, axis), at = nw_vec_get(apart, axis);
        if (way >= 0 && nw_vec_get(box_b.low, axis) + at >= nw_vec_get(box_a.high, axis))
            return true;
        if (way <= 0 && nw_vec_get(box_b.high, axis) + at <= nw_vec_get(box_a.low, axis))
            return true;
    }
    return false;
}

/* Whole cells that b goes past a, from the vertices at every quarter. */
static int exact_run(const NwSolid *a, const NwSolid *b, NwVec apart, NwVec step) {
    for (int run = 0;; run++) {
        if (is_past(a, b, nw_vec_add(apart, nw_vec_scale(step, run)), step))
            return NW_RUN_FOREVER;
        for (int quarter = 1; quarter <= 4; quarter++) {
            NwVec at = nw_vec_scale(apart, 4);
            at = nw_vec_add(at, nw_vec_scale(step, 4 * run + quarter));
            if (nw_overlap_solids(a, b, at, 4))
                return run;
        }
    }
}

static void check_run(const NwSolid *const *solids, const NwGroupPositions *standing,
                      const NwObstacles *obstacles, int body, int d, Tally *tally) {
    int least = NW_RUN_FOREVER;
    uint32_t stops = 0;
    for (int other = 0; other < standing->count; other++) {
        if (other == body || !(standing->group[body] >> other & 1))
            continue;
        int run = exact_run(solids[other], solids[body], between(standing, other, body),
                            nw_direction_step(d));
        if (run < least) {
            least = run;
            stops = 0;
        }
        if (run == least && run != NW_RUN_FOREVER)
            stops |= (uint32_t)nw_bit(other);
    }
    ck_assert_int_eq(obstacles->of[body][d].run, least);
    ck_assert_uint_eq(obstacles->of[body][d].stops, stops);
    tally->stopped_at_once += least == 0;
    tally->stopped_later += least > 0 && least < NW_RUN_FOREVER;
    tally->free += least == NW_RUN_FOREVER;
}

/* Whether a set can go half a cell without meeting the rest of the group. */
static bool can_go(const NwSolid *const *solids, const NwGroupPositions *standing, uint32_t set,
                   uint32_t group, int d) {
    for (int a = 0; a < standing->count; a++)
        for (int b = 0; b < standing->count; b++) {
            if (!(set >> b & 1) || !((group & ~set) >> a & 1))
                continue;
            NwVec at = nw_vec_scale(between(standing, a, b), 2);
            if (nw_overlap_solids(solids[a], solids[b], nw_vec_add(at, nw_direction_step(d)), 2))
                return false;
        }
    return true;
}

/* `pushed` is the least of all sets that hold the body and can go. */
static void check_pushed(const NwSolid *const *solids, const NwGroupPositions *standing,
                         const NwObstacles *obstacles, int body, int d, Tally *tally) {
    uint32_t pushed = obstacles->of[body][d].pushed, group = standing->group[body];
    uint32_t least = group;
    for (uint32_t set = group; set; set = (set - 1) & group)
        if (set >> body & 1 && can_go(solids, standing, set, group, d))
            least &= set;
    ck_assert_uint_eq(pushed, least);
    ck_assert(nw_obstacles_holds(obstacles, standing, body, d) == (least == group));
    tally->joined += nw_count_bits(pushed) > 1 && pushed != group;
    tally->held += pushed == group && nw_count_bits(group) > 1;
}

/* Every part of every other body: it is listed exactly when the other judge says that it is hit. */
static bool is_hit(NwPart part, const NwSolid *moving, NwVec halves) {
    NwVec of_part[4];
    nw_part_vertices(part, of_part);
    for (int k = 0; k < 4; k++)
        of_part[k] = nw_vec_scale(of_part[k], 2);
    for (size_t i = 0; i < moving->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++) {
            if (!(moving->cells[i].mask >> bit & 1))
                continue;
            NwVec own[4];
            nw_part_vertices((NwPart){nw_cell_at(&moving->cells[i]), bit}, own);
            for (int k = 0; k < 4; k++)
                own[k] = nw_vec_add(nw_vec_scale(own[k], 2), halves);
            if (nw_contact_overlap(of_part, own))
                return true;
        }
    return false;
}

static void check_parts(const NwBody *bodies, const NwSolid *const *solids,
                        const NwGroupPositions *standing, const NwObstacles *obstacles, int body,
                        int d, Tally *tally) {
    NwStoppingPart *parts;
    const NwObstacle *obstacle = &obstacles->of[body][d];
    size_t count = nw_obstacles_parts(bodies, standing, obstacles, body, d, &parts), next = 0;
    for (int other = 0; other < standing->count; other++) {
        if (!(obstacle->stops >> other & 1))
            continue;
        NwVec halves = nw_vec_scale(between(standing, other, body), 2);
        halves = nw_vec_add(halves, nw_vec_scale(nw_direction_step(d), 2 * obstacle->run + 1));
        size_t before = next;
        for (size_t i = 0; i < solids[other]->count; i++)
            for (int bit = 0; bit < NW_PARTS; bit++) {
                NwPart part = {nw_cell_at(&solids[other]->cells[i]), bit};
                if (!(solids[other]->cells[i].mask >> bit & 1))
                    continue;
                if (!is_hit(part, solids[body], halves)) {
                    tally->spared++;
                    continue;
                }
                ck_assert_uint_lt(next, count);
                ck_assert(parts[next].body == other && parts[next].part.bit == bit);
                ck_assert(nw_vec_equal(parts[next].part.cell, part.cell));
                next++;
            }
        ck_assert_uint_gt(next, before); /* whoever stops does so with something */
    }
    ck_assert_uint_eq(next, count);
    tally->parts += (int)count;
    free(parts);
}

static void check_position(const NwBody *bodies, const NwSolid *const *solids,
                           const NwGroupPositions *standing, Tally *tally) {
    NwObstacles obstacles;
    nw_obstacles_find(bodies, standing, &obstacles);
    ck_assert_int_eq(obstacles.count, standing->count);
    for (int b = 0; b < standing->count; b++) {
        tally->odd += nw_vec_parity(standing->at[b]);
        for (int d = 0; d < NW_CUBE_DIRECTIONS; d++) {
            check_run(solids, standing, &obstacles, b, d, tally);
            check_pushed(solids, standing, &obstacles, b, d, tally);
            check_parts(bodies, solids, standing, &obstacles, b, d, tally);
        }
    }
}

/* At every position of its way out, as far as that goes. */
static void check_way(const NwBody *bodies, const NwSolid *const *solids, int count, Tally *tally) {
    NwTakeApart *search = nw_take_apart_new(false);
    ck_assert_int_eq(nw_take_apart_start(search, bodies, count, 20000), NW_OK);
    NwStatus status = nw_take_apart_step(search, 1000000);
    const NwWayOut *way = nw_take_apart_result(search);
    NwGroupPositions standing;
    for (int k = 0; k <= way->total; k++) {
        nw_group_positions_after(count, way->slides, k, &standing);
        check_position(bodies, solids, &standing, tally);
    }
    for (int b = 0; b < count && status == NW_OK; b++)
        ck_assert_uint_eq(standing.group[b], 1u << b);
    if (status == NW_NONE)
        ck_assert_uint_eq(standing.group[nw_lowest(way->stuck)], way->stuck);
    nw_take_apart_free(search);
}

START_TEST(tangles_agree_with_exact_overlap) {
    Tally tally = {0};
    for (uint64_t seed = 400; seed < 430; seed++) {
        NwTangle tangle = nw_random_tangle(seed, seed % 3 == 0);
        NwBody bodies[NW_TANGLE_PIECES_MAX];
        for (size_t i = 0; i < tangle.count; i++)
            bodies[i] = as_body((int)i, tangle.solids[i]);
        check_way(bodies, (const NwSolid *const *)tangle.solids, (int)tangle.count, &tally);
        nw_tangle_clear(&tangle);
    }
    ck_assert(tally.stopped_at_once > 200 && tally.stopped_later > 20 && tally.free > 200);
    ck_assert(tally.joined > 20 && tally.odd > 20 && tally.held > 100);
    ck_assert(tally.parts > 1000 && tally.spared > 1000);
}
END_TEST

/* Turned and shifted pieces, as a search has them. */
START_TEST(intended_assemblies_agree_with_exact_overlap) {
    Tally tally = {0};
    for (uint64_t seed = 0; seed < 60; seed++) {
        NwDesign *design = nw_random_design(seed);
        NwBody bodies[16];
        NwSolid *solids[16];
        int count = (int)design->intended_count;
        for (int b = 0; b < count; b++) {
            const NwPlacement *placement = &design->intended[b];
            const NwSolid *solid = design->pieces[placement->piece].solid;
            bodies[b] = (NwBody){placement->piece, solid, placement->motion};
            ck_assert_int_eq(nw_solid_moved(solid, placement->motion, &solids[b]), NW_OK);
        }
        if (count > 1)
            check_way(bodies, (const NwSolid *const *)solids, count, &tally);
        for (int b = 0; b < count; b++)
            nw_solid_free(solids[b]);
        nw_design_free(design);
    }
    ck_assert(tally.stopped_at_once > 200 && tally.free > 200 && tally.parts > 500);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("obstacles");
    TCase *group = tcase_create("obstacles");
    tcase_set_timeout(group, 120);
    tcase_add_test(group, three_cubes_in_a_row);
    tcase_add_test(group, what_has_parted_stops_nothing);
    tcase_add_test(group, a_closed_shell_holds);
    tcase_add_test(group, tangles_agree_with_exact_overlap);
    tcase_add_test(group, intended_assemblies_agree_with_exact_overlap);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
