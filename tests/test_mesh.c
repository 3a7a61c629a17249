/* Meshes: shells, clearance, triangles, files, and the small-parts cylinder.
 * The first argument is the folder of the bundled designs. */
#include <check.h>
#include <glib/gstdio.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <zip.h>

#include "lattice/connect.h"
#include "lattice/named.h"
#include "lattice/surface.h"
#include "make/mesh/clearance.h"
#include "make/mesh/obj.h"
#include "make/mesh/piece_mesh.h"
#include "make/mesh/print_orientation.h"
#include "make/mesh/stl.h"
#include "make/mesh/threemf.h"
#include "make/safety/safety_notes.h"
#include "make_fixture.h"
#include "plain/random_design.h"
#include "suite.h"
#include "threemf_reader.h"

static const char *design_folder;
static const double CELL_MM = 20, CLEARANCE_MM = 0.15;

static NwSolid *named(const char *name, int size) {
    NwSolid *solid;
    const int sizes[NW_SIZES_MAX] = {size, size, size};
    ck_assert_int_eq(nw_named_solid_build(nw_named_solid_find(name), sizes, &solid), NW_OK);
    return solid;
}

static NwFacets *mesh_of(const NwSolid *solid, double clearance_mm) {
    NwThin thin;
    NwOffsetSurface *skin = nw_offset_surface_new(solid, CELL_MM, clearance_mm, NULL, &thin);
    if (!skin)
        return NULL;
    NwFacets *facets = nw_facets_new(skin, NULL);
    ck_assert_ptr_nonnull(facets);
    nw_offset_surface_free(skin);
    return facets;
}

/* Vertices less edges plus facets: 2 for a sphere, 0 for a ring; 2 for each of several shells. */
static long euler_of(const NwFacets *facets) {
    return (long)facets->point_count - (long)facets->facet_count * 3 / 2 +
           (long)facets->facet_count;
}

static double volume_of(const NwSolid *solid) {
    return (double)nw_solid_volume6(solid) / 6 * pow(CELL_MM, 3);
}

/* Areas of the surface, which other code finds. */
static double area_of(const NwSolid *solid) {
    NwSurface *surface = nw_surface_new(solid);
    double sum = 0;
    for (size_t i = 0; i < surface->count; i++) {
        NwVec n = surface->polygons[i].normal;
        sum += (double)nw_polygon_area2(&surface->polygons[i]) * sqrt(nw_vec_dot(n, n)) / 2;
    }
    nw_surface_free(surface);
    return sum * CELL_MM * CELL_MM;
}

static void assert_near(double found, double wanted, double share) {
    ck_assert_msg(fabs(found - wanted) <= share * fabs(wanted), "%.9g is not %.9g", found, wanted);
}

/* Volumes and areas of solids of edge length e, in e^3 and e^2: E. Weisstein, MathWorld, and
 * P. Cromwell, "Polyhedra" (1997), the formulas from memory: cuboctahedron 5 sqrt(2) / 3 and
 * 6 + 2 sqrt(3), truncated tetrahedron 23 sqrt(2) / 12 and 7 sqrt(3), truncated octahedron
 * 8 sqrt(2) and 6 + 12 sqrt(3). The stella octangula of an edge of two tetrahedra's, in cells: half
 * of the cube round it (kjmaclean.com, Volume_Star_Tetra), and 24 small triangles. */
START_TEST(named_solids_have_their_volumes) {
    static const struct {
        const char *name;
        int size;
        double edge; /* in cells */
        double volume, area;
    } rows[] = {
        {"cube", 3, 3, 1, 6},
        {"tetrahedron", 4, 4 * M_SQRT2, M_SQRT2 / 12, 1.7320508075688772},
        {"octahedron", 4, 4 * M_SQRT2, M_SQRT2 / 3, 3.4641016151377544},
        {"cuboctahedron", 2, 2 * M_SQRT2, 5 * M_SQRT2 / 3, 9.4641016151377544},
        {"truncated-tetrahedron", 2, 2 * M_SQRT2, 23 * M_SQRT2 / 12, 12.124355652982141},
        {"truncated-octahedron", 2, 2 * M_SQRT2, 8 * M_SQRT2, 26.784609690826528},
        {"stella-octangula", 4, 4 * M_SQRT2, M_SQRT2 / 8, 2.5980762113533160},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        NwSolid *solid = named(rows[i].name, rows[i].size);
        NwFacets *facets = mesh_of(solid, 0);
        double edge = rows[i].edge * CELL_MM;
        assert_near(nw_facets_volume_mm3(facets), rows[i].volume * pow(edge, 3), 1e-12);
        assert_near(nw_facets_area_mm2(facets), rows[i].area * edge * edge, 1e-12);
        ck_assert_int_eq(euler_of(facets), 2);
        nw_facets_free(facets);
        nw_solid_free(solid);
    }
}
END_TEST

/* A convex solid with an inscribed ball of radius r that touches every face shrinks like itself:
 * its volume goes with the cube of (r - c) / r. */
START_TEST(clearance_moves_faces_inwards) {
    static const struct {
        const char *name;
        int size;
        double ball; /* in cells */
    } rows[] = {{"cube", 3, 1.5},
                {"tetrahedron", 4, 1.1547005383792515},
                {"octahedron", 4, 2.3094010767585030}};
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        NwSolid *solid = named(rows[i].name, rows[i].size);
        NwFacets *facets = mesh_of(solid, 1.5);
        double left = 1 - 1.5 / (rows[i].ball * CELL_MM);
        assert_near(nw_facets_volume_mm3(facets), volume_of(solid) * pow(left, 3), 1e-12);
        nw_facets_free(facets);
        nw_solid_free(solid);
    }
}
END_TEST

START_TEST(shells_are_closed_whatever_touches) {
    static const struct {
        int cells[4][3];
        int count;
        long euler; /* without clearance, with the vertices that lie at one place apart */
    } rows[] = {
        {{{0, 0, 0}}, 1, 2},
        {{{0, 0, 0}, {1, 1, 0}}, 2, 4}, /* two cubes that touch in an edge */
        {{{0, 0, 0}, {1, 1, 1}}, 2, 4}, /* and in a vertex */
        {{{0, 0, 0}, {1, 0, 0}, {1, 1, 0}}, 3, 2},
        {{{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 1}}, 4, 4},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        NwSolid *solid = nw_solid_new();
        for (int c = 0; c < rows[i].count; c++)
            nw_solid_add(solid,
                         nw_vec(rows[i].cells[c][0], rows[i].cells[c][1], rows[i].cells[c][2]),
                         NW_WHOLE);
        for (int with = 0; with < 2; with++) {
            NwFacets *facets = mesh_of(solid, with * CLEARANCE_MM);
            ck_assert_ptr_nonnull(facets);
            ck_assert(nw_facets_are_closed(facets));
            ck_assert_int_eq(euler_of(facets), rows[i].euler);
            nw_facets_free(facets);
        }
        nw_solid_free(solid);
    }
}
END_TEST

