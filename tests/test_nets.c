/* Nets: exact flat points against real ones, every net refolded to the piece, overlaps found in
 * none by a method that the search does not use, and the printed page measured.
 * The first argument is the folder of the bundled designs. */
#include <cairo.h>
#include <check.h>
#include <gio/gio.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "make/card/net_pages.h"
#include "make/card/tiles.h"
#include "make/card/unfold.h"
#include "make/pack.h"
#include "make/plot_write.h"
#include "make_fixture.h"
#include "plain/random_design.h"
#include "suite.h"

static const char *design_folder;

static double real(NwRoot3 a) {
    return (double)a.p + (double)a.q * sqrt(3);
}

START_TEST(flat_points_turn_and_compare) {
    NwRandom random = {11};
    int wrong = 0;
    for (int i = 0; i < 20000; i++) {
        NwRoot3 a = {nw_random_below(&random, 2001) - 1000, nw_random_below(&random, 2001) - 1000};
        wrong += nw_root3_sign(a) != (real(a) > 0) - (real(a) < 0);
    }
    ck_assert_int_eq(wrong, 0);
    ck_assert_int_eq(nw_root3_sign((NwRoot3){26, -15}), 1); /* 26 - 15 sqrt(3) = 0.019 */
    ck_assert_int_eq(nw_root3_sign((NwRoot3){97, -56}), 1); /* 97 - 56 sqrt(3) = 0.005 */
    ck_assert_int_eq(nw_root3_sign((NwRoot3){-97, 56}), -1);
    /* a b, c d: any point of the kind that exact_plane.h describes */
    for (int i = 0; i < 1000; i++) {
        long v[4];
        for (int k = 0; k < 4; k++)
            v[k] = nw_random_below(&random, 41) - 20;
        NwExactPoint p = nw_exact_point(2 * v[0] + v[2], v[1], v[1] + 2 * v[3], v[2]), turned = p;
        for (int twelfth = 1; twelfth <= 12; twelfth++) {
            NwExactPoint before = turned;
            turned = nw_exact_point_turned(turned, 1);
            double c = cos(acos(-1) / 6), s = 0.5;
            wrong += fabs(real(turned.x) - (c * real(before.x) - s * real(before.y))) > 1e-9;
            wrong += fabs(real(turned.y) - (s * real(before.x) + c * real(before.y))) > 1e-9;
        }
        wrong += !nw_exact_point_equal(turned, p);
    }
    ck_assert_int_eq(wrong, 0);
}
END_TEST

/* In flat units squared lengths are 8 times those of cells, and so are areas. */
static void check_faces(const NwPieceFaces *faces) {
    for (size_t f = 0; f < faces->count; f++) {
        const NwFace *face = &faces->faces[f];
        const NwPolygon *polygon = &faces->surface->polygons[f];
        NwRoot3 twice = {0, 0}, rim = {0, 0};
        long wanted = 8 * nw_polygon_area2(polygon);
        bool sound = true;
        for (size_t t = 0; t < face->tile_count; t++)
            for (size_t k = 1; k + 1 < face->tiles[t].count; k++) {
                const NwExactPoint *c = face->tiles[t].corners;
                NwRoot3 area = nw_exact_point_cross(nw_exact_point_sub(c[k], c[0]),
                                                    nw_exact_point_sub(c[k + 1], c[0]));
                sound = sound && nw_root3_sign(area) == 1;
                twice = nw_root3_add(twice, area);
            }
        for (size_t k = 0; k < face->ring_count; k++)
            for (size_t i = 0; i < face->rings[k].count; i++) {
                const NwSide *side = &face->rings[k].sides[i];
                NwVec along =
                    nw_vec_sub(faces->edges[side->edge].to, faces->edges[side->edge].from);
                NwExactPoint flat = nw_exact_point_sub(side->to, side->from);
                NwRoot3 length2 = nw_exact_point_dot(flat, flat);
                sound = sound && length2.p == 8 * nw_vec_dot(along, along) && length2.q == 0;
                rim = nw_root3_add(rim, nw_exact_point_cross(side->from, side->to));
                sound = sound &&
                        nw_exact_point_equal(
                            side->to, face->rings[k].sides[(i + 1) % face->rings[k].count].from);
            }
        ck_assert(sound);
        ck_assert_int_eq(twice.p, face->slanted ? 0 : wanted);
        ck_assert_int_eq(twice.q, face->slanted ? wanted : 0);
        ck_assert(rim.p == twice.p && rim.q == twice.q);
    }
}

