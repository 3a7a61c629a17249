/* The plan of the layer board: what is drawn and what is hit are the same part, everywhere. And the
 * map of owners that it is coloured by. */
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "base/bits.h"
#include "design/bodies.h"
#include "lattice/connect.h"
#include "session/board_cursor.h"
#include "session/board_geometry.h"
#include "session/owner_map.h"
#include "suite.h"

enum { AXES = 3 };

/* A box that is as wide in no two directions, with a low end of either parity; its layers lie two
 * abreast for one parity and all abreast for the other. */
static NwBoardPlan plan_of(int axis, int parity) {
    return (NwBoardPlan){.axis = axis,
                         .abreast = parity ? 2 : 99,
                         .box = {nw_vec(-3 + parity, 2, -1), nw_vec(2 + parity, 5, 1)},
                         .side = 17,
                         .gap = 9,
                         .head = 20,
                         .margin = 6};
}

static double area(const NwBoardPoint *points, int count) {
    double twice = 0;
    for (int i = 0; i < count; i++) {
        NwBoardPoint a = points[i], b = points[(i + 1) % count];
        twice += a.x * b.y - b.x * a.y;
    }
    return fabs(twice) / 2;
}

/* Whether the point is inside or on the rim, by the sides it lies on: the polygon is convex. */
static bool holds(const NwBoardPoint *points, int count, NwBoardPoint p) {
    int left = 0, right = 0;
    for (int i = 0; i < count; i++) {
        NwBoardPoint a = points[i], b = points[(i + 1) % count];
        double side = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
        left += side > 0;
        right += side < 0;
    }
    return left == 0 || right == 0;
}

static bool same(NwPart a, NwPart b) {
    return nw_vec_equal(a.cell, b.cell) && a.bit == b.bit;
}

typedef void EachPart(const NwBoardPlan *plan, NwPart part);

static int each_part(const NwBoardPlan *plan, EachPart *call) {
    int count = 0;
    for (int x = plan->box.low.x; x < plan->box.high.x; x++)
        for (int y = plan->box.low.y; y < plan->box.high.y; y++)
            for (int z = plan->box.low.z; z < plan->box.high.z; z++)
                for (int bit = 0; bit < NW_PARTS; bit++, count++)
                    call(plan, (NwPart){nw_vec(x, y, z), bit});
    return count;
}

static void check_centre(const NwBoardPlan *plan, NwPart part) {
    NwBoardPoint points[4];
    int count = nw_board_polygon(plan, part, points);
    NwPart hit;
    NwBoardPoint centre = nw_board_centre(plan, part);
    ck_assert(holds(points, count, centre));
    ck_assert(nw_board_hit(plan, centre, &hit));
    ck_assert(same(hit, part));
}

START_TEST(test_centre_hits_its_part) {
    for (int axis = 0; axis < AXES; axis++)
        for (int parity = 0; parity < 2; parity++) {
            NwBoardPlan plan = plan_of(axis, parity);
            ck_assert_int_eq(each_part(&plan, check_centre), 5 * 3 * 2 * NW_PARTS);
        }
}
END_TEST

static void check_tiling(const NwBoardPlan *plan, NwPart core) {
    if (core.bit != 0)
        return;
    double covered = 0;
    NwBoardPoint at = nw_board_square(plan, core.cell);
    for (int bit = 0; bit < NW_PARTS; bit++) {
        NwBoardPoint points[4];
        int count = nw_board_polygon(plan, (NwPart){core.cell, bit}, points);
        covered += area(points, count);
        for (int i = 0; i < count; i++) {
            ck_assert(points[i].x >= at.x && points[i].x <= at.x + plan->side);
            ck_assert(points[i].y >= at.y && points[i].y <= at.y + plan->side);
        }
    }
    ck_assert_double_eq_tol(covered, plan->side * plan->side, 1e-9);
    for (int i = 0; i < 40; i++) {
        /* A fixed grid of points that lies on no rim. */
        NwBoardPoint p = {at.x + plan->side * (i % 8 + 0.37) / 8,
                          at.y + plan->side * (i / 8 + 0.21) / 5};
        int holders = 0;
        for (int bit = 0; bit < NW_PARTS; bit++) {
            NwBoardPoint points[4];
            NwPart part = {core.cell, bit}, hit;
            int count = nw_board_polygon(plan, part, points);
            if (!holds(points, count, p))
                continue;
            holders++;
            ck_assert(nw_board_hit(plan, p, &hit));
            ck_assert(same(hit, part));
        }
        ck_assert_int_eq(holders, 1);
    }
}