START_TEST(a_ring_has_a_hole) {
    NwSolid *ring = nw_solid_new();
    for (int x = 0; x < 3; x++)
        for (int y = 0; y < 3; y++)
            if (x != 1 || y != 1)
                nw_solid_add(ring, nw_vec(x, y, 0), NW_WHOLE);
    for (int with = 0; with < 2; with++) {
        NwFacets *facets = mesh_of(ring, with * CLEARANCE_MM);
        double c = with * CLEARANCE_MM;
        ck_assert_int_eq(euler_of(facets), 0);
        assert_near(nw_facets_volume_mm3(facets),
                    (pow(60 - 2 * c, 2) - pow(20 + 2 * c, 2)) * (20 - 2 * c), 1e-12);
        nw_facets_free(facets);
    }
    nw_solid_free(ring);
}
END_TEST

/* A pit whose tip reaches the far side of the wall, in the middle of a face, and one whose ridge
 * touches the side of another: moved, they break through, and there is a hole. */
START_TEST(pits_break_through) {
    static const struct {
        int cells[4][4]; /* and the mask */
        long euler;      /* with clearance; 2 without */
    } rows[] = {
        {{{-1, -1, -1, 0x1f}, {-1, -1, 0, 0x15}, {0, -1, -1, 0x1f}, {0, -1, 0, 0x1d}}, 0},
        {{{0, -1, -1, 0x1d}, {0, -1, 0, 0x1b}, {0, 0, -1, 0x1f}, {0, 0, 0, 0x0d}}, 0},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        NwSolid *solid = nw_solid_new();
        for (int c = 0; c < 4; c++)
            nw_solid_add(solid,
                         nw_vec(rows[i].cells[c][0], rows[i].cells[c][1], rows[i].cells[c][2]),
                         rows[i].cells[c][3]);
        NwFacets *still = mesh_of(solid, 0), *moved = mesh_of(solid, CLEARANCE_MM);
        ck_assert_int_eq(euler_of(still), 2);
        ck_assert_ptr_nonnull(moved);
        ck_assert(nw_facets_are_closed(moved));
        ck_assert_int_eq(euler_of(moved), rows[i].euler);
        nw_facets_free(still);
        nw_facets_free(moved);
        nw_solid_free(solid);
    }
}
END_TEST

/* What holds of every mesh, and of the skin that it comes from. */
static void assert_sound(const NwSolid *solid, const char *what) {
    NwFacets *still = mesh_of(solid, 0), *moved = mesh_of(solid, CLEARANCE_MM);
    ck_assert_msg(still && nw_facets_are_closed(still), "%s", what);
    assert_near(nw_facets_volume_mm3(still), volume_of(solid), 1e-12);
    assert_near(nw_facets_area_mm2(still), area_of(solid), 1e-12);
    ck_assert_msg(euler_of(still) % 2 == 0, "%s", what);
    if (moved) {
        ck_assert_msg(nw_facets_are_closed(moved), "%s", what);
        /* The first two terms of what a layer of that thickness takes off. */
        double less = volume_of(solid) - nw_facets_volume_mm3(moved);
        ck_assert_msg(less > 0 && less < 1.01 * CLEARANCE_MM * area_of(solid), "%s: %g", what,
                      less);
    }
    nw_facets_free(still);
    nw_facets_free(moved);
}

static void check_pieces(const NwDesign *design) {
    for (size_t i = 0; i < design->piece_count; i++)
        assert_sound(design->pieces[i].solid, design->name);
}

START_TEST(meshes_of_bundled_designs_are_sound) {
    nw_make_each_design(design_folder, check_pieces);
}
END_TEST

START_TEST(meshes_of_random_solids_are_sound) {
    int made = 0, refused = 0;
    for (uint64_t seed = 0; seed < 300; seed++) {
        NwDesign *design = nw_random_design(seed);
        check_pieces(design);
        for (size_t i = 0; i < design->piece_count; i++) {
            NwFacets *facets = mesh_of(design->pieces[i].solid, CLEARANCE_MM);
            made += facets != NULL;
            refused += facets == NULL;
            nw_facets_free(facets);
        }
        nw_design_free(design);
    }
    ck_assert_msg(refused * 500 < made, "%d of %d refused", refused, made + refused);
}
END_TEST

/* Cells as rows of x, y, z, mask; the count of rows. */
static NwSolid *solid_of(const int (*cells)[4], size_t count) {
    NwSolid *solid = nw_solid_new();
    for (size_t i = 0; i < count; i++)
        nw_solid_add(solid, nw_vec(cells[i][0], cells[i][1], cells[i][2]), cells[i][3]);
    return solid;
}

/* Pieces that once overran the heap, and searched without an end: each gives a sound mesh, or is
 * refused with the place and with what to do. */
START_TEST(fans_without_a_way_are_refused) {
    static const int overrun[][4] = {{1, 0, 2, 16}, {1, 0, 3, 4}, {1, 1, 2, 25}, {1, 1, 3, 6},
                                     {2, 0, 2, 21}, {2, 0, 3, 4}, {2, 1, 2, 19}, {2, 1, 3, 7}};
    static const int endless[][4] = {{2, 1, 0, 21}, {2, 1, 1, 7}, {2, 2, 0, 2},  {2, 2, 1, 11},
                                     {3, 1, 0, 13}, {3, 1, 1, 2}, {3, 2, 0, 11}, {3, 2, 1, 11}};
    NwSolid *solid = solid_of(overrun, G_N_ELEMENTS(overrun));
    assert_sound(solid, "overrun");
    nw_solid_free(solid);

    solid = solid_of(endless, G_N_ELEMENTS(endless));
    assert_sound(solid, "endless");
    NwThin thin;
    NwOffsetSurface *skin = nw_offset_surface_new(solid, CELL_MM, CLEARANCE_MM, NULL, &thin);
    if (!skin) {
        char *text = nw_dup_thin_text(&thin, "A", CLEARANCE_MM);
        ck_assert_ptr_nonnull(strstr(text, "use a clearance of 0, or change the piece there"));
        g_free(text);
    }
    nw_offset_surface_free(skin);
    nw_solid_free(solid);
}
END_TEST

/* The largest face-connected part of a box of cells of which each has parts by chance: far more
 * ragged than what grows part by part, with pits that touch in edges and points everywhere. */
static NwSolid *ragged_solid(NwRandom *random) {
    NwSolid *all = nw_solid_new(), *best = NULL;
    int size[3] = {2 + nw_random_below(random, 2), 2, 1 + nw_random_below(random, 3)};
    for (int x = 0; x < size[0]; x++)
        for (int y = 0; y < size[1]; y++)
            for (int z = 0; z < size[2]; z++)
                nw_solid_add(all, nw_vec(x, y, z), nw_random_below(random, NW_WHOLE + 1));
    for (size_t i = 0; i < all->count; i++) {
        int bit = 0;
        while (!(all->cells[i].mask >> bit & 1))
            bit++;
        NwSolid *lump = nw_solid_lump_of(
            all, (NwPart){nw_vec(all->cells[i].x, all->cells[i].y, all->cells[i].z), bit});
        if (!best || nw_solid_volume6(lump) > nw_solid_volume6(best)) {
            nw_solid_free(best);
            best = lump;
        } else {
            nw_solid_free(lump);
        }
    }
    nw_solid_free(all);
    return best ? best : ragged_solid(random);
}

