/* What the viewport draws, without drawing: cameras, picking, meshes, the order of groups, where
 * bodies stand on a way out, and colours. */
#include <cglm/cglm.h>
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "job/search.h"
#include "lattice/connect.h"
#include "lattice/named.h"
#include "lattice/overlap.h"
#include "plain/random_design.h"
#include "sticks.h"
#include "suite.h"
#include "view/order.h"
#include "view/pose.h"
#include "view/shadow.h"
#include "view/viewpoint.h"

static NwRandom chance = {20};

static int below(int bound) {
    return nw_random_below(&chance, bound);
}

/* From low to high, in steps of a thousandth of that. */
static double between(double low, double high) {
    return low + (high - low) * below(1001) / 1000;
}

static NwCamera random_camera(void) {
    NwCamera camera = nw_camera_home();
    NwVec up = nw_vec(below(3) - 1, below(3) - 1, below(3) - 1);
    if (up.x || up.y || up.z)
        nw_camera_stand(&camera, up);
    camera.yaw = between(-3.1, 3.1);
    camera.pitch = between(-1.5, 1.5);
    camera.distance = between(4, 40);
    camera.parallel = below(2);
    for (int k = 0; k < 3; k++)
        camera.target[k] = between(-5, 5);
    for (int k = 0; k < 2; k++)
        camera.aside[k] = between(-0.4, 0.4);
    return camera;
}

static NwSolid *named(const char *name, int size) {
    NwSolid *solid;
    ck_assert_int_eq(
        nw_named_solid_build(nw_named_solid_find(name), (const int[3]){size, size, size}, &solid),
        NW_OK);
    return solid;
}

/* ---- cameras ----------------------------------------------------------------------------- */

START_TEST(a_ray_through_a_pixel_is_seen_at_that_pixel) {
    for (int i = 0; i < 500; i++) {
        NwCamera camera = random_camera();
        double x = between(0, 640), y = between(0, 480), away = between(0.5, 60), p[3], seen[2];
        NwRay ray = nw_camera_ray(&camera, x, y, 640, 480);
        for (int k = 0; k < 3; k++)
            p[k] = ray.origin[k] + away * ray.way[k];
        ck_assert(nw_camera_pixel(&camera, p, 640, 480, seen));
        ck_assert_double_eq_tol(seen[0], x, 1e-6);
        ck_assert_double_eq_tol(seen[1], y, 1e-6);
    }
}
END_TEST

START_TEST(the_matrix_agrees_with_the_pixel) {
    for (int i = 0; i < 500; i++) {
        NwCamera camera = random_camera();
        double middle[3], p[3], seen[2];
        for (int k = 0; k < 3; k++) {
            middle[k] = camera.target[k];
            p[k] = camera.target[k] + between(-1, 1);
        }
        mat4 clip;
        nw_camera_matrix(&camera, 640.0 / 480, middle, 2, clip);
        vec4 at = {(float)p[0], (float)p[1], (float)p[2], 1}, to;
        glm_mat4_mulv(clip, at, to);
        ck_assert(nw_camera_pixel(&camera, p, 640, 480, seen));
        ck_assert_double_eq_tol((to[0] / to[3] + 1) * 320, seen[0], 0.02);
        ck_assert_double_eq_tol((1 - to[1] / to[3]) * 240, seen[1], 0.02);
        ck_assert(to[2] / to[3] > -1 && to[2] / to[3] < 1);
    }
}
END_TEST

/* How much of the picture's half the points reach, at most, across and upwards. */
static void extent(const NwCamera *camera, const double (*points)[3], size_t count, double low[2],
                   double high[2]) {
    for (size_t i = 0; i < count; i++) {
        double seen[2];
        ck_assert(nw_camera_pixel(camera, points[i], 500, 400, seen));
        for (int k = 0; k < 2; k++) {
            low[k] = i ? fmin(low[k], seen[k]) : seen[k];
            high[k] = i ? fmax(high[k], seen[k]) : seen[k];
        }
    }
}

START_TEST(fitting_brings_everything_into_view) {
    for (int i = 0; i < 300; i++) {
        NwCamera camera = random_camera();
        double points[12][3], low[2], high[2];
        for (int p = 0; p < 12; p++)
            for (int k = 0; k < 3; k++)
                points[p][k] = between(-7, 9) * (k + 1);
        nw_camera_fit(&camera, (const double(*)[3])points, 12, 1.25, 0.1);
        extent(&camera, (const double(*)[3])points, 12, low, high);
        ck_assert(low[0] > 49.99 && low[1] > 39.99 && high[0] < 450.01 && high[1] < 360.01);
        nw_camera_fit_tight(&camera, (const double(*)[3])points, 12, 1.25, 0.1);
        extent(&camera, (const double(*)[3])points, 12, low, high);
        ck_assert(low[0] > 49.99 && low[1] > 39.99 && high[0] < 450.01 && high[1] < 360.01);
        bool wide = low[0] < 50.01 && high[0] > 449.99, tall = low[1] < 40.01 && high[1] > 359.99;
        ck_assert(wide || tall);
    }
}
END_TEST