START_TEST(test_squares_are_tiled) {
    for (int axis = 0; axis < AXES; axis++)
        for (int parity = 0; parity < 2; parity++) {
            NwBoardPlan plan = plan_of(axis, parity);
            each_part(&plan, check_tiling);
        }
}
END_TEST

/* Squares of different cells are apart, inside the drawing, and layers do not touch. */
START_TEST(test_squares_are_apart) {
    for (int axis = 0; axis < 2 * AXES; axis++) {
        NwBoardPlan plan = plan_of(axis % AXES, axis / AXES);
        NwBoardPoint size = nw_board_size(&plan), seen[30];
        int count = 0;
        for (int x = plan.box.low.x; x < plan.box.high.x; x++)
            for (int y = plan.box.low.y; y < plan.box.high.y; y++)
                for (int z = plan.box.low.z; z < plan.box.high.z; z++)
                    seen[count++] = nw_board_square(&plan, nw_vec(x, y, z));
        ck_assert_int_eq(count, 30);
        for (int i = 0; i < count; i++) {
            ck_assert(seen[i].x >= plan.gap && seen[i].x + plan.side <= size.x - plan.gap);
            ck_assert(seen[i].y >= plan.head && seen[i].y + plan.side <= size.y - plan.margin);
            for (int k = 0; k < i; k++)
                ck_assert(fabs(seen[i].x - seen[k].x) >= plan.side ||
                          fabs(seen[i].y - seen[k].y) >= plan.side);
        }
    }
}
END_TEST

START_TEST(test_misses) {
    NwBoardPlan plan = plan_of(2, 0);
    NwBoardPoint size = nw_board_size(&plan);
    NwPart part;
    ck_assert(!nw_board_hit(&plan, (NwBoardPoint){plan.gap - 1, plan.head + 1}, &part));
    ck_assert(!nw_board_hit(&plan, (NwBoardPoint){plan.gap + 1, plan.head - 1}, &part));
    ck_assert(!nw_board_hit(&plan, (NwBoardPoint){size.x - 1, plan.head + 1}, &part));
    ck_assert(!nw_board_hit(&plan, (NwBoardPoint){plan.gap + 1, size.y - 1}, &part));
    double between = plan.gap + 5 * plan.side + plan.gap / 2;
    ck_assert(!nw_board_hit(&plan, (NwBoardPoint){between, plan.head + 1}, &part));
    plan.side = 0;
    ck_assert(!nw_board_hit(&plan, (NwBoardPoint){plan.gap + 1, plan.head + 1}, &part));
}
END_TEST

/* The corner's odd vertex, projected along the axis, is the end of the square that the plan gives,
 * and its height says upper or lower. Two opposite corners are upper. */
static void check_vertex(const NwBoardPlan *plan, NwPart part) {
    if (part.bit == 0)
        return;
    NwVec vertices[4];
    nw_part_vertices(part, vertices);
    NwVec d = nw_vec_sub(vertices[0], part.cell);
    NwBoardPoint at = nw_board_square(plan, part.cell), points[4];
    ck_assert_int_eq(nw_board_polygon(plan, part, points), 3);
    ck_assert_double_eq_tol(points[0].x,
                            at.x + nw_vec_get(d, nw_axis_across(plan->axis)) * plan->side, 1e-9);
    ck_assert_double_eq_tol(points[0].y,
                            at.y + (1 - nw_vec_get(d, nw_axis_up(plan->axis))) * plan->side, 1e-9);
    ck_assert_int_eq(nw_corner_is_upper(plan->axis, part), nw_vec_get(d, plan->axis));
    NwQuarter quarter = nw_corner_quarter(plan->axis, part);
    ck_assert(same(nw_corner_in_quarter(plan->axis, part.cell, quarter), part));
    NwPart opposite = nw_corner_in_quarter(plan->axis, part.cell, 3 - quarter);
    NwPart beside = nw_corner_in_quarter(plan->axis, part.cell, quarter ^ 1);
    ck_assert(nw_corner_is_upper(plan->axis, opposite) == nw_corner_is_upper(plan->axis, part));
    ck_assert(nw_corner_is_upper(plan->axis, beside) != nw_corner_is_upper(plan->axis, part));
}

START_TEST(test_corners_lie_where_their_vertex_is) {
    for (int axis = 0; axis < AXES; axis++)
        for (int parity = 0; parity < 2; parity++) {
            NwBoardPlan plan = plan_of(axis, parity);
            each_part(&plan, check_vertex);
        }
}
END_TEST