/* The mesh of one solid as “make mesh” has it, or NULL after a look at the refusal. */
static NwFacets *made_or_refused(const NwSolid *solid, double clearance_mm) {
    NwPiece piece = {.name = (char *)"A", .solid = (NwSolid *)solid};
    const NwDesign design = {.pieces = &piece, .piece_count = 1};
    GError *error = NULL;
    NwFacets **meshes = nw_piece_meshes_new(&design, CELL_MM, clearance_mm, NULL, &error);
    if (!meshes) {
        ck_assert_msg(g_str_has_prefix(error->message, "piece A: "), "%s", error->message);
        g_error_free(error);
        return NULL;
    }
    NwFacets *facets = meshes[0];
    free(meshes);
    ck_assert(nw_facets_are_closed(facets));
    return facets;
}

START_TEST(ragged_solids_are_meshed_or_refused) {
    NwRandom random = {(uint64_t)_i + 1};
    int still_made = 0, moved_made = 0, tried = 0;
    for (; tried < 60; tried++) {
        NwSolid *solid = ragged_solid(&random);
        NwFacets *still = made_or_refused(solid, 0), *moved = made_or_refused(solid, CLEARANCE_MM);
        if (still)
            assert_near(nw_facets_volume_mm3(still), volume_of(solid), 1e-12);
        if (moved) {
            double less = volume_of(solid) - nw_facets_volume_mm3(moved);
            ck_assert(less > 0 && less < 1.01 * CLEARANCE_MM * area_of(solid));
        }
        still_made += still != NULL;
        moved_made += moved != NULL;
        nw_facets_free(still);
        nw_facets_free(moved);
        nw_solid_free(solid);
    }
    ck_assert_msg(still_made >= 55 && moved_made >= 30, "%d and %d of %d are made", still_made,
                  moved_made, tried);
}
END_TEST

START_TEST(a_skin_that_is_stopped_says_so) {
    NwSolid *cube = named("cube", 3);
    NwProgress *progress = nw_progress_new();
    NwThin thin;
    nw_progress_stop(progress);
    ck_assert_ptr_null(nw_offset_surface_new(cube, CELL_MM, CLEARANCE_MM, progress, &thin));
    ck_assert_int_eq(thin.kind, NW_THIN_STOPPED);
    nw_progress_free(progress);
    nw_solid_free(cube);
}
END_TEST

/* A clearance up to half a feature is held, and one over it refused, with the place. */
START_TEST(features_that_vanish_are_named) {
    NwThin thin;
    NwSolid *cube = named("cube", 1);
    NwOffsetSurface *skin = nw_offset_surface_new(cube, 20, 9.9, NULL, &thin);
    ck_assert_ptr_nonnull(skin);
    nw_offset_surface_free(skin);
    ck_assert_ptr_null(nw_offset_surface_new(cube, 20, 10, NULL, &thin));
    ck_assert_int_eq(thin.kind, NW_THIN_EDGE);
    ck_assert_ptr_null(nw_offset_surface_new(cube, 20, 10.1, NULL, &thin));
    nw_solid_free(cube);

    /* A plate of one cell on a block: the block has room enough, the plate has not. */
    NwSolid *plate = named("cube", 3);
    for (int x = 3; x < 6; x++)
        nw_solid_add(plate, nw_vec(x, 0, 1), NW_WHOLE);
    ck_assert_ptr_null(nw_offset_surface_new(plate, 20, 10.1, NULL, &thin));
    ck_assert(thin.kind == NW_THIN_EDGE || thin.kind == NW_THIN_WALL);
    ck_assert_int_ge(thin.at.x, 3);
    char *text = nw_dup_thin_text(&thin, "Plate", 10.1);
    ck_assert_ptr_nonnull(strstr(text, "piece Plate: a clearance of 10.1 mm leaves"));
    g_free(text);
    nw_solid_free(plate);

    /* A thin wall between two pits of one block, whose edges all have length left. */
    NwSolid *wall = nw_solid_new();
    for (int x = 0; x < 7; x++)
        for (int y = 0; y < 5; y++)
            for (int z = 0; z < 4; z++)
                nw_solid_add(wall, nw_vec(x, y, z), NW_WHOLE);
    for (int y = 2; y < 3; y++)
        for (int z = 2; z < 4; z++) {
            nw_solid_remove(wall, nw_vec(2, y, z), NW_WHOLE);
            nw_solid_remove(wall, nw_vec(4, y, z), NW_WHOLE);
        }
    ck_assert_ptr_null(nw_offset_surface_new(wall, 20, 10.1, NULL, &thin));
    nw_solid_free(wall);
}
END_TEST

/* Distances of triangles against ones that are known, and against many samples. */
START_TEST(triangles_are_measured) {
    double a[3][3] = {{0, 0, 0}, {4, 0, 0}, {0, 4, 0}};
    double over[3][3] = {{1, 1, 3}, {2, 1, 5}, {1, 2, 5}},
           beside[3][3] = {{7, 0, 4}, {9, 0, 4}, {8, 1, 4}};
    double through[3][3] = {{1, 1, -1}, {1, 1, 1}, {9, 9, 1}};
    ck_assert_double_eq_tol(nw_triangle_gap(a, over), 3, 1e-12);
    ck_assert_double_eq_tol(nw_triangle_gap(a, beside), 5, 1e-12);
    ck_assert_double_eq_tol(nw_triangle_gap(a, through), 0, 1e-12);
    NwRandom random = {7};
    for (int round = 0; round < 200; round++) {
        double t[2][3][3], least = INFINITY;
        for (int i = 0; i < 18; i++)
            t[i / 9][i / 3 % 3][i % 3] = nw_random_below(&random, 1000) / 100.0;
        for (int i = 0; i < 4000; i++) {
            double sum = 0, share[2][2];
            for (int s = 0; s < 2; s++) {
                share[s][0] = nw_random_below(&random, 101) / 100.0;
                share[s][1] = nw_random_below(&random, 101) / 100.0 * (1 - share[s][0]);
            }
            for (int k = 0; k < 3; k++) {
                double p[2];
                for (int s = 0; s < 2; s++)
                    p[s] = t[s][0][k] + share[s][0] * (t[s][1][k] - t[s][0][k]) +
                           share[s][1] * (t[s][2][k] - t[s][0][k]);
                sum += (p[0] - p[1]) * (p[0] - p[1]);
            }
            least = fmin(least, sqrt(sum));
        }
        double gap = nw_triangle_gap(t[0], t[1]);
        ck_assert_msg(gap <= least + 1e-9 && gap > least - 1.2, "%g, samples say %g", gap, least);
    }
}
END_TEST