START_TEST(fitting_leaves_what_is_covered) {
    for (int i = 0; i < 300; i++) {
        NwCamera camera = random_camera();
        double points[12][3], low[2], high[2], seen[2];
        for (int p = 0; p < 12; p++)
            for (int k = 0; k < 3; k++)
                points[p][k] = between(-7, 9) * (k + 1);
        NwCameraRoom room = {500,           400, between(0, 90), between(0, 90), between(0, 90),
                             between(0, 90)};
        nw_camera_fit_room(&camera, (const double(*)[3])points, 12, &room, 0);
        extent(&camera, (const double(*)[3])points, 12, low, high);
        ck_assert(low[0] > room.left - 0.01 && high[0] < 500 - room.right + 0.01);
        ck_assert(low[1] > room.top - 0.01 && high[1] < 400 - room.bottom + 0.01);
        ck_assert(nw_camera_pixel(&camera, camera.target, 500, 400, seen));
        ck_assert_double_eq_tol(seen[0], (500 + room.left - room.right) / 2, 1e-6);
        ck_assert_double_eq_tol(seen[1], (400 + room.top - room.bottom) / 2, 1e-6);
    }
}
END_TEST

/* What is drawn stays as it is; what comes next turns about that depth. */
START_TEST(deepening_changes_no_pixel) {
    int deepened = 0;
    for (int i = 0; i < 300; i++) {
        NwCamera camera = random_camera(), before = camera;
        double to[3], p[3], seen[2], then[2], depth = 0;
        for (int k = 0; k < 3; k++) {
            to[k] = between(-6, 6);
            p[k] = between(-6, 6);
        }
        nw_camera_deepen(&camera, to);
        if (!nw_camera_pixel(&before, p, 500, 400, seen))
            continue;
        ck_assert(nw_camera_pixel(&camera, p, 500, 400, then));
        ck_assert_double_eq_tol(seen[0], then[0], 1e-6);
        ck_assert_double_eq_tol(seen[1], then[1], 1e-6);
        NwCameraAxes axes = nw_camera_axes(&camera);
        for (int k = 0; k < 3; k++)
            depth += (camera.target[k] - to[k]) * axes.back[k];
        deepened += fabs(depth) < 1e-9;
        ck_assert(fabs(depth) < 1e-9 || before.distance < 20);
    }
    ck_assert_int_gt(deepened, 200);
}
END_TEST

/* Fingers that turn clockwise turn what they see clockwise, from above and from below. */
START_TEST(spinning_goes_with_the_fingers) {
    for (int i = 0; i < 200; i++) {
        NwCamera camera = nw_camera_home();
        camera.pitch = between(0.2, 1.5) * (below(2) ? 1 : -1);
        camera.yaw = between(-3, 3);
        camera.parallel = true;
        double angle = between(0, 6.2), before[2], after[2];
        const double point[3] = {cos(angle), sin(angle), 0};
        ck_assert(nw_camera_pixel(&camera, point, 500, 400, before));
        nw_camera_spin(&camera, 0.01);
        ck_assert(nw_camera_pixel(&camera, point, 500, 400, after));
        double x = before[0] - 250, y = before[1] - 200;
        /* Rows go down, so to go clockwise is to gain in this angle. */
        ck_assert(x * (after[1] - 200) - y * (after[0] - 250) > 0);
    }
}
END_TEST

START_TEST(zooming_keeps_what_lies_under_the_pixel) {
    for (int i = 0; i < 200; i++) {
        NwCamera camera = random_camera();
        double x = between(0, 640), y = between(0, 480), p[3], seen[2];
        NwCameraAxes axes = nw_camera_axes(&camera);
        NwRay ray = nw_camera_ray(&camera, x, y, 640, 480);
        double down = 0, far = 0; /* to the plane of the target */
        for (int k = 0; k < 3; k++) {
            down -= ray.way[k] * axes.back[k];
            far += (ray.origin[k] - camera.target[k]) * axes.back[k];
        }
        for (int k = 0; k < 3; k++)
            p[k] = ray.origin[k] + far / down * ray.way[k];
        nw_camera_zoom(&camera, between(0.5, 2), x, y, 640, 480);
        ck_assert(nw_camera_pixel(&camera, p, 640, 480, seen));
        ck_assert_double_eq_tol(seen[0], x, 1e-6);
        ck_assert_double_eq_tol(seen[1], y, 1e-6);
    }
}
END_TEST