/* ---- folding it up again ------------------------------------------------------------------ */

/* A line of the net with its two ends in space, and the face to one side of it. */
typedef struct Hinge {
    NwExactPoint a, b;
    NwVec a3, b3;
    NwVec normal;
} Hinge;

/* A point of the net in space, from the hinge's place alone: s along it and t to its left, where
 * the left of it in space is normal x (b - a) over the normal's length. All in whole numbers. */
static NwVec in_space(const Hinge *hinge, NwExactPoint point) {
    NwExactPoint along = nw_exact_point_sub(hinge->b, hinge->a),
                 d = nw_exact_point_sub(point, hinge->a);
    NwRoot3 length2 = nw_exact_point_dot(along, along), s = nw_exact_point_dot(along, d);
    NwRoot3 t = nw_exact_point_cross(along, d);
    bool slanted = nw_vec_dot(hinge->normal, hinge->normal) == 3;
    bool whole = length2.q == 0 && s.q == 0 && (slanted ? t.p : t.q) == 0;
    long left = slanted ? t.q : t.p;
    NwVec e = nw_vec_sub(hinge->b3, hinge->a3), across = nw_vec_cross(hinge->normal, e), p;
    for (int axis = 0; axis < 3; axis++) {
        long sum = s.p * nw_vec_get(e, axis) + left * nw_vec_get(across, axis);
        whole = whole && sum % length2.p == 0;
        nw_vec_set(&p, axis, nw_vec_get(hinge->a3, axis) + (int)(sum / length2.p));
    }
    if (!whole)
        ck_abort_msg("a corner does not come to a vertex");
    return p;
}

/* The normal of the face beyond a fold: the one of 14 that the fold's angle allows. */
static NwVec folded_normal(NwVec normal, NwVec along, const NwEdge *edge) {
    NwVec found = {0, 0, 0};
    int count = 0;
    for (int code = 0; code < 27; code++) {
        NwVec m = nw_vec(code % 3 - 1, code / 3 % 3 - 1, code / 9 - 1);
        int norm = nw_vec_dot(m, m);
        if ((norm != 1 && norm != 3) || nw_vec_dot(m, along) != 0 ||
            nw_vec_dot(m, normal) != edge->dot ||
            norm * nw_vec_dot(normal, normal) != edge->norms2 ||
            (nw_vec_dot(nw_vec_cross(normal, along), m) > 0) != edge->reflex)
            continue;
        found = m;
        count++;
    }
    ck_assert_int_eq(count, 1);
    return found;
}

static const NwSide *side_of(const NwPieceFaces *faces, size_t face, size_t edge) {
    for (size_t k = 0; k < faces->faces[face].ring_count; k++)
        for (size_t i = 0; i < faces->faces[face].rings[k].count; i++)
            if (faces->faces[face].rings[k].sides[i].edge == edge)
                return &faces->faces[face].rings[k].sides[i];
    ck_abort_msg("an edge is not a side of its face");
}

/* Folds every net up, beginning with the true place of its first face: then every face must come to
 * the place that it has on the piece. */