/* The whole way out, measured, for twice the clearance: never less, and not by sampling. */
static void prove(const NwDesign *design) {
    GError *error = NULL;
    NwMeshProof proof;
    NwFacets **meshes = nw_piece_meshes_new(design, CELL_MM, CLEARANCE_MM, NULL, &error);
    ck_assert_msg(meshes != NULL, "%s: %s", design->name, error ? error->message : "");
    ck_assert_msg(nw_mesh_prove(design, meshes, CELL_MM, 1, &proof, NULL, &error), "%s: %s",
                  design->name, error ? error->message : "");
    ck_assert_int_gt(proof.slides, 0);
    ck_assert_msg(proof.free_way.least_mm >= 2 * CLEARANCE_MM * (1 - 1e-9), "%s: %.12g",
                  design->name, proof.free_way.least_mm);
    nw_piece_meshes_free(meshes, design->piece_count);
}

START_TEST(bundled_designs_keep_their_clearance) {
    nw_make_each_design(design_folder, prove);
}
END_TEST

START_TEST(random_designs_keep_their_clearance) {
    int proved = 0;
    for (uint64_t seed = 1000; seed < 1150; seed++) {
        NwDesign *design = nw_random_design(seed);
        NwMeshProof proof;
        NwFacets **meshes = nw_piece_meshes_new(design, CELL_MM, CLEARANCE_MM, NULL, NULL);
        if (meshes && nw_mesh_prove(design, meshes, CELL_MM, 1, &proof, NULL, NULL) &&
            design->piece_count > 1) {
            ck_assert_msg(proof.free_way.least_mm >= 2 * CLEARANCE_MM * (1 - 1e-9),
                          "seed %d: %.12g", (int)seed, proof.free_way.least_mm);
            proved++;
        }
        nw_piece_meshes_free(meshes, design->piece_count);
        nw_design_free(design);
    }
    ck_assert_int_gt(proved, 40);
}
END_TEST

/* The measuring sees what is too near: without clearance pieces touch, and one that is made a
 * little too large by scaling runs into the next. */
START_TEST(the_proof_can_fail) {
    NwDesign *design = nw_make_design(design_folder, "tide-chest.json");
    NwMeshProof proof;
    NwFacets **meshes = nw_piece_meshes_new(design, CELL_MM, 0, NULL, NULL);
    ck_assert(nw_mesh_prove(design, meshes, CELL_MM, 1, &proof, NULL, NULL));
    ck_assert_double_eq_tol(proof.free_way.least_mm, 0, 1e-9);
    nw_piece_meshes_free(meshes, design->piece_count);
    meshes = nw_piece_meshes_new(design, CELL_MM, CLEARANCE_MM, NULL, NULL);
    for (size_t i = 0; i < meshes[0]->point_count; i++)
        meshes[0]->points[i][0] += 0.1; /* a piece that stands a tenth out of place */
    ck_assert(nw_mesh_prove(design, meshes, CELL_MM, 1, &proof, NULL, NULL));
    ck_assert_double_lt(proof.free_way.least_mm, 2 * CLEARANCE_MM - 0.05);
    nw_piece_meshes_free(meshes, design->piece_count);
    nw_design_free(design);
}
END_TEST

/* A design as a print: each piece once, as it was drawn. */
typedef struct Sample {
    NwDesign *design;
    NwFacets **meshes;
    NwPrint print;
} Sample;

/* Lays pieces side by side, each on its best face. */
static NwPrint print_of(const NwDesign *design, NwFacets **meshes) {
    size_t count = design->piece_count;
    NwPrint print = {design->name, g_new0(NwPrintObject, count), count, g_new0(NwPrintItem, count),
                     count};
    for (size_t i = 0; i < count; i++) {
        print.objects[i] = (NwPrintObject){design->pieces[i].name, "#c8553d", meshes[i]};
        print.items[i].object = i;
        memcpy(print.items[i].rows, nw_print_orientation_choose(meshes[i]).rows,
               sizeof print.items[i].rows);
        print.items[i].shift_mm[0] = 150.0 * (double)i;
    }
    return print;
}

static Sample sample_of(const char *file) {
    Sample s = {.design = nw_make_design(design_folder, file)};
    s.meshes = nw_piece_meshes_new(s.design, CELL_MM, CLEARANCE_MM, NULL, NULL);
    ck_assert_ptr_nonnull(s.meshes);
    s.print = print_of(s.design, s.meshes);
    return s;
}

static double sample_volume(const Sample *s) {
    double sum = 0;
    for (size_t i = 0; i < s->design->piece_count; i++)
        sum += nw_facets_volume_mm3(s->meshes[i]);
    return sum;
}

static void sample_clear(Sample *s) {
    nw_piece_meshes_free(s->meshes, s->design->piece_count);
    g_free(s->print.objects);
    g_free(s->print.items);
    nw_design_free(s->design);
}

/* The number after a label in what a program printed; the second one where `second`. */
static double number_after(const char *text, const char *label) {
    const char *at = strstr(text, label);
    ck_assert_msg(at != NULL, "no “%s” in: %s", label, text);
    at += strlen(label);
    at += strspn(at, " :");
    return g_ascii_strtod(at, NULL);
}

START_TEST(stl_is_84_bytes_and_50_a_facet) {
    Sample s = sample_of("kite-harbour.json");
    size_t facets = 0;
    for (size_t i = 0; i < s.design->piece_count; i++)
        facets += s.meshes[i]->facet_count;
    GByteArray *bytes = nw_stl_bytes(&s.print);
    ck_assert_uint_eq(bytes->len, 84 + 50 * facets);
    ck_assert_int_ne(strncmp((const char *)bytes->data, "solid", 5), 0);
    guint32 count;
    memcpy(&count, bytes->data + 80, sizeof count);
    ck_assert_uint_eq(GUINT32_FROM_LE(count), facets);

    char *folder = nw_make_scratch();
    GBytes *whole = g_byte_array_free_to_bytes(bytes);
    nw_make_save(folder, "kite.stl", whole);
    g_bytes_unref(whole);
    char *said = nw_make_run(folder, (const char *[]){"admesh", "kite.stl", NULL});
    if (said) {
        ck_assert_ptr_nonnull(strstr(said, "All facets connected"));
        ck_assert_double_eq(number_after(said, "Total disconnected facets"), 0);
        ck_assert_double_eq(number_after(said, "Degenerate facets"), 0);
        ck_assert_double_eq(number_after(said, "Facets removed"), 0);
        ck_assert_double_eq(number_after(said, "Facets reversed"), 0);
        ck_assert_double_eq(number_after(said, "Number of parts"), 4);
        assert_near(number_after(said, "Volume"), sample_volume(&s), 1e-5);
        g_free(said);
    } else {
        g_message("admesh is not installed: the STL file was not given to it");
    }
    nw_make_clean(folder);
    sample_clear(&s);
}
END_TEST