START_TEST(named_views_look_where_they_say) {
    static const struct {
        const char *name;
        double back[3], up_z;
    } views[] = {
        {"+x", {1, 0, 0}, 1},      {"-x", {-1, 0, 0}, 1},    {"+y", {0, 1, 0}, 1},
        {"-y", {0, -1, 0}, 1},     {"+z", {0, 0, 1}, 0},     {"-z", {0, 0, -1}, 0},
        {"+x-y+z", {1, -1, 1}, 2}, {"-y-z", {0, -1, -1}, 2}, {"−x", {-1, 0, 0}, 1},
        {"+x−y+z", {1, -1, 1}, 2},
    };
    for (size_t i = 0; i < sizeof views / sizeof views[0]; i++) {
        NwCamera camera = random_camera();
        ck_assert(nw_viewpoint_set(&camera, views[i].name));
        NwCameraAxes axes = nw_camera_axes(&camera);
        double length = 0;
        for (int k = 0; k < 3; k++)
            length += views[i].back[k] * views[i].back[k];
        for (int k = 0; k < 3; k++)
            ck_assert_double_eq_tol(axes.back[k], views[i].back[k] / sqrt(length), 1e-9);
        if (views[i].up_z < 2)
            ck_assert_double_eq_tol(axes.up[2], views[i].up_z, 1e-9);
        else
            ck_assert(axes.up[2] > 0.1);
    }
    NwCamera camera = nw_camera_home();
    ck_assert(nw_viewpoint_set(&camera, "on+x+y+z"));
    for (int k = 0; k < 3; k++)
        ck_assert_double_eq_tol(camera.frame[2][k], 1 / sqrt(3), 1e-9);
    ck_assert(nw_viewpoint_set(&camera, "edge"));
    ck_assert_double_eq_tol(camera.frame[2][0], 0, 1e-9);
    ck_assert_double_eq_tol(camera.frame[2][1], sqrt(0.5), 1e-9);
    static const char *const wrong[] = {"",   "x",     "+w",  "+x+x", "+z+x",
                                        "on", "front", "+x ", "−",    "+−x"};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++)
        ck_assert_msg(!nw_viewpoint_set(&camera, wrong[i]), "%s", wrong[i]);
}
END_TEST

/* ---- picking ----------------------------------------------------------------------------- */

/* A fraction, denominator above 0. */
typedef struct Fraction {
    __extension__ __int128 over, under;
} Fraction;

static bool is_less(Fraction a, Fraction b) {
    return a.over * b.under < b.over * a.under;
}

/* All parts one by one, in fractions. The tiny shift of pick.h is made real: origins are quarters
 * of a cell and ways are small, so 2^-14, 2^-26 and 2^-38 of a cell are small enough to act as e,
 * e^2 and e^3 do. Returns whether the part is met, where, and through which face. */
static bool meets(NwPart part, const int quarters[3], const int way[3], Fraction *enter,
                  int *entered) {
    Fraction leave = {1, 0};
    *enter = (Fraction){-1, 0};
    *entered = -1;
    for (int face = 0; face < 4; face++) {
        NwVec t[3];
        nw_part_face(part, face, t);
        NwVec n = nw_vec_cross(nw_vec_sub(t[1], t[0]), nw_vec_sub(t[2], t[0]));
        int slope = n.x * way[0] + n.y * way[1] + n.z * way[2];
        __extension__ __int128 far = (__extension__(__int128) nw_vec_dot(n, t[0])) * (1L << 40);
        for (int k = 0; k < 3; k++)
            far -= nw_vec_get(n, k) * (quarters[k] * (1L << 38) + (1L << (26 - 12 * k)));
        if (slope == 0 && far < 0)
            return false;
        if (slope > 0 && is_less((Fraction){far, slope}, leave))
            leave = (Fraction){far, slope};
        if (slope < 0 && is_less(*enter, (Fraction){-far, -slope})) {
            *enter = (Fraction){-far, -slope};
            *entered = face;
        }
    }
    return is_less(*enter, leave) && is_less((Fraction){0, 1}, leave);
}

static bool plain_pick(const NwSolid *solid, const int quarters[3], const int way[3],
                       NwPick *pick) {
    Fraction nearest = {1, 0};
    for (size_t i = 0; i < solid->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++) {
            NwPart part = {nw_cell_at(&solid->cells[i]), bit};
            Fraction enter;
            int face;
            if (!(solid->cells[i].mask >> bit & 1) || !meets(part, quarters, way, &enter, &face))
                continue;
            if (enter.over < 0) {
                enter = (Fraction){0, 1};
                face = -1;
            }
            if (!is_less(enter, nearest))
                continue;
            nearest = enter;
            *pick = (NwPick){.part = part, .face = face};
        }
    pick->distance = (double)nearest.over / (double)nearest.under / ldexp(1, 40);
    return nearest.under != 0;
}