static void check_refolded(const NwPieceFaces *faces, const NwNets *nets) {
    Hinge *hinges = nw_alloc(faces->count, sizeof *hinges);
    bool *seen = nw_alloc(faces->count, sizeof *seen);
    size_t firsts = 0;
    for (size_t at = 0; at < faces->count; at++) {
        size_t f = nets->order[at];
        ck_assert(!seen[f]);
        seen[f] = true;
        NwPose pose = nets->pose[f];
        bool home = true;
        if (nets->hinge[f] == NW_NO_EDGE) {
            const NwSide *side = &faces->faces[f].rings[0].sides[0];
            const NwEdge *edge = &faces->edges[side->edge];
            hinges[f] =
                (Hinge){nw_exact_point_posed(side->from, pose),
                        nw_exact_point_posed(side->to, pose), side->forward ? edge->from : edge->to,
                        side->forward ? edge->to : edge->from, faces->surface->polygons[f].normal};
            firsts++;
        } else {
            size_t parent = nets->parent[f];
            ck_assert(seen[parent] && nets->net[parent] == nets->net[f]);
            const NwSide *side = side_of(faces, parent, nets->hinge[f]);
            const NwSide *own = side_of(faces, f, nets->hinge[f]);
            Hinge h = {nw_exact_point_posed(side->from, nets->pose[parent]),
                       nw_exact_point_posed(side->to, nets->pose[parent]),
                       {0, 0, 0},
                       {0, 0, 0},
                       {0, 0, 0}};
            ck_assert(nw_exact_point_equal(nw_exact_point_posed(own->to, pose), h.a));
            ck_assert(nw_exact_point_equal(nw_exact_point_posed(own->from, pose), h.b));
            h.a3 = in_space(&hinges[parent], h.a);
            h.b3 = in_space(&hinges[parent], h.b);
            h.normal = folded_normal(hinges[parent].normal, nw_vec_sub(h.b3, h.a3),
                                     &faces->edges[nets->hinge[f]]);
            hinges[f] = h;
        }
        for (size_t k = 0; k < faces->faces[f].ring_count; k++)
            for (size_t i = 0; i < faces->faces[f].rings[k].count; i++) {
                const NwSide *side = &faces->faces[f].rings[k].sides[i];
                const NwEdge *edge = &faces->edges[side->edge];
                home = home &&
                       nw_vec_equal(in_space(&hinges[f], nw_exact_point_posed(side->from, pose)),
                                    side->forward ? edge->from : edge->to);
            }
        ck_assert_msg(home, "face %zu does not come to its place", f + 1);
        ck_assert(nw_vec_equal(hinges[f].normal, faces->surface->polygons[f].normal));
    }
    ck_assert_uint_eq(firsts, nets->count);
    ck_assert_uint_ge(nets->count, faces->shells);
    free(hinges);
    free(seen);
}

/* ---- overlaps ----------------------------------------------------------------------------- */

static NwRegion region_of(const NwNets *nets, size_t face, double cell_mm) {
    NwRegion region = {NULL, 0, 0};
    const NwRegion *own = &nets->insets[face].region;
    for (size_t k = 0; k < own->count; k++) {
        nw_region_begin(&region);
        for (size_t i = 0; i < own->loops[k].count; i++)
            nw_region_add(&region, nw_nets_point(nets, face, cell_mm, own->loops[k].points[i]));
    }
    return region;
}

/* Points drawn in each face, and those of a fine net of lines over it, are in no other face. The
 * search decides by separating lines; this by rays, at points. */
static void check_apart(const NwPieceFaces *faces, const NwNets *nets, double cell_mm) {
    NwRegion *regions = nw_alloc(faces->count, sizeof *regions);
    enum { GRID = 12 };
    for (size_t f = 0; f < faces->count; f++)
        regions[f] = region_of(nets, f, cell_mm);
    for (size_t f = 0; f < faces->count; f++) {
        NwBox box = nw_region_box(&regions[f]);
        int inside = 0;
        bool alone = true; /* asserted once: each assertion is a line in Check's log */
        for (int i = 0; i < GRID * GRID; i++) {
            NwPoint p = {box.low.x + (box.high.x - box.low.x) * (i % GRID + 0.507) / GRID,
                         box.low.y + (box.high.y - box.low.y) * (i / GRID + 0.493) / GRID};
            if (!nw_region_holds(&regions[f], p, 1e-4))
                continue;
            inside++;
            for (size_t g = 0; g < faces->count; g++)
                alone = alone && (g == f || nets->net[g] != nets->net[f] ||
                                  !nw_region_holds(&regions[g], p, 1e-4));
        }
        ck_assert(alone);
        ck_assert_int_gt(inside, 0);
    }
    for (size_t f = 0; f < faces->count; f++)
        nw_region_clear(&regions[f]);
    free(regions);
}