START_TEST(test_fit_fills_the_room) {
    for (int axis = 0; axis < AXES; axis++) {
        NwBoardPlan plan = plan_of(axis, 0);
        NwBoardPoint rooms[3] = {{500, 2000}, {5000, 200}, {700, 700}};
        for (int i = 0; i < 3; i++) {
            plan.side = nw_board_fit(&plan, rooms[i], 1000);
            /* Rounding must not cost a layer of the row. */
            plan.abreast = nw_board_abreast(&plan, rooms[i].x + 1e-6);
            NwBoardPoint size = nw_board_size(&plan);
            ck_assert(size.x <= rooms[i].x + 1e-6 && size.y <= rooms[i].y + 1e-6);
            ck_assert(size.x >= rooms[i].x - 1e-6 || size.y >= rooms[i].y - 1e-6);
            /* With no number abreast do they go in much larger. */
            plan.side *= 1.01 * NW_BOARD_WORTH;
            for (plan.abreast = 1; plan.abreast <= 5; plan.abreast++) {
                size = nw_board_size(&plan);
                ck_assert(size.x > rooms[i].x || size.y > rooms[i].y);
            }
        }
        ck_assert_double_eq(nw_board_fit(&plan, (NwBoardPoint){1, 1}, 1000), 0);
        ck_assert_double_eq(nw_board_fit(&plan, rooms[1], 7), 7);
        plan.box.high = plan.box.low;
        ck_assert_double_eq(nw_board_fit(&plan, rooms[0], 1000), 0);
    }
}
END_TEST

static void check_cursor(const NwBoardPlan *plan, NwPart part) {
    NwBoardCursor cursor = nw_board_cursor_at(plan, part);
    ck_assert(same(nw_board_cursor_part(plan, cursor), part));
    for (int cells = 0; cells < 2; cells++) {
        NwBoardCursor far = nw_board_cursor_moved(plan, cursor, 99, 99, 99, cells);
        NwPart end = nw_board_cursor_part(plan, far);
        NwVec last = nw_vec_sub(plan->box.high, nw_vec(1, 1, 1));
        ck_assert(nw_vec_equal(end.cell, last));
        far = nw_board_cursor_moved(plan, cursor, -99, -99, -99, cells);
        end = nw_board_cursor_part(plan, far);
        ck_assert(nw_vec_equal(end.cell, plan->box.low));
    }
    /* By cells: one to the right, in the same place of the square. */
    NwBoardCursor next = nw_board_cursor_moved(plan, cursor, 1, 0, 0, true);
    NwPart beside = nw_board_cursor_part(plan, next);
    NwVec wanted = part.cell;
    int across = nw_axis_across(plan->axis), column = nw_vec_get(wanted, across);
    bool at_end = column + 1 == nw_vec_get(plan->box.high, across);
    nw_vec_set(&wanted, across, at_end ? column : column + 1);
    ck_assert(nw_vec_equal(beside.cell, wanted));
    ck_assert_int_eq(beside.bit == 0, part.bit == 0);
    if (part.bit != 0)
        ck_assert_int_eq(nw_corner_quarter(plan->axis, beside),
                         nw_corner_quarter(plan->axis, part));
}

START_TEST(test_cursor) {
    for (int axis = 0; axis < AXES; axis++)
        for (int parity = 0; parity < 2; parity++) {
            NwBoardPlan plan = plan_of(axis, parity);
            each_part(&plan, check_cursor);
        }
}
END_TEST

/* Right along the northern corners, down through cores: every place of a layer is passed. */
START_TEST(test_cursor_reaches_everything) {
    NwBoardPlan plan = plan_of(2, 0);
    NwPart first = {plan.box.low, 0};
    int seen[30][NW_PARTS] = {{0}};
    NwBoardCursor start = nw_board_cursor_at(&plan, first);
    start = nw_board_cursor_moved(&plan, start, -99, -99, -99, false);
    for (int layer = 0; layer < 2; layer++)
        for (int line = 0; line < 9; line++) {
            NwBoardCursor cursor = nw_board_cursor_moved(&plan, start, 0, line, layer, false);
            for (int i = 0; i < 10; i++) {
                NwPart part = nw_board_cursor_part(&plan, cursor);
                NwVec d = nw_vec_sub(part.cell, plan.box.low);
                seen[d.x + 5 * d.y + 15 * d.z][part.bit]++;
                cursor = nw_board_cursor_moved(&plan, cursor, 1, 0, 0, false);
            }
        }
    for (int i = 0; i < 30; i++)
        for (int bit = 0; bit < NW_PARTS; bit++)
            ck_assert_int_gt(seen[i][bit], 0);
    /* A core remembers the side it was entered from. */
    NwBoardCursor east = nw_board_cursor_moved(&plan, start, 1, 0, 0, false);
    NwPart there = nw_board_cursor_part(&plan, east);
    ck_assert_int_eq(nw_corner_quarter(2, there), NW_SOUTH_EAST);
    there = nw_board_cursor_part(&plan, nw_board_cursor_moved(&plan, east, 0, 1, 0, false));
    ck_assert_int_eq(there.bit, 0);
    there = nw_board_cursor_part(&plan, nw_board_cursor_moved(&plan, east, 0, 2, 0, false));
    ck_assert_int_eq(nw_corner_quarter(2, there), NW_NORTH_EAST);
}
END_TEST