/* Rays of quarters, many of them along planes of the lattice, through its edges and vertices. */
START_TEST(picking_is_as_trying_every_part) {
    int hits = 0, insides = 0, level = 0;
    for (int i = 0; i < 400; i++) {
        NwSolid *solid = nw_random_solid(&chance, 1 + below(40), below(4) == 0);
        NwBounds bounds = nw_solid_bounds(solid);
        for (int r = 0; r < 50; r++) {
            int quarters[3], way[3];
            NwRay ray;
            for (int k = 0; k < 3; k++) {
                int low = nw_vec_get(bounds.low, k), high = nw_vec_get(bounds.high, k);
                quarters[k] = 4 * low + below(4 * (high - low) + 1);
                way[k] = below(9) - 4;
            }
            way[below(3)] = below(2) ? 4 : -4; /* the largest: exact after rounding too */
            for (int k = 0; k < 3; k++) {
                ray.origin[k] = quarters[k] / 4.0;
                ray.way[k] = way[k];
            }
            NwPick pick, plain = {0};
            bool hit = nw_pick_solid(&ray, solid, NULL, &pick);
            ck_assert_int_eq(hit, plain_pick(solid, quarters, way, &plain));
            if (!hit)
                continue;
            ck_assert(nw_vec_equal(pick.part.cell, plain.part.cell));
            ck_assert_int_eq(pick.part.bit, plain.part.bit);
            ck_assert_int_eq(pick.face, plain.face);
            ck_assert_double_eq_tol(pick.distance, plain.distance, 1e-3); /* e was made real */
            hits++;
            insides += pick.face < 0;
            level += !way[0] || !way[1] || !way[2];
            if (pick.face >= 0) {
                NwPart across = nw_part_across(pick.part, pick.face);
                ck_assert(nw_vec_equal(across.cell, pick.neighbour.cell));
                ck_assert_int_eq(across.bit, pick.neighbour.bit);
                ck_assert(!nw_solid_has(solid, pick.neighbour));
            }
        }
        nw_solid_free(solid);
    }
    ck_assert_int_gt(hits - insides, 2000);
    ck_assert_int_gt(insides, 2000);
    ck_assert_int_gt(level, 1000);
}
END_TEST

/* From afar, at any angle: the middle of what a pixel's ray is said to hit first is really hit, and
 * nothing is hit before it. */
START_TEST(picking_from_afar_finds_the_nearest_face) {
    int hits = 0;
    for (int i = 0; i < 2000; i++) {
        NwSolid *solid = nw_random_solid(&chance, 1 + below(40), false);
        NwCamera camera = random_camera();
        camera.aside[0] = camera.aside[1] = 0;
        double offset[3], nearest = INFINITY;
        NwRay ray = nw_camera_ray(&camera, between(200, 440), between(150, 330), 640, 480);
        for (int k = 0; k < 3; k++)
            offset[k] = between(-2, 2);
        for (size_t c = 0; c < solid->count; c++)
            for (int bit = 0; bit < NW_PARTS; bit++) {
                double enter = 0, leave = INFINITY;
                if (!(solid->cells[c].mask >> bit & 1))
                    continue;
                for (int face = 0; face < 4; face++) {
                    NwVec t[3];
                    nw_part_face((NwPart){nw_cell_at(&solid->cells[c]), bit}, face, t);
                    NwVec n = nw_vec_cross(nw_vec_sub(t[1], t[0]), nw_vec_sub(t[2], t[0]));
                    double slope = 0, far = nw_vec_dot(n, t[0]);
                    for (int k = 0; k < 3; k++) {
                        slope += nw_vec_get(n, k) * ray.way[k];
                        far -= nw_vec_get(n, k) * (ray.origin[k] - offset[k]);
                    }
                    if (slope > 0)
                        leave = fmin(leave, far / slope);
                    else
                        enter = fmax(enter, far / slope);
                }
                if (enter + 1e-4 < leave)
                    nearest = fmin(nearest, enter);
            }
        NwPick pick;
        bool hit = nw_pick_solid(&ray, solid, offset, &pick);
        if (nearest < INFINITY) {
            ck_assert(hit);
            ck_assert(pick.distance < nearest + 1e-4);
            ck_assert(nw_solid_has(solid, pick.part));
            hits++;
        }
        nw_solid_free(solid);
    }
    ck_assert_int_gt(hits, 50);
}
END_TEST

