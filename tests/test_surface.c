/* Surfaces: closed, exact, and with the published counts and angles of the named solids. */
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "base/bits.h"
#include "lattice/connect.h"
#include "lattice/edge.h"
#include "lattice/named.h"
#include "suite.h"

static uint64_t chance;

/* A number from 0 to below - 1; the same ones in every run. */
static int draw(int below) {
    return (int)(nw_mix(++chance) % (uint64_t)below);
}

static NwSolid *draw_solid(int width, int cells, bool whole) {
    NwSolid *solid = nw_solid_new();
    for (int i = 0; i < cells; i++) {
        int x = draw(width) - 1, y = draw(width) - 1, z = draw(width) - 1;
        nw_solid_add(solid, nw_vec(x, y, z), whole ? NW_WHOLE : 1 + draw(NW_WHOLE));
    }
    return solid;
}

static NwSurface *surface_of(const char *name, int size) {
    const NwNamedSolid *row = nw_named_solid_find(name);
    NwSolid *solid;
    ck_assert_int_eq(nw_named_solid_build(row, (const int[3]){size, size, size}, &solid), NW_OK);
    NwSurface *surface = nw_surface_new(solid);
    ck_assert_int_eq(nw_surface_volume6(surface), nw_solid_volume6(solid));
    nw_solid_free(solid);
    return surface;
}

static size_t distinct_ends(const NwEdge *edges, size_t count) {
    NwVec *seen = calloc(2 * count + 1, sizeof *seen);
    size_t found = 0;
    for (size_t i = 0; i < 2 * count; i++) {
        NwVec end = i & 1 ? edges[i / 2].to : edges[i / 2].from;
        size_t k = 0;
        while (k < found && !nw_vec_equal(seen[k], end))
            k++;
        if (k == found)
            seen[found++] = end;
    }
    free(seen);
    return found;
}

/* A directed step of a rim, packed so that its reverse is found by sorting. */
typedef struct Step {
    NwVec from, to;
} Step;

static int compare_steps(const void *a, const void *b) {
    const Step *p = a, *q = b;
    int order = nw_vec_compare(p->from, q->from);
    return order ? order : nw_vec_compare(p->to, q->to);
}

static int compare_reversed(const void *a, const void *b) {
    const Step *p = a, *q = b;
    int order = nw_vec_compare(p->to, q->to);
    return order ? order : nw_vec_compare(p->from, q->from);
}

/* Checks each polygon by itself, and that all directed steps cancel. */
static void check_closed(const NwSurface *surface) {
    static Step steps[60000], reversed[60000];
    size_t count = 0;
    for (size_t i = 0; i < surface->count; i++) {
        const NwPolygon *polygon = &surface->polygons[i];
        ck_assert_uint_ge(polygon->count, 1);
        for (size_t k = 0; k < polygon->count; k++) {
            const NwLoop *loop = &polygon->loops[k];
            long area2 = nw_loop_area2(loop, polygon->normal);
            ck_assert_msg(k ? area2 < 0 : area2 > 0, "hole and outer loop change places");
            for (size_t at = 0; at < loop->count; at++) {
                NwVec from = loop->vertices[at], to = loop->vertices[(at + 1) % loop->count],
                      after = loop->vertices[(at + 2) % loop->count];
                NwVec along = nw_vec_sub(to, from), next = nw_vec_sub(after, to);
                NwVec bend = nw_vec_cross(along, next);
                ck_assert_int_eq(nw_vec_dot(polygon->normal, from), polygon->offset);
                ck_assert_msg(!nw_vec_equal(bend, nw_vec(0, 0, 0)), "a straight vertex is left");
                ck_assert_int_ge(nw_vec_compare(from, loop->vertices[0]), 0);
                for (size_t other = 0; other < at; other++)
                    ck_assert_msg(!nw_vec_equal(from, loop->vertices[other]), "loop not simple");
                int length = abs(along.x) > abs(along.y) ? abs(along.x) : abs(along.y);
                length = length > abs(along.z) ? length : abs(along.z);
                NwVec unit = nw_vec(along.x / length, along.y / length, along.z / length);
                ck_assert(nw_vec_equal(nw_vec_scale(unit, length), along));
                for (; length; length--, from = nw_vec_add(from, unit)) {
                    ck_assert_uint_lt(count, sizeof steps / sizeof steps[0]);
                    steps[count] = reversed[count] = (Step){from, nw_vec_add(from, unit)};
                    count++;
                }
            }
        }
    }
    qsort(steps, count, sizeof(Step), compare_steps);
    qsort(reversed, count, sizeof(Step), compare_reversed);
    for (size_t i = 0; i < count; i++) {
        ck_assert(nw_vec_equal(steps[i].from, reversed[i].to));
        ck_assert(nw_vec_equal(steps[i].to, reversed[i].from));
    }
}