/* Pieces that admesh has been shown, and whether there is an admesh to show them to. */
static int shown;
static bool can_show;

/* A program that mends meshes finds nothing to mend: each normal it counts, in single precision,
 * is the one that is written, each edge has its two facets, and none is without area. */
static void show_to_admesh(const NwDesign *design, double clearance_mm) {
    static const char *const mended[] = {
        "Degenerate facets", "Edges fixed",   "Facets removed",  "Facets added",
        "Facets reversed",   "Normals fixed", "Backwards edges", "Total disconnected facets"};
    NwFacets **meshes = nw_piece_meshes_new(design, CELL_MM, clearance_mm, NULL, NULL);
    if (!meshes || !can_show) {
        nw_piece_meshes_free(meshes, design->piece_count);
        return;
    }
    NwPrint print = print_of(design, meshes);
    char *folder = nw_make_scratch();
    GBytes *bytes = g_byte_array_free_to_bytes(nw_stl_bytes(&print));
    nw_make_save(folder, "print.stl", bytes);
    g_bytes_unref(bytes);
    char *said = nw_make_run(folder, (const char *[]){"admesh", "print.stl", NULL});
    can_show = said != NULL;
    for (size_t i = 0; said && i < G_N_ELEMENTS(mended); i++)
        ck_assert_msg(number_after(said, mended[i]) == 0, "%s at %g mm, %s:\n%s", design->name,
                      clearance_mm, mended[i], said);
    shown += can_show ? (int)design->piece_count : 0;
    g_free(said);
    nw_make_clean(folder);
    g_free(print.objects);
    g_free(print.items);
    nw_piece_meshes_free(meshes, design->piece_count);
}

static void show_both_ways(const NwDesign *design) {
    show_to_admesh(design, 0);
    show_to_admesh(design, CLEARANCE_MM);
}

START_TEST(nothing_is_left_to_mend) {
    can_show = true;
    nw_make_each_design(design_folder, show_both_ways);
    for (uint64_t seed = 0; can_show && shown < 1100; seed++) {
        NwDesign *design = nw_random_design(seed);
        show_both_ways(design);
        nw_design_free(design);
    }
    if (!can_show)
        g_message("admesh is not installed: no STL file was given to it");
}
END_TEST

/* Reads the text back: the volume that its faces enclose. */
START_TEST(obj_reads_back) {
    Sample s = sample_of("quiet-comet.json");
    GString *text = nw_obj_text(&s.print);
    GArray *points = g_array_new(FALSE, FALSE, 3 * sizeof(double));
    double volume = 0;
    int objects = 0;
    g_auto(GStrv) lines = g_strsplit(text->str, "\n", -1);
    for (int i = 0; lines[i]; i++) {
        double p[3];
        int f[3];
        objects += g_str_has_prefix(lines[i], "o ");
        if (sscanf(lines[i], "v %lf %lf %lf", &p[0], &p[1], &p[2]) == 3)
            g_array_append_val(points, p);
        if (sscanf(lines[i], "f %d %d %d", &f[0], &f[1], &f[2]) != 3)
            continue;
        const double *v[3];
        for (int k = 0; k < 3; k++) {
            ck_assert_int_le(f[k], (int)points->len);
            v[k] = &g_array_index(points, double, 3 * (f[k] - 1));
        }
        for (int k = 0; k < 3; k++)
            volume +=
                v[0][k] *
                (v[1][(k + 1) % 3] * v[2][(k + 2) % 3] - v[1][(k + 2) % 3] * v[2][(k + 1) % 3]) / 6;
    }
    ck_assert_int_eq(objects, (int)s.design->piece_count);
    assert_near(volume, sample_volume(&s), 1e-6);
    g_array_free(points, TRUE);
    g_string_free(text, TRUE);
    sample_clear(&s);
}
END_TEST

static char *read_part(const char *path, const char *name) {
    zip_t *archive = zip_open(path, ZIP_RDONLY | ZIP_CHECKCONS, NULL);
    ck_assert_ptr_nonnull(archive);
    zip_stat_t stat;
    ck_assert_int_eq(zip_stat(archive, name, 0, &stat), 0);
    ck_assert(stat.comp_method == ZIP_CM_DEFLATE || stat.comp_method == ZIP_CM_STORE);
    char *text = g_malloc0(stat.size + 1);
    zip_file_t *file = zip_fopen(archive, name, 0);
    ck_assert_int_eq(zip_fread(file, text, stat.size), (zip_int64_t)stat.size);
    zip_fclose(file);
    zip_discard(archive);
    return text;
}

START_TEST(threemf_opens_elsewhere) {
    Sample s = sample_of("ember-lantern.json");
    char *folder = nw_make_scratch(), *path = g_build_filename(folder, "lantern.3mf", NULL);
    GError *error = NULL;
    GBytes *bytes = nw_threemf_bytes(&s.print, &error);
    ck_assert_ptr_nonnull(bytes);
    nw_make_save(folder, "lantern.3mf", bytes);
    g_bytes_unref(bytes);
    char *types = read_part(path, "[Content_Types].xml"), *rels = read_part(path, "_rels/.rels");
    char *model = read_part(path, "3D/3dmodel.model");
    ck_assert_ptr_nonnull(strstr(types, "application/vnd.ms-package.3dmanufacturing-3dmodel+xml"));
    ck_assert_ptr_nonnull(
        strstr(rels, "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"));
    ck_assert_ptr_nonnull(
        strstr(model, "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"));
    ck_assert_ptr_nonnull(strstr(model, "unit=\"millimeter\""));
    ck_assert_ptr_nonnull(strstr(model, "displaycolor=\"#C8553D\""));

    /* Everything in the positive octant. */
    NwFacets *all = nw_print_facets(&s.print);
    double low[3], high[3];
    nw_facets_bounds(all, low, high);
    for (int k = 0; k < 3; k++)
        ck_assert_double_eq_tol(low[k], 0, 1e-9);
    nw_facets_free(all);

    NwThreemfFacts facts;
    if (nw_threemf_read(path, &facts)) {
        ck_assert_int_eq(facts.warnings, 0);
        ck_assert_int_eq(facts.objects, (int)s.design->piece_count);
        ck_assert_int_eq(facts.items, (int)s.design->piece_count);
        ck_assert_int_eq(facts.valid, facts.objects);
        ck_assert_int_eq(facts.manifold, facts.objects);
        ck_assert_str_eq(facts.first_name, s.design->pieces[0].name);
        ck_assert_int_eq(facts.unit, 1); /* millimetres */
        assert_near(facts.volume, sample_volume(&s), 1e-5);
    } else {
        g_message("lib3mf is not installed: the 3MF file was not given to it");
    }
    g_free(types);
    g_free(rels);
    g_free(model);
    g_free(path);
    nw_make_clean(folder);
    sample_clear(&s);
}
END_TEST