static NwStretch inset_side(const NwPieceFaces *faces, const NwNets *nets, size_t face,
                            size_t edge) {
    const NwFace *own = &faces->faces[face];
    for (size_t k = 0; k < own->ring_count; k++)
        for (size_t i = 0; i < own->rings[k].count; i++)
            if (own->rings[k].sides[i].edge == edge) {
                NwStretch side = nets->insets[face].sides[nets->insets[face].first[k] + i];
                return (NwStretch){nw_nets_point(nets, face, 20, side.from),
                                   nw_nets_point(nets, face, 20, side.to)};
            }
    ck_abort_msg("an edge is not a side of its face");
}

/* With the thickness taken off, both faces of a fold still meet in one line. */
static void check_folds_meet(const NwPieceFaces *faces, const NwNets *nets) {
    double most = 0;
    for (size_t f = 0; f < faces->count; f++) {
        if (nets->hinge[f] == NW_NO_EDGE)
            continue;
        NwStretch a = inset_side(faces, nets, f, nets->hinge[f]);
        NwStretch b = inset_side(faces, nets, nets->parent[f], nets->hinge[f]);
        NwPoint along = nw_point_sub(a.to, a.from);
        double length = nw_point_length(along);
        most = fmax(most, fabs(nw_point_cross(along, nw_point_sub(b.from, a.from))) / length);
        most = fmax(most, fabs(nw_point_cross(along, nw_point_sub(b.to, a.from))) / length);
    }
    ck_assert_double_lt(most, 1e-9);
}

static void check_solid(const NwSolid *solid, double inset_mm, unsigned long long effort) {
    NwPieceFaces *faces = nw_faces_new(solid);
    NwUnfoldOptions options = {.cell_mm = 20, .inset_mm = inset_mm, .effort = effort};
    size_t culprit;
    bool too_large;
    check_faces(faces);
    NwNets *nets = nw_unfold(faces, &options, &culprit, &too_large);
    ck_assert_ptr_nonnull(nets);
    check_refolded(faces, nets);
    check_apart(faces, nets, options.cell_mm);
    check_folds_meet(faces, nets);
    nw_nets_free(nets, faces);
    nw_faces_free(faces);
}

static void check_design(const NwDesign *design) {
    for (size_t i = 0; i < design->piece_count; i++) {
        check_solid(design->pieces[i].solid, 0, 50000);
        check_solid(design->pieces[i].solid, 0.3, 50000);
    }
}

START_TEST(nets_of_bundled_designs_fold_up) {
    nw_make_each_design(design_folder, check_design);
}
END_TEST

START_TEST(nets_of_random_solids_fold_up) {
    NwRandom random = {5};
    for (int i = 0; i < 120; i++) {
        NwSolid *solid = nw_random_solid(&random, 1 + i % 24, i % 3 == 0);
        check_solid(solid, i % 2 ? 0.25 : 0, 5000);
        nw_solid_free(solid);
    }
    for (uint64_t seed = 0; seed < 30; seed++) {
        NwDesign *design = nw_random_design(seed);
        for (size_t i = 0; i < design->piece_count; i++)
            check_solid(design->pieces[i].solid, 0.2, 5000);
        nw_design_free(design);
    }
}
END_TEST

/* A plate with a hole, a block with a hollow, one with a bowl: rings, two shells, grooves. */
START_TEST(holes_and_hollows) {
    NwSolid *plate = nw_solid_new(), *hollow = nw_solid_new();
    for (int i = 0; i < 27; i++) {
        NwVec at = nw_vec(i % 3, i / 3 % 3, i / 9);
        if (i != 13)
            nw_solid_add(hollow, at, NW_WHOLE);
        if (i < 9 && i != 4)
            nw_solid_add(plate, at, NW_WHOLE);
    }
    check_solid(plate, 0.3, 20000);
    check_solid(hollow, 0.3, 20000);
    NwPieceFaces *faces = nw_faces_new(hollow);
    ck_assert_uint_eq(faces->shells, 2);
    ck_assert_uint_eq(faces->count, 12);
    nw_faces_free(faces);
    nw_solid_add(hollow, nw_vec(1, 1, 1), 2); /* touches the walls of the hollow from within */
    check_solid(hollow, 0.3, 20000);
    nw_solid_free(plate);
    nw_solid_free(hollow);
}
END_TEST