START_TEST(a_section_hides_parts_from_view_and_pointer) {
    NwScene *scene = nw_scene_new();
    NwSolid *box = named("cube", 4);
    nw_scene_add(scene, box, nw_palette_piece(0), 0);
    NwRay ray = {{1.3, 1.6, 20}, {0, 0, -1}};
    NwScenePick pick;
    ck_assert(nw_scene_pick(scene, &ray, &pick));
    ck_assert_double_eq_tol(pick.pick.distance, 16, 1e-5);
    nw_scene_set_section(scene, &(NwPlane){{0, 0, 1}, 2});
    ck_assert(nw_scene_pick(scene, &ray, &pick));
    ck_assert_double_eq_tol(pick.pick.distance, 18, 1e-5);
    ck_assert_uint_eq(scene->bodies[0].mesh->edge_count, 12); /* the cut is closed */
    nw_scene_move(scene, 0, (double[3]){0, 0, 0.25});
    ck_assert(nw_scene_pick(scene, &ray, &pick));
    ck_assert_double_eq_tol(pick.pick.distance, 17.75, 1e-5);
    nw_scene_paint(scene, 0, nw_palette_piece(0), NW_BODY_GHOST);
    ck_assert(!nw_scene_pick(scene, &ray, &pick));
    nw_solid_free(box);
    nw_scene_free(scene);
}
END_TEST

/* ---- meshes ------------------------------------------------------------------------------ */

/* Counts of edges: the textbook ones; of the stella octangula as 24 triangles, 24 + 12. */
static const struct {
    const char *name;
    size_t edges;
} edge_counts[] = {
    {"tetrahedron", 6},
    {"octahedron", 12},
    {"cube", 12},
    {"cuboctahedron", 24},
    {"truncated-tetrahedron", 18},
    {"truncated-octahedron", 36},
    {"stella-octangula", 36},
};

static double edge_length(NwVec from, NwVec to) {
    NwVec way = nw_vec_sub(to, from);
    return sqrt(nw_vec_dot(way, way));
}

/* The length of all sides of triangles that carry ink. */
static double inked_length(const NwMesh *mesh) {
    double sum = 0;
    for (size_t t = 0; t < mesh->triangle_count; t++)
        for (int side = 0; side < 3; side++) {
            const NwMeshVertex *a = &mesh->vertices[3 * t + (size_t)side];
            const NwMeshVertex *b = &mesh->vertices[3 * t + (size_t)((side + 1) % 3)];
            const NwMeshVertex *c = &mesh->vertices[3 * t + (size_t)((side + 2) % 3)];
            if (a->rim[side] == NW_MESH_FAR)
                continue;
            ck_assert(a->rim[side] == 0 && b->rim[side] == 0 && c->rim[side] > 0.5f);
            sum += sqrt(pow(a->at[0] - b->at[0], 2) + pow(a->at[1] - b->at[1], 2) +
                        pow(a->at[2] - b->at[2], 2));
        }
    return sum;
}

static void check_mesh(const NwSolid *solid) {
    NwMesh *mesh = nw_mesh_new(solid);
    double length = 0, area = 0, surface_area = 0;
    for (size_t i = 0; i < mesh->edge_count; i++)
        length += edge_length(mesh->edges[i].from, mesh->edges[i].to);
    ck_assert_double_eq_tol(inked_length(mesh), 2 * length, 1e-3 * length);
    NwSurface *surface = nw_surface_new(solid);
    for (size_t i = 0; i < surface->count; i++) {
        NwVec n = surface->polygons[i].normal;
        surface_area += nw_polygon_area2(&surface->polygons[i]) * sqrt(nw_vec_dot(n, n)) / 2;
    }
    nw_surface_free(surface);
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        const signed char *n = mesh->vertices[3 * t].normal;
        /* Each is half a cell's face, or an equilateral triangle on its diagonals. */
        area += n[0] && n[1] && n[2] ? sqrt(3) / 2 : 0.5;
    }
    ck_assert_double_eq_tol(area, surface_area, 1e-6);
    size_t triangles = 0;
    for (size_t g = 0; g < mesh->group_count; g++) {
        ck_assert_uint_eq(mesh->groups[g].first, triangles);
        triangles += mesh->groups[g].count;
    }
    ck_assert_uint_eq(triangles, mesh->triangle_count);
    nw_mesh_free(mesh);
}

START_TEST(meshes_have_the_edges_of_their_solids) {
    for (size_t i = 0; i < sizeof edge_counts / sizeof edge_counts[0]; i++)
        for (int size = 2; size <= 4; size += 2) {
            NwSolid *solid = named(edge_counts[i].name, size);
            NwMesh *mesh = nw_mesh_new(solid);
            ck_assert_uint_eq(mesh->edge_count, edge_counts[i].edges);
            nw_mesh_free(mesh);
            check_mesh(solid);
            nw_solid_free(solid);
        }
    for (int i = 0; i < 200; i++) {
        NwSolid *solid = nw_random_solid(&chance, 1 + below(50), below(3) == 0);
        check_mesh(solid);
        nw_solid_free(solid);
    }
}
END_TEST