/* Names that XML or a line of text would trip over. */
START_TEST(odd_names_are_written_safely) {
    NwSolid *cube = named("cube", 1);
    NwFacets *facets = mesh_of(cube, 0);
    NwPrintObject object = {"A<&\"\n>é", "#102030", facets};
    NwPrintItem item = {0, {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, {-5, 0, 5}};
    NwPrint print = {"T<&>", &object, 1, &item, 1};
    GString *text = nw_obj_text(&print);
    ck_assert_ptr_nonnull(strstr(text->str, "o A<&\" >é\n"));
    g_string_free(text, TRUE);
    char *folder = nw_make_scratch(), *path = g_build_filename(folder, "odd.3mf", NULL);
    GBytes *bytes = nw_threemf_bytes(&print, NULL);
    nw_make_save(folder, "odd.3mf", bytes);
    g_bytes_unref(bytes);
    char *model = read_part(path, "3D/3dmodel.model");
    ck_assert_ptr_nonnull(strstr(model, "name=\"A&lt;&amp;&quot;"));
    NwThreemfFacts facts;
    if (nw_threemf_read(path, &facts))
        ck_assert_int_eq(facts.valid, 1);
    g_free(model);
    g_free(path);
    nw_make_clean(folder);
    nw_facets_free(facets);
    nw_solid_free(cube);
}
END_TEST

START_TEST(pieces_lie_on_their_best_face) {
    NwSolid *solid = named("tetrahedron", 4);
    NwFacets *facets = mesh_of(solid, 0);
    NwPrintOrientation bed = nw_print_orientation_choose(facets);
    ck_assert(bed.stable);
    ck_assert_int_eq(nw_vec_dot(bed.down, bed.down), 3);
    assert_near(bed.contact_mm2, nw_facets_area_mm2(facets) / 4, 1e-9);
    /* Its sides lean inwards by 70.53 degrees from the bed. */
    ck_assert_double_eq_tol(bed.overhang_mm2, 0, 1e-9);
    assert_near(bed.height_mm, 4 * M_SQRT2 * CELL_MM * sqrt(2.0 / 3), 1e-9);
    nw_facets_free(facets);
    nw_solid_free(solid);

    /* A T: upright on its bar, the arms of the other way up would overhang; best flat on a side. */
    solid = nw_solid_new();
    for (int x = 0; x < 3; x++)
        nw_solid_add(solid, nw_vec(x, 0, 2), NW_WHOLE);
    nw_solid_add(solid, nw_vec(1, 0, 1), NW_WHOLE);
    nw_solid_add(solid, nw_vec(1, 0, 0), NW_WHOLE);
    facets = mesh_of(solid, 0);
    bed = nw_print_orientation_choose(facets);
    ck_assert(bed.stable);
    ck_assert_int_eq(abs(bed.down.y), 1);
    char *text = nw_dup_print_orientation_text(&bed);
    ck_assert_str_eq(text, "stable on 20.0 cm², no overhang");
    g_free(text);
    assert_near(bed.contact_mm2, 5 * CELL_MM * CELL_MM, 1e-9);
    ck_assert_double_eq_tol(bed.overhang_mm2, 0, 1e-9);
    nw_facets_free(facets);
    nw_solid_free(solid);
    const double sizes[5][2] = {{30, 10}, {20, 40}, {10, 10}, {50, 5}, {15, 15}};
    double at[5][2];
    nw_print_orientation_arrange(sizes, 5, 4, at);
    for (int i = 0; i < 5; i++)
        for (int k = 0; k < i; k++)
            ck_assert(at[i][0] + sizes[i][0] + 4 <= at[k][0] + 1e-9 ||
                      at[k][0] + sizes[k][0] + 4 <= at[i][0] + 1e-9 ||
                      at[i][1] + sizes[i][1] + 4 <= at[k][1] + 1e-9 ||
                      at[k][1] + sizes[k][1] + 4 <= at[i][1] + 1e-9);
}
END_TEST

/* More on the bed is taken for a little overhang: piece C of Kite Harbour could stand on 10.2 cm²
 * with none. The sentence says so, and does not claim the least. */
START_TEST(the_reason_is_true) {
    Sample s = sample_of("kite-harbour.json");
    NwPrintOrientation bed = nw_print_orientation_choose(s.meshes[2]);
    ck_assert_double_eq_tol(bed.contact_mm2 / 100, 20.4, 0.05);
    ck_assert_double_eq_tol(bed.overhang_mm2 / 100, 3.5, 0.05);
    char *text = nw_dup_print_orientation_text(&bed);
    ck_assert_ptr_nonnull(strstr(text, "; 3.5 cm² of overhang, needs support"));
    ck_assert_ptr_null(strstr(text, "least"));
    g_free(text);
    sample_clear(&s);
}
END_TEST

/* A mesh of which only the vertices matter. */
static NwSmallPart try_points(const double (*points)[3], size_t count, double scale) {
    NwFacets facets = {.points = g_malloc_n(count, sizeof *facets.points), .point_count = count};
    for (size_t i = 0; i < count; i++)
        for (int k = 0; k < 3; k++)
            facets.points[i][k] = scale * points[i][k];
    NwSmallPart part = nw_small_part_try(&facets, NULL);
    g_free(facets.points);
    return part;
}

static double value_of(const NwSmallPartsCylinderReason *reason, const double q[4]) {
    double value = 0;
    for (int i = 0; i < 4; i++)
        for (int k = 0; k < 4; k++)
            value += q[i] * reason->form[i][k] * q[k];
    return value;
}

static void random_turn(NwRandom *random, double q[4]) {
    double size = 0;
    for (int k = 0; k < 4; k++) {
        q[k] = nw_random_below(random, 2001) / 1000.0 - 1.0005;
        size += q[k] * q[k];
    }
    for (int k = 0; k < 4; k++)
        q[k] /= sqrt(size);
}

/* By how much points stick out of the gauge; and the reason must say the same of them as they are
 * turned, and never more than that of any other turn (weak duality). */
static double sticks_out(const double (*points)[3], size_t count, const double turn[4]) {
    double(*turned)[3] = g_malloc_n(count, sizeof *turned);
    NwSmallPartsCylinderReason reason, other;
    double out = nw_small_parts_cylinder_try(points, count, turn, turned, &reason);
    ck_assert_double_eq_tol(value_of(&reason, turn), out, 1e-6);
    NwRandom random = {5};
    for (int i = 0; i < 20; i++) {
        double q[4];
        random_turn(&random, q);
        ck_assert_double_le(value_of(&reason, q),
                            nw_small_parts_cylinder_try(points, count, q, turned, &other) + 1e-9);
    }
    g_free(turned);
    return out;
}

/* A ball of many vertices fits by its radius: the largest that touches wall, slanted floor and rim.
 * It must keep its radius from the rim's plane and from the wall, and along the floor's normal: the
 * bore lets in 15.875, and a ball on the axis has its middle at depth r, with the floor, which is
 * 25.4 + 15.875 deep there, (41.275 - r) / sqrt(2) away; so 41.275 / (1 + sqrt(2)) = 17.1 is more
 * than the bore, and the bore decides. */
START_TEST(the_cylinder_is_as_in_the_figure) {
    enum { TURNS = 40, RINGS = 21 };
    double(*ball)[3] = g_malloc_n(TURNS * RINGS, sizeof *ball);
    for (int r = 0; r < RINGS; r++)
        for (int t = 0; t < TURNS; t++) {
            double up = M_PI * r / (RINGS - 1), round = 2 * M_PI * t / TURNS;
            double *p = ball[r * TURNS + t];
            p[0] = sin(up) * cos(round);
            p[1] = sin(up) * sin(round);
            p[2] = cos(up);
        }
    const double upright[4] = {1, 0, 0, 0};
    double scaled[TURNS * RINGS][3];
    for (int i = 0; i < TURNS * RINGS; i++)
        for (int k = 0; k < 3; k++)
            scaled[i][k] = 15 * ball[i][k];
    ck_assert_double_eq_tol(sticks_out((const double(*)[3])scaled, TURNS * RINGS, upright),
                            15 - 15.875, 1e-3);
    g_free(ball);

    /* A stick without thickness, along the axis, at the deep side of the wall: 57.15 deep. */
    for (int k = 0; k < 2; k++) {
        const double stick[2][3] = {{0, 0, 0}, {0, 0, k ? 57.35 : 56.95}};
        double out = sticks_out(stick, 2, upright);
        ck_assert_msg((out > 0) == (k == 1), "%g", out);
    }
}
END_TEST

/* Solids that sit just inside and just outside: discs, a rod across the slant, and a cube. */
START_TEST(small_parts_are_told_by_a_hair) {
    enum { SIDES = 24 };
    static const double hairs_mm[2] = {-0.4, 0.4};
    for (int h = 0; h < 2; h++) {
        /* A cylinder of the bore's width and of the shallow depth: lying flat on no floor, it
         * touches the rim, the wall, and the floor's high side. */
        double drum[2 * SIDES][3];
        for (int i = 0; i < SIDES; i++)
            for (int end = 0; end < 2; end++) {
                double *p = drum[2 * i + end];
                p[0] = (15.875 - 0.005) * cos(2 * M_PI * i / SIDES);
                p[1] = (15.875 - 0.005) * sin(2 * M_PI * i / SIDES);
                p[2] = end * (25.4 + hairs_mm[h]);
            }
        NwSmallPart part = try_points((const double(*)[3])drum, 2 * SIDES, 1);
        ck_assert(part.settled);
        ck_assert_msg(part.fits == (h == 0), "drum %d: %g", h, part.sticks_out_mm);
    }
    /* A stick: the longest goes from the deepest point of the floor to the rim straight across,
     * sqrt(57.15^2 + 31.75^2) = 65.3773. It is let off by 0.05 mm at each end, on the safe side. */
    static const double stick_hairs_mm[2] = {-0.05, 2};
    for (int h = 0; h < 2; h++) {
        double length = hypot(57.15, 31.75) + stick_hairs_mm[h];
        const double stick[2][3] = {{0, 0, 0}, {length * 0.36, length * 0.48, length * 0.8}};
        NwSmallPart part = try_points(stick, 2, 1);
        ck_assert(part.settled);
        ck_assert_msg(part.fits == (h == 0), "stick %d: %g", h, part.sticks_out_mm);
    }
}
END_TEST

/* A cube: what is found is compared with a plain search over a fine grid of orientations. */
START_TEST(a_cube_is_settled) {
    const double corners[8][3] = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 0},
                                  {0, 0, 1}, {1, 0, 1}, {0, 1, 1}, {1, 1, 1}};
    /* Upright, its corners touch the wall at an edge of 31.75 / sqrt(2) = 22.4506, and no other way
     * is better: the next size is a proof, not a sample. */
    double high = 23;
    NwSmallPart inside = try_points(corners, 8, 22.44), outside = try_points(corners, 8, high);
    ck_assert(inside.settled && inside.fits);
    ck_assert(outside.settled && !outside.fits);
    double least = INFINITY;
    NwRandom random = {11};
    for (int i = 0; i < 20000; i++) {
        double q[4], turned[8][3], scaled[8][3];
        random_turn(&random, q);
        for (int v = 0; v < 8; v++)
            for (int k = 0; k < 3; k++)
                scaled[v][k] = corners[v][k] * high;
        least = fmin(least,
                     nw_small_parts_cylinder_try((const double(*)[3])scaled, 8, q, turned, NULL));
    }
    ck_assert_msg(least > 0, "a cube of %g fits after all: %g", high, least);
}
END_TEST