/* Every face of a part that has no part of the solid across it has area2 = 1. */
static long seen_triangles(const NwSolid *solid) {
    long seen = 0;
    for (size_t i = 0; i < solid->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++)
            for (int face = 0; face < 4; face++) {
                NwPart part = {nw_cell_at(&solid->cells[i]), bit};
                if (nw_solid_has(solid, part))
                    seen += !nw_solid_has(solid, nw_part_across(part, face));
            }
    return seen;
}

static void check_solid(const NwSolid *solid) {
    NwSurface *surface = nw_surface_new(solid);
    check_closed(surface);
    ck_assert_int_eq(nw_surface_volume6(surface), nw_solid_volume6(solid));
    long area2 = 0;
    for (size_t i = 0; i < surface->count; i++) {
        ck_assert_int_gt(nw_polygon_area2(&surface->polygons[i]), 0);
        area2 += nw_polygon_area2(&surface->polygons[i]);
    }
    ck_assert_int_eq(area2, seen_triangles(solid));
    NwEdge *edges;
    size_t count = nw_surface_edges(surface, &edges);
    for (size_t i = 0; i < count; i++) {
        double degrees = nw_edge_degrees(&edges[i]);
        const NwPolygon *left = &surface->polygons[edges[i].left],
                        *right = &surface->polygons[edges[i].right];
        ck_assert(degrees > 30 && degrees < 330 && fabs(degrees - 180) > 30);
        ck_assert_int_eq(nw_vec_dot(left->normal, edges[i].from), left->offset);
        ck_assert_int_eq(nw_vec_dot(left->normal, edges[i].to), left->offset);
        ck_assert_int_eq(nw_vec_dot(right->normal, edges[i].from), right->offset);
        ck_assert_int_eq(nw_vec_dot(right->normal, edges[i].to), right->offset);
    }
    free(edges);
    nw_surface_free(surface);
}

/* V, E and F: Coxeter, Regular Polytopes (from memory). The stella's surface is its 24 small
 * triangles. Angles: OEIS A137914/A137915 (tetrahedron), A156546 (octahedron); the others are
 * elementary: Cromwell's and Coxeter's tables (from memory). Each solid has one angle at its
 * convex edges, given by its exact cosine -dot / sqrt(norms2), but for the truncated ones. */