/* ---- the order of drawing ---------------------------------------------------------------- */

/* Where the ray is inside a group: convex, and bounded by its extents along the axes. */
static bool pass(const NwSceneBody *body, const NwMeshGroup *group, const NwRay *ray, double *enter,
                 double *leave) {
    *enter = 0;
    *leave = INFINITY;
    for (int a = 0; a < NW_MESH_AXES; a++) {
        NwVec n = nw_mesh_axis(a);
        double from = 0, slope = 0;
        for (int k = 0; k < 3; k++) {
            from += nw_vec_get(n, k) * (ray->origin[k] - (double)body->offset[k]);
            slope += nw_vec_get(n, k) * ray->way[k];
        }
        double s = (group->low[a] - from) / slope, t = (group->high[a] - from) / slope;
        *enter = fmax(*enter, fmin(s, t));
        *leave = fmin(*leave, fmax(s, t));
    }
    return *enter + 1e-3 < *leave;
}

/* Sends rays near the groups and counts pairs of groups that hide each other, which must be in
 * order. */
static int check_order(NwOrder *order, const NwScene *scene, const NwCamera *camera, int rays) {
    size_t count;
    int pairs = 0;
    const NwOrderItem *items = nw_order_sort(order, scene, camera, false, &count);
    for (int r = 0; r < rays; r++) {
        const NwOrderItem *aim = &items[below((int)count)];
        double point[3], pixel[2], last_enter = INFINITY, enter, leave;
        for (int k = 0; k < 3; k++)
            point[k] = scene->bodies[aim->body].mesh->groups[aim->group].centre[k] +
                       scene->bodies[aim->body].offset[k] + between(-0.4, 0.4);
        ck_assert(nw_camera_pixel(camera, point, 640, 480, pixel));
        NwRay ray = nw_camera_ray(camera, pixel[0], pixel[1], 640, 480);
        for (size_t i = 0; i < count; i++) {
            const NwSceneBody *body = &scene->bodies[items[i].body];
            if (!pass(body, &body->mesh->groups[items[i].group], &ray, &enter, &leave))
                continue;
            ck_assert_msg(leave <= last_enter + 2e-3, "drawn too late: %f %f", leave, last_enter);
            pairs += last_enter < INFINITY;
            last_enter = enter;
        }
    }
    return pairs;
}

static void fit_scene(NwCamera *camera, const NwScene *scene) {
    double(*points)[3];
    size_t count = nw_scene_points(scene, &points);
    nw_camera_fit_tight(camera, (const double(*)[3])points, count, 640.0 / 480, 0);
    free(points);
}

START_TEST(of_two_displaced_parts_the_nearer_comes_later) {
    NwOrder *order = nw_order_new();
    int pairs = 0;
    for (int i = 0; i < 4000; i++) {
        NwScene *scene = nw_scene_new();
        NwSolid *solids[2];
        NwVec eighths = nw_vec(below(33) - 16, below(33) - 16, below(33) - 16);
        for (int b = 0; b < 2; b++) {
            solids[b] = nw_solid_new();
            int mask = below(3) ? 1 << below(NW_PARTS) : NW_CORE | below(NW_WHOLE + 1);
            nw_solid_add(solids[b], nw_vec(0, 0, b), mask);
            nw_scene_add(scene, solids[b], nw_palette_piece(b), 0);
        }
        if (!nw_overlap_solids(solids[1], solids[0], eighths, 8)) {
            NwCamera camera = random_camera();
            nw_scene_move(scene, 0, (double[3]){eighths.x / 8.0, eighths.y / 8.0, eighths.z / 8.0});
            fit_scene(&camera, scene);
            camera.distance *= between(1, 1.5);
            pairs += check_order(order, scene, &camera, 40);
        }
        nw_solid_free(solids[0]);
        nw_solid_free(solids[1]);
        nw_scene_free(scene);
    }
    ck_assert_int_gt(pairs, 3000);
    nw_order_free(order);
}
END_TEST

START_TEST(an_assembly_is_in_order_for_every_ray) {
    NwOrder *order = nw_order_new();
    int pairs = 0;
    for (int i = 0; i < 60; i++) {
        NwSolid *box = named(i % 2 ? "truncated-octahedron" : "cube", i % 2 ? 1 : 3);
        NwSolid *pieces[6];
        NwScene *scene = nw_scene_new();
        size_t count = nw_random_divide(&chance, box, false, pieces, 6);
        for (size_t p = 0; p < count; p++) {
            nw_scene_add(scene, pieces[p], nw_palette_piece((int)p), 0);
            nw_solid_free(pieces[p]);
        }
        NwCamera camera = random_camera();
        fit_scene(&camera, scene);
        pairs += check_order(order, scene, &camera, 100);
        nw_scene_free(scene);
        nw_solid_free(box);
    }
    ck_assert_int_gt(pairs, 10000);
    nw_order_free(order);
}
END_TEST