/* Convex solids of the lattice have a net each; this is known of them. */
START_TEST(convex_solids_take_one_net) {
    static const char *const names[] = {
        "tetrahedron",           "octahedron",          "cube", "cuboctahedron",
        "truncated-tetrahedron", "truncated-octahedron"};
    for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
        NwDesign *design = nw_make_named(names[i], 1);
        NwPieceFaces *faces = nw_faces_new(design->pieces[0].solid);
        NwUnfoldOptions options = {.cell_mm = 20};
        size_t culprit;
        bool too_large;
        NwNets *nets = nw_unfold(faces, &options, &culprit, &too_large);
        ck_assert_uint_eq(nets->count, 1);
        check_refolded(faces, nets);
        nw_nets_free(nets, faces);
        nw_faces_free(faces);
        nw_design_free(design);
    }
}
END_TEST

/* Two tiles that share a side do not overlap; moved by a hair into each other they do. */
START_TEST(tiles_are_judged_exactly) {
    NwDesign *design = nw_make_named("octahedron", 1);
    NwPieceFaces *faces = nw_faces_new(design->pieces[0].solid);
    NwPosedTiles a = {0}, b = {0};
    unsigned long long effort = 0;
    size_t f = 0; /* a face that stands on the side from (0,0) to (4,0) */
    while (!nw_exact_point_equal(faces->faces[f].tiles[0].corners[1], nw_exact_point(4, 0, 0, 0)))
        ck_assert_uint_lt(++f, faces->count);
    nw_posed_tiles_set(&a, &faces->faces[f], (NwPose){0, {{0, 0}, {0, 0}}});
    /* 97 - 56 sqrt(3) is 0.005: turned by half, the triangle's mirror beyond a side, and a step */
    for (int step = -1; step <= 1; step++) {
        NwPose pose = {6, {{4, 0}, {97L * step, 56L * -step}}};
        nw_posed_tiles_set(&b, &faces->faces[f], pose);
        ck_assert_int_eq(nw_posed_tiles_overlap(&a, &b, &effort), step == 1);
    }
    nw_posed_tiles_clear(&a);
    nw_posed_tiles_clear(&b);
    nw_faces_free(faces);
    nw_design_free(design);
}
END_TEST

/* ---- thickness ---------------------------------------------------------------------------- */

/* The rule of inset.h on solids where it is known: a cube's face loses the inset at each side, a
 * regular octahedron moved in by a is the octahedron whose inscribed sphere is smaller by a. */
START_TEST(thickness_is_allowed_for) {
    NwDesign *cube = nw_make_named("cube", 2), *octahedron = nw_make_named("octahedron", 1);
    NwPieceFaces *faces = nw_faces_new(cube->pieces[0].solid);
    NwInset inset;
    ck_assert(nw_inset_make(faces, 0, 20, 0.4, &inset));
    ck_assert_double_eq_tol(nw_region_area(&inset.region), 39.2 * 39.2, 1e-9);
    nw_inset_clear(&inset);
    nw_faces_free(faces);
    faces = nw_faces_new(octahedron->pieces[0].solid);
    ck_assert(nw_inset_make(faces, 3, 20, 0.4, &inset));
    /* edge a, inscribed radius a / sqrt(6) */
    double edge = 20 * sqrt(2) - 0.4 * sqrt(6);
    ck_assert_double_eq_tol(nw_region_area(&inset.region), sqrt(3) / 4 * edge * edge, 1e-9);
    nw_inset_clear(&inset);
    ck_assert(!nw_inset_make(faces, 3, 20, 20 / sqrt(3), &inset)); /* as much as there is */
    ck_assert(nw_inset_make(faces, 3, 20, 20 / sqrt(3) - 0.01, &inset));
    nw_inset_clear(&inset);
    nw_faces_free(faces);
    nw_design_free(cube);
    nw_design_free(octahedron);
}
END_TEST

/* ---- pages -------------------------------------------------------------------------------- */

static const NwNetOptions plain_options = {.cell_mm = 20, .card_mm = 0.3, .tab_mm = 6};