static uint64_t chance;

/* A number from 0 to below - 1; the same ones in every run. */
static int draw(int below) {
    return (int)(nw_mix(++chance) % (uint64_t)below);
}

static NwSolid *draw_solid(int cells) {
    NwSolid *solid = nw_solid_new();
    for (int i = 0; i < cells; i++) {
        int x = draw(5) - 1, y = draw(4) - 2, z = draw(4);
        nw_solid_add(solid, nw_vec(x, y, z), 1 + draw(NW_WHOLE));
    }
    return solid;
}

/* The map says of every part what nw_design_owner says, also for overlapping pieces, for those that
 * stick out, and for copies that an assembly places elsewhere. */
START_TEST(test_owner_map) {
    int shared = 0;
    for (int round = 0; round < 40; round++) {
        NwDesign *design = nw_design_new("drawn");
        nw_solid_free(design->envelope);
        design->envelope = draw_solid(30);
        for (int p = 0; p < 4; p++)
            nw_design_take_piece(design, "piece", draw_solid(p * 4));
        design->pieces[1].copies = 2;
        NwPlacement placed[] = {{0, {0, {0, 0, 0}}},
                                {1, {draw(NW_ROTATIONS), {1, 0, -1}}},
                                {1, {draw(NW_ROTATIONS), {0, 2, 0}}},
                                {2, {0, {2, 0, 0}}},
                                {3, {0, {0, 0, 0}}}};
        if (round & 1)
            nw_design_set_intended(design, placed, 5);
        NwOwnerMap *map = nw_owner_map_new(design);
        NwBodies bodies;
        ck_assert_int_eq(nw_bodies_of(design, &bodies), NW_OK);
        int outside = 0, owned = 0;
        for (int i = 0; i < 7 * 6 * 6 * NW_PARTS; i++) {
            int at = i / NW_PARTS;
            NwPart part = {nw_vec(at % 7 - 2, at / 7 % 6 - 3, at / 42 - 1), i % NW_PARTS};
            int wanted = nw_solid_has(design->envelope, part) ? nw_design_owner(design, part, NULL)
                                                              : NW_OWNER_OUTSIDE;
            ck_assert_int_eq(nw_owner_map_get(map, part), wanted);
            int holders = 0;
            for (size_t b = 0; b < bodies.count; b++)
                holders += nw_solid_has(bodies.solids[b], part);
            ck_assert_int_eq(nw_owner_map_is_shared(map, part), wanted >= 0 && holders > 1);
            shared += holders > 1;
            outside += wanted == NW_OWNER_OUTSIDE;
            owned += wanted >= 0;
        }
        ck_assert(outside > 0 && owned > 0);
        nw_bodies_clear(&bodies);
        nw_owner_map_free(map);
        nw_design_free(design);
    }
    ck_assert_int_gt(shared, 0);
}
END_TEST

int main(void) {
    TCase *tcase = tcase_create("board");
    tcase_add_test(tcase, test_centre_hits_its_part);
    tcase_add_test(tcase, test_squares_are_tiled);
    tcase_add_test(tcase, test_squares_are_apart);
    tcase_add_test(tcase, test_misses);
    tcase_add_test(tcase, test_corners_lie_where_their_vertex_is);
    tcase_add_test(tcase, test_fit_fills_the_room);
    tcase_add_test(tcase, test_cursor);
    tcase_add_test(tcase, test_cursor_reaches_everything);
    tcase_add_test(tcase, test_owner_map);
    Suite *suite = suite_create("board");
    suite_add_tcase(suite, tcase);
    return run_suite(suite);
}