START_TEST(named_solids_have_their_faces_and_angles) {
    static const struct {
        const char *name;
        int step;
        size_t vertices, edges, faces;
        int dot, norms2; /* 9: both faces oblique; 3: one; 1: none */
        double degrees;
        size_t convex; /* how many edges have that angle */
    } cases[] = {
        {"tetrahedron", 1, 4, 6, 4, -1, 3 * 3, 70.528779365509, 6},
        {"octahedron", 1, 6, 12, 8, 1, 3 * 3, 109.471220634491, 12},
        {"cuboctahedron", 1, 12, 24, 14, 1, 3, 125.264389682755, 24},
        {"stella-octangula", 2, 14, 36, 24, -1, 3 * 3, 70.528779365509, 24},
        {"cube", 1, 8, 12, 6, 0, 1, 90, 12},
        {"truncated-tetrahedron", 1, 12, 18, 8, -1, 3 * 3, 70.528779365509, 6},
        {"truncated-octahedron", 1, 24, 36, 14, 1, 3, 125.264389682755, 24},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        for (int times = 1; times <= 3; times++) {
            NwSurface *surface = surface_of(cases[i].name, times * cases[i].step);
            NwEdge *edges;
            size_t count = nw_surface_edges(surface, &edges);
            size_t vertices = distinct_ends(edges, count), of_this_angle = 0;
            ck_assert_msg(vertices == cases[i].vertices, "%s: V = %zu", cases[i].name, vertices);
            ck_assert_msg(count == cases[i].edges, "%s: E = %zu", cases[i].name, count);
            ck_assert_msg(surface->count == cases[i].faces, "%s: F = %zu", cases[i].name,
                          surface->count);
            ck_assert_uint_eq(vertices + surface->count, count + 2);
            for (size_t k = 0; k < count; k++) {
                if (edges[k].dot != cases[i].dot || edges[k].norms2 != cases[i].norms2 ||
                    edges[k].reflex)
                    continue;
                ck_assert_double_eq_tol(nw_edge_degrees(&edges[k]), cases[i].degrees, 1e-11);
                of_this_angle++;
            }
            ck_assert_uint_eq(of_this_angle, cases[i].convex);
            check_closed(surface);
            free(edges);
            nw_surface_free(surface);
        }
}
END_TEST

/* The stella's twelve grooves: 360 degrees less the octahedron's angle (A156546). */
START_TEST(grooves_are_reflex) {
    NwSurface *surface = surface_of("stella-octangula", 2);
    NwEdge *edges;
    size_t count = nw_surface_edges(surface, &edges), grooves = 0;
    for (size_t k = 0; k < count; k++)
        if (edges[k].reflex) {
            ck_assert_double_eq_tol(nw_edge_degrees(&edges[k]), 360 - 109.471220634491, 1e-11);
            grooves++;
        }
    ck_assert_uint_eq(grooves, 12);
    free(edges);
    nw_surface_free(surface);
}
END_TEST

/* The angle between a cube face and an oblique one, in a single corner: OEIS A195696. */
START_TEST(corner_has_the_cube_axis_angle) {
    NwSolid *solid = nw_solid_new();
    nw_solid_add(solid, nw_vec(0, 0, 0), 2);
    NwSurface *surface = nw_surface_new(solid);
    NwEdge *edges;
    size_t count = nw_surface_edges(surface, &edges), oblique = 0;
    ck_assert_uint_eq(count, 6);
    for (size_t k = 0; k < count; k++) {
        oblique += edges[k].norms2 == 3;
        double degrees = edges[k].norms2 == 3 ? 54.735610317245 : 90;
        ck_assert_double_eq_tol(nw_edge_degrees(&edges[k]), degrees, 1e-11);
    }
    ck_assert_uint_eq(oblique, 3);
    free(edges);
    nw_surface_free(surface);
    nw_solid_free(solid);
}
END_TEST

START_TEST(random_solids_are_closed_and_hold_their_volume) {
    for (int round = 0; round < 600; round++) {
        NwSolid *solid = draw_solid(2 + round % 3, 1 + draw(40), round % 4 == 0);
        check_solid(solid);
        nw_solid_free(solid);
    }
}
END_TEST

/* A layer of cells drawn as text: '#' is a cell. */
static NwSolid *layer(const char *const *rows, int count) {
    NwSolid *solid = nw_solid_new();
    for (int y = 0; y < count; y++)
        for (int x = 0; rows[y][x]; x++)
            if (rows[y][x] == '#')
                nw_solid_add(solid, nw_vec(x, y, 0), NW_WHOLE);
    return solid;
}

/* What a layer's surface must have: polygons and loops on top, and in the whole its edges, of which
 * some are grooves. */
static void check_layer(const char *const *rows, int count, size_t polygons, size_t loops,
                        size_t edges_expected, size_t grooves_expected) {
    NwSolid *solid = layer(rows, count);
    check_solid(solid);
    NwSurface *surface = nw_surface_new(solid);
    size_t tops = 0, top_loops = 0;
    for (size_t i = 0; i < surface->count; i++)
        if (surface->polygons[i].normal.z == 1) {
            tops++;
            top_loops += surface->polygons[i].count;
        }
    NwEdge *edges;
    size_t found = nw_surface_edges(surface, &edges);
    ck_assert_uint_eq(tops, polygons);
    ck_assert_uint_eq(top_loops, loops);
    ck_assert_uint_eq(found, edges_expected);
    size_t grooves = 0;
    for (size_t i = 0; i < found; i++) {
        ck_assert_double_eq_tol(nw_edge_degrees(&edges[i]), edges[i].reflex ? 270 : 90, 1e-11);
        grooves += edges[i].reflex;
    }
    ck_assert_uint_eq(grooves, grooves_expected);
    free(edges);
    nw_surface_free(surface);
    nw_solid_free(solid);
}

START_TEST(holes_and_touching_loops_are_kept_apart) {
    static const char *const ring[] = {"###", "#.#", "###"};
    static const char *const two_holes[] = {"####", "#.##", "##.#", "####"};
    static const char *const hole_at_rim[] = {".##", "#.#", "###"};
    static const char *const by_a_vertex[] = {"#.", ".#"};
    static const char *const nested[] = {"#####", "#...#", "#.#.#", "#...#", "#####"};
    /* A loop of n sides gives 3n edges: above, below and upright. Where two loops touch, four
     * walls meet in an upright line; they pair into two convex edges, so none is lost, and there
     * is no groove. */
    check_layer(ring, 3, 1, 2, 3 * (4 + 4), 4);
    check_layer(two_holes, 4, 1, 3, 3 * (4 + 4 + 4), 3 + 3);
    check_layer(hole_at_rim, 3, 1, 2, 3 * (6 + 4), 3);
    check_layer(by_a_vertex, 2, 2, 2, 3 * (4 + 4), 0);
    check_layer(nested, 5, 2, 3, 3 * (4 + 4 + 4), 4);
}
END_TEST

/* A hole that touches the outer loop at the least vertex of both, (0,0,0): there the top has two
 * triangles with a gap between, all of 45 degrees. In all turns, so that it comes in every plane.
 */
START_TEST(hole_may_touch_at_the_least_vertex) {
    NwSolid *solid = nw_solid_new();
    static const NwVec whole[] = {{1, -1, -1}, {1, 0, -1}, {1, 1, -1}, {0, 1, -1}};
    for (size_t i = 0; i < sizeof whole / sizeof whole[0]; i++)
        nw_solid_add(solid, whole[i], NW_WHOLE);
    nw_solid_add(solid, nw_vec(0, -1, -1), 1 << nw_part_bit(0, 1 + 2 + 4));
    nw_solid_add(solid, nw_vec(0, 0, -1), 1 << nw_part_bit(1, 2 + 4));
    for (NwTurn turn = 0; turn < NW_TURNS; turn++) {
        NwSolid *turned;
        NwMotion motion = {turn, {0, 0, 0}};
        ck_assert_int_eq(nw_solid_moved(solid, motion, &turned), NW_OK);
        check_solid(turned);
        NwSurface *surface = nw_surface_new(turned);
        NwVec top = nw_turn_vec(turn, nw_vec(0, 0, 1));
        size_t tops = 0;
        for (size_t i = 0; i < surface->count; i++) {
            const NwPolygon *polygon = &surface->polygons[i];
            if (!nw_vec_equal(polygon->normal, top) || polygon->offset != 0)
                continue;
            tops++;
            ck_assert_uint_eq(polygon->count, 2);
            ck_assert_uint_eq(polygon->loops[1].count, 3);
        }
        ck_assert_uint_eq(tops, 1);
        nw_surface_free(surface);
        nw_solid_free(turned);
    }
    nw_solid_free(solid);
}
END_TEST

/* A frame is a torus: V - E + F, less one for each hole in a face, is 0. */
START_TEST(frame_has_the_torus_characteristic) {
    static const char *const ring[] = {"###", "#.#", "###"};
    NwSolid *solid = layer(ring, 3);
    NwSurface *surface = nw_surface_new(solid);
    NwEdge *edges;
    size_t count = nw_surface_edges(surface, &edges), holes = 0;
    for (size_t i = 0; i < surface->count; i++)
        holes += surface->polygons[i].count - 1;
    ck_assert_uint_eq(holes, 2);
    ck_assert_uint_eq(distinct_ends(edges, count) + surface->count, count + holes);
    free(edges);
    nw_surface_free(surface);
    nw_solid_free(solid);
}
END_TEST

START_TEST(order_depends_on_the_solid_alone) {
    NwSolid *solid = draw_solid(4, 30, false), *rebuilt = nw_solid_new();
    for (size_t i = solid->count; i--;)
        nw_solid_add(rebuilt, nw_cell_at(&solid->cells[i]), solid->cells[i].mask);
    NwSurface *a = nw_surface_new(solid), *b = nw_surface_new(rebuilt);
    ck_assert_uint_eq(a->count, b->count);
    for (size_t i = 0; i < a->count; i++) {
        ck_assert_uint_eq(a->polygons[i].count, b->polygons[i].count);
        for (size_t k = 0; k < a->polygons[i].count; k++) {
            const NwLoop *p = &a->polygons[i].loops[k], *q = &b->polygons[i].loops[k];
            ck_assert_uint_eq(p->count, q->count);
            for (size_t at = 0; at < p->count; at++)
                ck_assert(nw_vec_equal(p->vertices[at], q->vertices[at]));
        }
        if (i) {
            const NwPolygon *last = &a->polygons[i - 1], *now = &a->polygons[i];
            int order = nw_vec_compare(last->normal, now->normal);
            ck_assert(order < 0 || (order == 0 && last->offset <= now->offset));
        }
    }
    nw_surface_free(a);
    nw_surface_free(b);
    nw_solid_free(solid);
    nw_solid_free(rebuilt);
}
END_TEST

START_TEST(empty_solid_has_no_surface) {
    NwSolid *solid = nw_solid_new();
    NwSurface *surface = nw_surface_new(solid);
    NwEdge *edges;
    ck_assert_uint_eq(surface->count, 0);
    ck_assert_uint_eq(nw_surface_edges(surface, &edges), 0);
    ck_assert_int_eq(nw_surface_volume6(surface), 0);
    free(edges);
    nw_surface_free(surface);
    nw_solid_free(solid);
}
END_TEST

int main(void) {
    const TTest *tests[] = {
        named_solids_have_their_faces_and_angles,
        grooves_are_reflex,
        corner_has_the_cube_axis_angle,
        random_solids_are_closed_and_hold_their_volume,
        holes_and_touching_loops_are_kept_apart,
        hole_may_touch_at_the_least_vertex,
        frame_has_the_torus_characteristic,
        order_depends_on_the_solid_alone,
        empty_solid_has_no_surface,
    };
    Suite *suite = suite_create("surface");
    TCase *all = tcase_create("surface");
    tcase_set_timeout(all, 60);
    for (size_t i = 0; i < sizeof tests / sizeof tests[0]; i++)
        tcase_add_test(all, tests[i]);
    suite_add_tcase(suite, all);
    return run_suite(suite);
}