/* Whole pieces of one cell: a cube stands upright in the bore of 31.75 mm (16 CFR 1501.4, figure 1)
 * up to an edge of 31.75 / sqrt(2) = 22.4506 mm. Clearance counts: what it takes off makes the
 * piece small enough. */
START_TEST(pieces_of_one_cell_are_told_by_a_hair) {
    static const struct {
        double cell_mm, clearance_mm;
        bool fits;
    } rows[] = {{22.44, 0, true}, {22.7, 0, false}, {22.7, 0.15, true}};
    NwSolid *cube = named("cube", 1);
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        NwThin thin;
        NwOffsetSurface *skin =
            nw_offset_surface_new(cube, rows[i].cell_mm, rows[i].clearance_mm, NULL, &thin);
        NwFacets *facets = nw_facets_new(skin, NULL);
        NwSmallPart part = nw_small_part_try(facets, NULL);
        ck_assert(part.settled);
        ck_assert_msg(part.fits == rows[i].fits, "%g mm: %g", rows[i].cell_mm, part.sticks_out_mm);
        nw_facets_free(facets);
        nw_offset_surface_free(skin);
    }
    nw_solid_free(cube);
}
END_TEST

/* A plain second way to what sticks out, which knows no basis: thirds close in on the bore's
 * middle, first along y, then along x, for what is asked for is convex. */
static double plain_ask(const double (*p)[3], size_t count, double x, double y) {
    double wall = 0, top = -INFINITY, bottom = INFINITY;
    for (size_t i = 0; i < count; i++) {
        wall = fmax(wall, hypot(p[i][0] - x, p[i][1] - y));
        top = fmax(top, p[i][2]);
        bottom = fmin(bottom, p[i][0] + p[i][2]);
    }
    double allowed = bottom - top + 15.875 + 25.4;
    return fmax(wall - 15.875, (x - allowed) / (1 + M_SQRT2));
}

static double plain_along(const double (*p)[3], size_t count, double x) {
    double low = -100, high = 100;
    while (high - low > 1e-7) {
        double a = low + (high - low) / 3, b = high - (high - low) / 3;
        if (plain_ask(p, count, x, a) < plain_ask(p, count, x, b))
            high = b;
        else
            low = a;
    }
    return plain_ask(p, count, x, low);
}