/* ---- ways out ---------------------------------------------------------------------------- */

/* The first finding that opens of a six-stick design (level 5.4 by its name, see test_plain.c). */
static NwFoundAssembly *find_way(const NwDesign *design) {
    NwSearchOptions options = {.threads = 1};
    NwSearch *search = nw_search_new(design, &options, NULL, NULL);
    NwSearchProgress progress;
    NwFoundAssembly *way = NULL;
    ck_assert_ptr_nonnull(search);
    nw_search_start(search);
    do {
        GPtrArray *batch = nw_search_take(search, 50);
        nw_search_progress(search, &progress);
        for (guint i = 0; i < batch->len; i++) {
            NwFoundAssembly *finding = batch->pdata[i];
            if (finding->verdict == NW_OPENS && !way) {
                way = finding;
                batch->pdata[i] = NULL;
            }
        }
        g_ptr_array_unref(batch);
    } while (progress.state != NW_SEARCH_COMPLETE && !way);
    nw_search_free(search);
    ck_assert_ptr_nonnull(way);
    return way;
}

static NwVec quarters_between(const NwPosedScene *show, int a, int b, double position) {
    double p[3], q[3];
    nw_posed_scene_offset(show, a, position, 0, p);
    nw_posed_scene_offset(show, b, position, 0, q);
    return nw_vec((int)lrint(4 * (p[0] - q[0])), (int)lrint(4 * (p[1] - q[1])),
                  (int)lrint(4 * (p[2] - q[2])));
}

START_TEST(a_way_out_is_drawn_without_overlap_to_the_end) {
    static const int sticks[][NW_STICKS] = {{412, 480, 512, 704, 704, 960},
                                            {88, 512, 768, 922, 1008, 1008}};
    NwDesign *design = nw_sticks_design(sticks[_i], 6);
    NwFoundAssembly *finding = find_way(design);
    NwPosedScene *show = nw_posed_scene_new(design, finding);
    ck_assert_ptr_nonnull(show);
    ck_assert_int_eq(show->slide_count, finding->slide_count);
    for (int b = 0; b < show->body_count; b++) {
        double offset[3];
        nw_posed_scene_offset(show, b, 0, 0, offset);
        ck_assert(offset[0] == 0 && offset[1] == 0 && offset[2] == 0);
    }
    for (int step = 0; step <= 4 * show->slide_count; step++)
        for (int a = 0; a < show->body_count; a++)
            for (int b = 0; b < a; b++)
                ck_assert(!nw_overlap_solids(show->solids[b], show->solids[a],
                                             quarters_between(show, a, b, step / 4.0), 4));
    for (int a = 0; a < show->body_count; a++) /* at the end the boxes are apart */
        for (int b = 0; b < a; b++) {
            NwBounds p = nw_solid_bounds(show->solids[a]), q = nw_solid_bounds(show->solids[b]);
            NwVec d = quarters_between(show, a, b, show->slide_count);
            bool apart = false;
            for (int k = 0; k < 3; k++)
                apart = apart ||
                        4 * nw_vec_get(p.low, k) + nw_vec_get(d, k) >= 4 * nw_vec_get(q.high, k) ||
                        4 * nw_vec_get(p.high, k) + nw_vec_get(d, k) <= 4 * nw_vec_get(q.low, k);
            ck_assert(apart);
        }
    ck_assert_uint_eq(nw_posed_scene_moving(show, 0.5), finding->slides[0].bodies);
    ck_assert_uint_eq(nw_posed_scene_moving(show, show->slide_count), 0);
    nw_posed_scene_free(show);
    nw_found_assembly_free(finding);
    nw_design_free(design);
}
END_TEST

START_TEST(a_sketch_shows_the_intended_assembly_and_the_rest) {
    for (uint64_t seed = 1; seed <= 60; seed++) {
        NwDesign *design = nw_random_design(seed);
        NwPosedScene *show = nw_posed_scene_sketch(design);
        ck_assert_ptr_nonnull(show);
        NwScene *scene = nw_scene_new();
        nw_posed_scene_fill(show, scene, false);
        ck_assert_uint_eq(scene->body_count,
                          design->intended_count ? design->intended_count : design->piece_count);
        nw_posed_scene_add_rest(show, design, scene);
        long shown = 0;
        for (size_t i = 0; i < scene->body_count; i++)
            shown += nw_solid_volume6(scene->bodies[i].shown);
        if (design->intended_count)
            ck_assert_int_eq(shown, nw_solid_volume6(design->envelope));
        nw_scene_free(scene);
        nw_posed_scene_free(show);
        nw_design_free(design);
    }
}
END_TEST