static NwNetOptions options_on(const char *paper) {
    NwNetOptions options = plain_options;
    options.paper = nw_paper_size_find(paper);
    return options;
}

static size_t labels_like(NwPlot *const *plots, size_t count, const char *text, bool bold) {
    size_t found = 0;
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < plots[i]->label_count; k++)
            found +=
                strcmp(plots[i]->labels[k].text, text) == 0 && plots[i]->labels[k].bold == bold;
    return found;
}

static size_t labels_ending(NwPlot *const *plots, size_t count, const char *end) {
    size_t found = 0;
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < plots[i]->label_count; k++)
            found += g_str_has_suffix(plots[i]->labels[k].text, end);
    return found;
}

/* Each face's number once, each edge's letters twice, an angle on each fold, and all within the
 * plot. */
static void check_dressed(const NwDesign *design) {
    NwNetOptions options = options_on("A4");
    for (size_t i = 0; i < design->piece_count; i++) {
        const NwPiece *piece = &design->pieces[i];
        NwPieceFaces *faces = nw_faces_new(piece->solid);
        NwPieceNets *nets = nw_piece_nets_new(piece, &options, NULL);
        ck_assert_uint_eq(nets->faces, faces->count);
        for (size_t f = 1; f <= faces->count; f++) {
            char *number = g_strdup_printf("%d", (int)f);
            ck_assert_uint_eq(labels_like(nets->plots, nets->count, number, false), 1);
            g_free(number);
        }
        size_t folds = faces->count - nets->count;
        ck_assert_uint_eq(nets->tabs + nets->bare, faces->edge_count - folds);
        ck_assert_uint_eq(labels_ending(nets->plots, nets->count, "°"), folds);
        size_t cut = nets->tabs + nets->bare;
        bool within = true;
        for (size_t e = 0; e < cut; e++) {
            char letters[3] = {(char)('A' + e), 0, 0};
            if (e >= 26) {
                letters[0] = (char)('A' + e / 26 - 1);
                letters[1] = (char)('A' + e % 26);
            }
            size_t named = nets->count == 1 && strcmp(letters, piece->name) == 0;
            ck_assert_uint_eq(labels_like(nets->plots, nets->count, letters, true), 2 + named);
        }
        for (size_t n = 0; n < nets->count; n++)
            for (size_t s = 0; s < nets->plots[n]->stroke_count; s++)
                for (size_t k = 0; k < nets->plots[n]->strokes[s].count; k++) {
                    NwPoint p = nets->plots[n]->strokes[s].points[k];
                    within = within && p.x > -1e-6 && p.y > -1e-6 &&
                             p.x < nets->plots[n]->width_mm + 1e-6 &&
                             p.y < nets->plots[n]->height_mm + 1e-6;
                }
        ck_assert(within);
        nw_piece_nets_free(nets);
        nw_faces_free(faces);
    }
}

START_TEST(nets_are_dressed) {
    nw_make_each_design(design_folder, check_dressed);
}
END_TEST

START_TEST(packing_keeps_apart) {
    NwRandom random = {3};
    for (int round = 0; round < 60; round++) {
        NwPacked items[30];
        for (int i = 0; i < 30; i++)
            items[i] = (NwPacked){1 + nw_random_below(&random, 100),
                                  1 + nw_random_below(&random, 140), 99, 0, 0};
        size_t pages = nw_pack(items, 30, 100, 140, 4);
        ck_assert_uint_ge(pages, 1);
        for (int i = 0; i < 30; i++) {
            const NwPacked *a = &items[i];
            ck_assert(a->page < pages && a->x >= 0 && a->y >= 0);
            ck_assert(a->x + a->width <= 100 + 1e-6 && a->y + a->height <= 140 + 1e-6);
            for (int k = 0; k < i; k++) {
                const NwPacked *b = &items[k];
                ck_assert(a->page != b->page || a->x + a->width + 4 <= b->x + 1e-6 ||
                          b->x + b->width + 4 <= a->x + 1e-6 ||
                          a->y + a->height + 4 <= b->y + 1e-6 ||
                          b->y + b->height + 4 <= a->y + 1e-6);
            }
        }
    }
    NwPacked wide = {101, 5, 0, 0, 0};
    ck_assert_uint_eq(nw_pack(&wide, 1, 100, 140, 4), 0);
}
END_TEST