static double plain_sticks_out(const double (*p)[3], size_t count) {
    double low = -200, high = 100;
    while (high - low > 1e-7) {
        double a = low + (high - low) / 3, b = high - (high - low) / 3;
        if (plain_along(p, count, a) < plain_along(p, count, b))
            high = b;
        else
            low = a;
    }
    return plain_along(p, count, low);
}

/* Clouds of one to nine points, flat and long ones too. */
START_TEST(the_gauge_agrees_with_a_plain_one) {
    static const double upright[4] = {1, 0, 0, 0};
    NwRandom random = {3};
    int pushed = 0;
    for (int i = 0; i < 120; i++) {
        double points[9][3];
        size_t count = 1 + (size_t)i % 9;
        for (size_t p = 0; p < count; p++)
            for (int k = 0; k < 3; k++)
                points[p][k] = (nw_random_below(&random, 2001) / 1000.0 - 1) * (k == i % 4   ? 40
                                                                                : k == i % 3 ? 3
                                                                                             : 18);
        double plain = plain_sticks_out((const double(*)[3])points, count);
        ck_assert_double_eq_tol(sticks_out((const double(*)[3])points, count, upright), plain,
                                1e-5);
        pushed += plain > 0;
    }
    ck_assert(pushed > 20 && pushed < 100);
}
END_TEST

/* A ball that is a hair too large is so in every orientation: the effort has an end, on the safe
 * side. One that is larger by a third of a millimetre is settled. */
START_TEST(what_cannot_be_settled_may_fit) {
    enum { TURNS = 40, RINGS = 21 };
    static const struct {
        double radius;
        bool settled, fits;
    } rows[] = {{15.9, true, true}, {15.935, false, true}, {16.2, true, false}};
    double ball[TURNS * RINGS][3];
    for (int r = 0; r < RINGS; r++)
        for (int t = 0; t < TURNS; t++) {
            double up = M_PI * r / (RINGS - 1), round = 2 * M_PI * t / TURNS;
            double *p = ball[r * TURNS + t];
            p[0] = sin(up) * cos(round);
            p[1] = sin(up) * sin(round);
            p[2] = cos(up);
        }
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        NwSmallPart part = try_points((const double(*)[3])ball, TURNS * RINGS, rows[i].radius);
        ck_assert_msg(part.settled == rows[i].settled && part.fits == rows[i].fits, "%g mm: %d %d",
                      rows[i].radius, part.settled, part.fits);
        ck_assert_int_lt(part.work, NW_SMALL_PARTS_WORK_MAX * 1.01);
    }
}
END_TEST

START_TEST(cautions_are_given_where_they_apply) {
    NwDesign *design = nw_make_named("tetrahedron", 1);
    NwFacets *facets = mesh_of(design->pieces[0].solid, 0);
    NwSmallPart part = nw_small_part_try(facets, NULL);
    ck_assert(part.fits && part.settled);
    char *text = nw_dup_small_part_caution("A", &part);
    ck_assert_ptr_nonnull(strstr(text, "16 CFR 1501.4"));
    g_free(text);
    NwTip *tips;
    size_t count = nw_solid_tips(design->pieces[0].solid, &tips);
    text = nw_dup_tips_caution("A", tips, count);
    ck_assert_ptr_nonnull(strstr(text, "4 sharp tips"));
    g_free(text);
    free(tips);
    nw_facets_free(facets);
    nw_design_free(design);

    NwSolid *cube = named("cube", 4);
    facets = mesh_of(cube, 0);
    part = nw_small_part_try(facets, NULL);
    ck_assert(!part.fits && part.settled);
    ck_assert_ptr_null(nw_dup_small_part_caution("B", &part));
    count = nw_solid_tips(cube, &tips);
    ck_assert_ptr_null(nw_dup_tips_caution("B", tips, count));
    free(tips);
    nw_facets_free(facets);
    nw_solid_free(cube);
    for (int tool = 0; tool < NW_TOOL_COUNT; tool++)
        ck_assert_uint_gt(strlen(nw_caution_for((NwTool)tool)), 20);
    ck_assert_ptr_nonnull(strstr(nw_caution_limits(), "no test of conformity"));
}
END_TEST

int main(int argc, char **argv) {
    if (argc < 2)
        return 2;
    design_folder = argv[1];
    Suite *suite = suite_create("mesh");
    TCase *shapes = tcase_create("shapes");
    tcase_set_timeout(shapes, 120);
    tcase_add_test(shapes, named_solids_have_their_volumes);
    tcase_add_test(shapes, clearance_moves_faces_inwards);
    tcase_add_test(shapes, shells_are_closed_whatever_touches);
    tcase_add_test(shapes, a_ring_has_a_hole);
    tcase_add_test(shapes, pits_break_through);
    tcase_add_test(shapes, meshes_of_bundled_designs_are_sound);
    tcase_add_test(shapes, meshes_of_random_solids_are_sound);
    tcase_add_test(shapes, fans_without_a_way_are_refused);
    tcase_add_loop_test(shapes, ragged_solids_are_meshed_or_refused, 0, 5);
    tcase_add_test(shapes, a_skin_that_is_stopped_says_so);
    tcase_add_test(shapes, features_that_vanish_are_named);
    tcase_add_test(shapes, triangles_are_measured);
    tcase_add_test(shapes, bundled_designs_keep_their_clearance);
    tcase_add_test(shapes, random_designs_keep_their_clearance);
    tcase_add_test(shapes, the_proof_can_fail);
    suite_add_tcase(suite, shapes);
    TCase *files = tcase_create("files");
    tcase_set_timeout(files, 120);
    tcase_add_test(files, stl_is_84_bytes_and_50_a_facet);
    tcase_add_test(files, nothing_is_left_to_mend);
    tcase_add_test(files, obj_reads_back);
    tcase_add_test(files, threemf_opens_elsewhere);
    tcase_add_test(files, odd_names_are_written_safely);
    tcase_add_test(files, pieces_lie_on_their_best_face);
    tcase_add_test(files, the_reason_is_true);
    suite_add_tcase(suite, files);
    TCase *cautions = tcase_create("cautions");
    tcase_set_timeout(cautions, 120);
    tcase_add_test(cautions, the_cylinder_is_as_in_the_figure);
    tcase_add_test(cautions, the_gauge_agrees_with_a_plain_one);
    tcase_add_test(cautions, what_cannot_be_settled_may_fit);
    tcase_add_test(cautions, small_parts_are_told_by_a_hair);
    tcase_add_test(cautions, a_cube_is_settled);
    tcase_add_test(cautions, pieces_of_one_cell_are_told_by_a_hair);
    tcase_add_test(cautions, cautions_are_given_where_they_apply);
    suite_add_tcase(suite, cautions);
    return run_suite(suite);
}