/* ---- shadows ----------------------------------------------------------------------------- */

static double darkness(const NwShadow *shadow) {
    double sum = 0;
    for (int i = 0; i < NW_SHADOW_SIDE * NW_SHADOW_SIDE; i++)
        sum += shadow->grey[i] / 255.0;
    double side = shadow->across[0] / NW_SHADOW_SIDE;
    return sum * side * side;
}

/* The shadow of a cube of 4 under slanting light: its square, drawn out by the light's lean of 0.28
 * and 0.22 of its height: 4 * 4 + 4 * 4 * (0.28 + 0.22) cells. Blurring keeps the sum. */
START_TEST(a_cube_casts_the_shadow_of_its_size) {
    NwScene *scene = nw_scene_new();
    NwSolid *cube = named("cube", 4);
    NwShadow *shadow = malloc(sizeof *shadow);
    ck_assert(!nw_shadow_cast(scene, shadow));
    nw_scene_add(scene, cube, nw_palette_piece(0), 0);
    ck_assert(nw_shadow_cast(scene, shadow));
    ck_assert_double_eq_tol(darkness(shadow), 24, 1);
    ck_assert_double_eq_tol(shadow->corner[2], 0, 0.05);
    for (int i = 0; i < NW_SHADOW_SIDE; i++) /* nothing is cut off at the picture's sides */
        ck_assert(!shadow->grey[i] && !shadow->grey[i * NW_SHADOW_SIDE] &&
                  !shadow->grey[NW_SHADOW_SIDE * NW_SHADOW_SIDE - 1 - i]);
    scene->has_floor = true;
    scene->floor = -3;
    ck_assert(nw_shadow_cast(scene, shadow));
    ck_assert_double_eq_tol(shadow->corner[2], -3, 0.05);
    ck_assert_double_eq_tol(darkness(shadow), 24, 1);
    nw_scene_paint(scene, 0, nw_palette_piece(0), NW_BODY_GHOST);
    ck_assert(!nw_shadow_cast(scene, shadow));
    free(shadow);
    nw_solid_free(cube);
    nw_scene_free(scene);
}
END_TEST

/* ---- colours ----------------------------------------------------------------------------- */

START_TEST(colours_stay_apart_for_all_kinds_of_sight) {
    for (int a = 0; a < NW_PALETTE_COLOURS; a++) {
        for (int b = 0; b < a; b++)
            ck_assert_double_gt(nw_palette_distance(nw_palette_piece(a), nw_palette_piece(b)), 16);
        for (int dark = 0; dark < 2; dark++)
            ck_assert_double_gt(
                nw_palette_distance(nw_palette_piece(a), nw_palette_paper(dark)->ground), 16);
    }
    NwColour c;
    ck_assert(nw_palette_parse("#Ff8000", &c) && c.r == 1 && c.b == 0);
    ck_assert(!nw_palette_parse("", &c) && !nw_palette_parse("#ff80", &c) &&
              !nw_palette_parse("#ff80001", &c) && !nw_palette_parse("#ff80g0", &c));
}
END_TEST

int main(void) {
    Suite *suite = suite_create("view");
    TCase *all = tcase_create("view");
    tcase_set_timeout(all, 120);
    tcase_add_test(all, a_ray_through_a_pixel_is_seen_at_that_pixel);
    tcase_add_test(all, the_matrix_agrees_with_the_pixel);
    tcase_add_test(all, fitting_brings_everything_into_view);
    tcase_add_test(all, fitting_leaves_what_is_covered);
    tcase_add_test(all, deepening_changes_no_pixel);
    tcase_add_test(all, spinning_goes_with_the_fingers);
    tcase_add_test(all, zooming_keeps_what_lies_under_the_pixel);
    tcase_add_test(all, named_views_look_where_they_say);
    tcase_add_test(all, picking_is_as_trying_every_part);
    tcase_add_test(all, picking_from_afar_finds_the_nearest_face);
    tcase_add_test(all, a_section_hides_parts_from_view_and_pointer);
    tcase_add_test(all, meshes_have_the_edges_of_their_solids);
    tcase_add_test(all, of_two_displaced_parts_the_nearer_comes_later);
    tcase_add_test(all, an_assembly_is_in_order_for_every_ray);
    tcase_add_loop_test(all, a_way_out_is_drawn_without_overlap_to_the_end, 0, 2);
    tcase_add_test(all, a_sketch_shows_the_intended_assembly_and_the_rest);
    tcase_add_test(all, a_cube_casts_the_shadow_of_its_size);
    tcase_add_test(all, colours_stay_apart_for_all_kinds_of_sight);
    suite_add_tcase(suite, all);
    return run_suite(suite);
}