static void check_refused(const NwDesign *design, NwNetOptions options, const char *word) {
    GError *error = NULL;
    ck_assert_ptr_null(nw_net_pages_new(design, &options, &error));
    ck_assert(g_error_matches(error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT));
    ck_assert_msg(strstr(error->message, word) != NULL, "%s", error->message);
    g_error_free(error);
}

START_TEST(what_cannot_be_made_is_refused) {
    NwDesign *cube = nw_make_named("cube", 4), *octahedron = nw_make_named("octahedron", 1);
    NwNetOptions options = options_on("A4");
    options.cell_mm = 60;
    check_refused(cube, options, "A4");
    options = options_on("A3");
    options.cell_mm = 60;
    NwNetPages *pages = nw_net_pages_new(cube, &options, NULL);
    ck_assert_ptr_nonnull(pages);
    nw_net_pages_free(pages);
    options = options_on("A4");
    options.card_mm = 12;
    check_refused(octahedron, options, "--card-mm");
    nw_design_free(cube);
    nw_design_free(octahedron);
}
END_TEST

/* Finds "WIDTH HEIGHT" and the data of a binary PGM of 8 bits. */
static const unsigned char *read_pgm(const char *data, gsize size, int *width, int *height) {
    int most = 0, past = 0;
    ck_assert_int_eq(sscanf(data, "P5 %d %d %d%n", width, height, &most, &past), 3);
    ck_assert_int_eq(most, 255);
    ck_assert_uint_ge(size, (gsize)past + 1 + (gsize)*width * (gsize)*height);
    return (const unsigned char *)data + past + 1;
}

/* Where the first and the last dark stroke of a row of pixels from `left` to `right` lie, by the
 * weight of their ink. */
static int strokes_in_row(const unsigned char *row, int left, int right, double *first,
                          double *last) {
    int count = 0;
    for (int x = left; x < right; x++) {
        double weight = 0, moment = 0;
        for (; x < right && row[x] < 230; x++) {
            weight += 255 - row[x];
            moment += (255 - row[x]) * (x + 0.5);
        }
        if (weight <= 0)
            continue;
        *last = moment / weight;
        if (count++ == 0)
            *first = *last;
    }
    return count;
}

/* The page printed at 300 dots an inch: the ruler's strokes at every 10 mm are 50 mm apart. */
START_TEST(the_ruler_measures_50_mm) {
    static const char *const papers[] = {"A4", "Letter"};
    NwDesign *design = nw_make_named("octahedron", 1);
    char *folder = nw_make_scratch();
    for (size_t i = 0; i < 2; i++) {
        NwNetOptions options = options_on(papers[i]);
        NwNetPages *pages = nw_net_pages_new(design, &options, NULL);
        ck_assert_uint_eq(pages->count, 1);
        GBytes *pdf = nw_plots_to_pdf((const NwPlot *const *)pages->pages, 1, "ruler", NULL);
        nw_make_save(folder, "ruler.pdf", pdf);
        const char *const command[] = {"pdftoppm",    "-r",        "300",   "-gray",
                                       "-singlefile", "ruler.pdf", "ruler", NULL};
        char *out = nw_make_run(folder, command), *path, *data;
        if (out) {
            gsize size;
            int width, height;
            double first = 0, last = 0, dots = 300 / 25.4;
            path = g_build_filename(folder, "ruler.pgm", NULL);
            ck_assert(g_file_get_contents(path, &data, &size, NULL));
            const unsigned char *dot = read_pgm(data, size, &width, &height);
            ck_assert_int_le(abs(width - (int)lround(options.paper->width_mm * dots)), 1);
            ck_assert_int_le(abs(height - (int)lround(options.paper->height_mm * dots)), 1);
            /* 3.3 mm above the ruler's line only the long strokes are met */
            int y = (int)(height - (NW_PAPER_MARGIN_MM + NW_RULER_ABOVE_MM + 3.3) * dots);
            int strokes = strokes_in_row(dot + (gsize)y * (gsize)width, (int)(5 * dots),
                                         (int)(64 * dots), &first, &last);
            ck_assert_int_eq(strokes, 6);
            ck_assert_double_eq_tol((last - first) / dots, 50, 0.1);
            g_free(path);
            g_free(data);
        }
        g_free(out);
        g_bytes_unref(pdf);
        nw_net_pages_free(pages);
    }
    nw_make_clean(folder);
    nw_design_free(design);
}
END_TEST

/* Copies are all drawn, or once where that is asked for. */
START_TEST(copies_are_drawn) {
    NwDesign *design = nw_make_named("cube", 1);
    NwNetOptions options = options_on("Letter");
    design->pieces[0].copies = 7;
    NwNetPages *pages = nw_net_pages_new(design, &options, NULL);
    ck_assert_uint_eq(pages->nets, 7);
    ck_assert_uint_eq(pages->more, 0);
    nw_net_pages_free(pages);
    options.once = true;
    pages = nw_net_pages_new(design, &options, NULL);
    ck_assert_uint_eq(pages->nets, 1);
    ck_assert_uint_eq(pages->tabs + pages->bare, 7); /* a cube has 12 edges and 5 folds */
    ck_assert_uint_eq(pages->bare, 0);
    nw_net_pages_free(pages);
    nw_design_free(design);
}
END_TEST

/* The SVG's page is in millimetres, with a view box in millimetres, and well formed. */
START_TEST(svg_is_in_millimetres) {
    NwDesign *design = nw_make_named("cuboctahedron", 1);
    NwNetOptions options = options_on("A4");
    char *folder = nw_make_scratch();
    design->pieces[0].name[0] = '<'; /* must be escaped */
    NwNetPages *pages = nw_net_pages_new(design, &options, NULL);
    GBytes *svg = nw_plot_to_svg(pages->pages[0], "A < B & C");
    nw_make_save(folder, "page.svg", svg);
    const char *const command[] = {
        "xmllint",  "--nonet",
        "--xpath",  "concat(/*/@width,' ',/*/@height,' ',/*/@viewBox,' ',count(//*[@id='CUT']))",
        "page.svg", NULL};
    char *out = nw_make_run(folder, command);
    if (out)
        ck_assert_str_eq(g_strchomp(out), "210.0000mm 297.0000mm 0 0 210.0000 297.0000 1");
    g_free(out);
    gsize size;
    const char *text = g_bytes_get_data(svg, &size);
    ck_assert(g_strstr_len(text, (gssize)size, "width=\"210.0000mm\""));
    ck_assert(g_strstr_len(text, (gssize)size, "A &lt; B &amp; C"));
    g_bytes_unref(svg);
    nw_net_pages_free(pages);
    nw_make_clean(folder);
    nw_design_free(design);
}
END_TEST

/* Fonts that cairo keeps would be told as leaks. */
static void let_fonts_go(void) {
    cairo_debug_reset_static_data();
}

int main(int argc, char **argv) {
    if (argc < 2)
        return 2;
    design_folder = argv[1];
    Suite *suite = suite_create("nets");
    TCase *exact = tcase_create("exact");
    tcase_set_timeout(exact, 120);
    tcase_add_test(exact, flat_points_turn_and_compare);
    tcase_add_test(exact, tiles_are_judged_exactly);
    tcase_add_test(exact, nets_of_bundled_designs_fold_up);
    tcase_add_test(exact, nets_of_random_solids_fold_up);
    tcase_add_test(exact, holes_and_hollows);
    tcase_add_test(exact, convex_solids_take_one_net);
    tcase_add_test(exact, thickness_is_allowed_for);
    suite_add_tcase(suite, exact);
    TCase *pages = tcase_create("pages");
    tcase_set_timeout(pages, 120);
    tcase_add_checked_fixture(pages, NULL, let_fonts_go);
    tcase_add_test(pages, nets_are_dressed);
    tcase_add_test(pages, packing_keeps_apart);
    tcase_add_test(pages, what_cannot_be_made_is_refused);
    tcase_add_test(pages, the_ruler_measures_50_mm);
    tcase_add_test(pages, copies_are_drawn);
    tcase_add_test(pages, svg_is_in_millimetres);
    suite_add_tcase(suite, pages);
    return run_suite(suite);
}
