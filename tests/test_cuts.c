/* Cut lists: angles, areas and volumes against the published constants of the regular and
 * Archimedean solids, panels counted and compared, blocks put together again, files read back.
 * The first argument is the folder of the bundled designs, the second that of the tests. */
#include <check.h>
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/memory.h"
#include "lattice/connect.h"
#include "lattice/named.h"
#include "make/dxf.h"
#include "make/output.h"
#include "make/plot_write.h"
#include "make/safety/safety_notes.h"
#include "make/stock/block_order.h"
#include "make/stock/blocks.h"
#include "make/stock/material.h"
#include "make/stock/nest.h"
#include "make/stock/panels.h"
#include "make/stock/table.h"
#include "make_fixture.h"
#include "plain/random_design.h"
#include "suite.h"

static const char *design_folder, *test_folder;

/* Published: E. Weisstein, MathWorld, and P. Cromwell, "Polyhedra" (1997), for edge length 1;
 * the formulas and angles are quoted from memory. The edge of each solid of size 1, in cells,
 * follows from its measure. */
static const struct {
    const char *name;
    int panels;
    double edge, area, volume;
    double angles[3]; /* 0 ends the list */
} constants[] = {
    {"tetrahedron", 4, 1.4142135623730951, 1.7320508075688772, 0.11785113019775792, {70.5288}},
    {"octahedron", 8, 1.4142135623730951, 3.4641016151377544, 0.47140452079103168, {109.4712}},
    {"cube", 6, 1, 6, 1, {90}},
    {"cuboctahedron", 14, 1.4142135623730951, 9.4641016151377544, 2.3570226039551585, {125.2644}},
    {"truncated-tetrahedron",
     8,
     1.4142135623730951,
     12.124355652982141,
     2.7105759945484321,
     {70.5288, 109.4712}},
    {"truncated-octahedron",
     14,
     1.4142135623730951,
     26.784609690826528,
     11.313708498984761,
     {109.4712, 125.2644}},
};

static const NwPanelOptions plain_panels = {.cell_mm = 20, .sheet_mm = 1};

static NwTableOptions table_options(double cell_mm) {
    return (NwTableOptions){cell_mm, "beech", 717, 1 << NW_TOOL_SAW, nw_paper_size_find("A4")};
}

START_TEST(named_solids_have_their_published_figures) {
    for (size_t i = 0; i < G_N_ELEMENTS(constants); i++) {
        NwDesign *design = nw_make_named(constants[i].name, 1);
        NwPanels *panels = nw_panels_new(design, &plain_panels, NULL);
        NwTableOptions options = table_options(20);
        NwTableRow row;
        double edge_mm = 20 * constants[i].edge, area = 0;
        int count = 0;
        ck_assert_ptr_nonnull(panels);
        for (size_t p = 0; p < panels->count; p++) {
            count += panels->panels[p].count;
            area += panels->panels[p].count * nw_region_area(&panels->panels[p].outside);
        }
        nw_table_row_fill(design->pieces[0].solid, &options, &row);
        ck_assert_int_eq(count, constants[i].panels);
        ck_assert_double_eq_tol(area, constants[i].area * edge_mm * edge_mm, 1e-6);
        ck_assert_double_eq_tol(row.volume_cm3, constants[i].volume * pow(edge_mm / 10, 3), 1e-9);
        ck_assert_double_eq_tol(row.mass_g, row.volume_cm3 * 0.717, 1e-9);
        for (size_t k = 0; k < 3 && constants[i].angles[k] > 0; k++) {
            ck_assert_uint_gt(row.angle_count, k);
            ck_assert_double_eq_tol(row.angles[k], constants[i].angles[k], 5e-5);
        }
        ck_assert_uint_eq(row.angle_count, constants[i].angles[1] > 0 ? 2 : 1);
        nw_table_row_clear(&row);
        nw_panels_free(panels);
        nw_design_free(design);
    }
}
END_TEST

/* A corner of a cell: three right angles and three of 54.7356 degrees. */
START_TEST(a_corner_has_its_angles) {
    NwDesign *design = nw_design_new("corner");
    NwSolid *solid = nw_solid_new();
    nw_solid_add(solid, nw_vec(0, 0, 0), 2);
    nw_design_take_piece(design, "A", solid);
    NwTableOptions options = table_options(30);
    NwTableRow row;
    nw_table_row_fill(solid, &options, &row);
    ck_assert_uint_eq(row.angle_count, 2);
    ck_assert_double_eq_tol(row.angles[0], 54.7356, 5e-5);
    ck_assert_double_eq_tol(row.angles[1], 90, 1e-9);
    ck_assert_double_eq_tol(row.volume_cm3, 27.0 / 6, 1e-12);
    ck_assert_double_eq_tol(row.box_mm[0], 30, 1e-12);
    nw_table_row_clear(&row);
    NwPanels *panels = nw_panels_new(design, &plain_panels, NULL);
    ck_assert_uint_eq(panels->count, 2); /* three like each other, and the slanted one */
    ck_assert_int_eq(panels->panels[0].count * panels->panels[1].count, 3);
    nw_panels_free(panels);
    nw_design_free(design);
}
END_TEST

/* Mitres: 45 degrees all round a cube; a cube's inside is smaller by the sheet on either side, and
 * its cut line larger by half the kerf. In a groove the tilt is negative and the inside larger. */
START_TEST(bevels_follow_the_sheet) {
    NwDesign *cube = nw_make_named("cube", 2);
    NwPanelOptions options = {.cell_mm = 20, .sheet_mm = 3, .kerf_mm = 0.2, .clearance_mm = 0.5};
    NwPanels *panels = nw_panels_new(cube, &options, NULL);
    ck_assert_uint_eq(panels->count, 1);
    const NwPanel *panel = &panels->panels[0];
    ck_assert_int_eq(panel->count, 6);
    ck_assert_uint_eq(panel->edge_count, 4);
    for (size_t i = 0; i < 4; i++) {
        ck_assert_double_eq_tol(panel->edges[i].tilt, 45, 1e-9);
        ck_assert_double_eq_tol(panel->edges[i].length_mm, 39, 1e-9);
    }
    ck_assert_double_eq_tol(nw_region_area(&panel->outside), 39 * 39, 1e-9);
    ck_assert_double_eq_tol(nw_region_area(&panel->inside), 33 * 33, 1e-9);
    ck_assert_double_eq_tol(nw_region_area(&panel->cut), 39.2 * 39.2, 1e-9);
    nw_panels_free(panels);
    /* An L of three cells: one groove of 270 degrees, between two panels. */
    NwDesign *ell = nw_design_new("L");
    NwSolid *solid = nw_solid_new();
    nw_solid_add(solid, nw_vec(0, 0, 0), NW_WHOLE);
    nw_solid_add(solid, nw_vec(1, 0, 0), NW_WHOLE);
    nw_solid_add(solid, nw_vec(0, 1, 0), NW_WHOLE);
    nw_design_take_piece(ell, "L", solid);
    panels = nw_panels_new(ell, &options, NULL);
    int grooves = 0, count = 0;
    for (size_t p = 0; p < panels->count; p++) {
        count += panels->panels[p].count;
        for (size_t i = 0; i < panels->panels[p].edge_count; i++)
            if (panels->panels[p].edges[i].tilt < 0) {
                grooves += panels->panels[p].count;
                ck_assert_double_eq_tol(panels->panels[p].edges[i].dihedral, 270, 1e-9);
                ck_assert_double_eq_tol(panels->panels[p].edges[i].tilt, -45, 1e-9);
            }
    }
    ck_assert_int_eq(count, 8);
    ck_assert_int_eq(grooves, 2);
    nw_panels_free(panels);
    nw_design_free(ell);
    nw_design_free(cube);
}
END_TEST

/* A piece turned has the same panels; of its mirror image those differ that are no image of their
 * own. */
START_TEST(equal_panels_are_found) {
    NwRandom random = {29};
    int chiral = 0;
    for (int round = 0; round < 40; round++) {
        NwDesign *design = nw_design_new("turned"), *mirrored = nw_design_new("mirrored");
        NwSolid *solid = nw_random_solid(&random, 6, false), *turned, *mirror;
        NwMotion motion = {1 + nw_random_below(&random, NW_ROTATIONS - 1), {2, 0, 0}};
        NwMotion flip = {NW_ROTATIONS, {0, 0, 0}};
        ck_assert_int_eq(nw_solid_moved(solid, motion, &turned), NW_OK);
        ck_assert_int_eq(nw_solid_moved(solid, flip, &mirror), NW_OK);
        nw_design_take_piece(design, "A", nw_solid_copy(solid));
        nw_design_take_piece(mirrored, "A", solid);
        nw_design_take_piece(design, "B", turned);
        nw_design_take_piece(mirrored, "B", mirror);
        NwPanelOptions options = {.cell_mm = 20, .sheet_mm = 0.2};
        NwPanels *panels = nw_panels_new(design, &options, NULL);
        ck_assert_ptr_nonnull(panels);
        int count = 0;
        for (size_t p = 0; p < panels->count; p++) {
            ck_assert_int_eq(panels->panels[p].count % 2, 0); /* as many in either */
            count += panels->panels[p].count;
        }
        NwPieceFaces *faces = nw_faces_new(solid);
        ck_assert_int_eq(count, 2 * (int)faces->count);
        nw_faces_free(faces);
        size_t alike = panels->count;
        nw_panels_free(panels);
        panels = nw_panels_new(mirrored, &options, NULL);
        ck_assert_uint_ge(panels->count, alike);
        chiral += panels->count > alike;
        nw_panels_free(panels);
        nw_design_free(design);
        nw_design_free(mirrored);
    }
    ck_assert_int_gt(chiral, 5);
}
END_TEST

static void check_panel_refused(const NwDesign *design, NwPanelOptions options) {
    GError *error = NULL;
    ck_assert_ptr_null(nw_panels_new(design, &options, &error));
    ck_assert(g_error_matches(error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT));
    ck_assert(strstr(error->message, "--sheet-mm") != NULL);
    g_error_free(error);
}

START_TEST(thick_sheet_is_refused) {
    NwDesign *cube = nw_make_named("cube", 2), *octahedron = nw_make_named("octahedron", 1);
    NwPanelOptions options = {.cell_mm = 20, .sheet_mm = 10};
    check_panel_refused(cube, options);
    /* the octahedron's inscribed sphere has a radius of 20 / sqrt(3) = 11.5, but half a cell is
     * less; with clearance nothing is left below that too */
    options.sheet_mm = 9.9;
    NwPanels *panels = nw_panels_new(octahedron, &options, NULL);
    ck_assert_ptr_nonnull(panels);
    nw_panels_free(panels);
    options.clearance_mm = 2;
    check_panel_refused(octahedron, options);
    nw_design_free(cube);
    nw_design_free(octahedron);
}
END_TEST

/* ---- blocks ------------------------------------------------------------------------------- */

static const int volumes6[NW_BLOCK_KINDS] = {8, 6, 3, 2, 1};

/* The blocks of a solid, put together, are the solid; each is what its kind says, and is glued to
 * one before it if the solid is of one piece. */
static NwBlocks *checked_blocks(const NwSolid *solid) {
    NwBlocks *blocks = nw_blocks_new(solid, NULL);
    NwSolid *whole = nw_solid_new();
    int counts[NW_BLOCK_KINDS] = {0};
    for (size_t i = 0; i < blocks->count; i++) {
        const NwBlock *block = &blocks->blocks[i];
        double touch = 0;
        counts[block->kind]++;
        ck_assert_int_eq(nw_solid_volume6(block->solid), volumes6[block->kind]);
        ck_assert_uint_eq(nw_solid_lumps(block->solid), 1);
        ck_assert(!nw_solid_overlaps(whole, block->solid));
        for (size_t k = 0; k < i; k++)
            touch += nw_blocks_contact(block, &blocks->blocks[k]);
        ck_assert(i == 0 || touch > 0.4 || nw_solid_lumps(solid) > 1);
        NwSolid *more = nw_solid_union(whole, block->solid);
        nw_solid_free(whole);
        whole = more;
    }
    for (int kind = 0; kind < NW_BLOCK_KINDS; kind++)
        ck_assert_int_eq(counts[kind], blocks->counts[kind]);
    ck_assert(nw_solid_equal(whole, solid));
    nw_solid_free(whole);
    return blocks;
}

START_TEST(blocks_make_the_piece) {
    NwRandom random = {17};
    for (int i = 0; i < 80; i++) {
        NwSolid *solid = nw_random_solid(&random, 1 + i % 30, i % 4 == 0);
        NwBlocks *blocks = checked_blocks(solid);
        ck_assert_uint_le(blocks->count, nw_solid_parts(solid));
        nw_blocks_free(blocks);
        nw_solid_free(solid);
    }
}
END_TEST

static void check_blocks_of(const NwDesign *design) {
    for (size_t i = 0; i < design->piece_count; i++)
        nw_blocks_free(checked_blocks(design->pieces[i].solid));
}

START_TEST(blocks_of_bundled_designs) {
    nw_make_each_design(design_folder, check_blocks_of);
}
END_TEST

/* Known cases. The stella octangula of edge 2 is an octahedron with eight tetrahedra, nine blocks,
 * but also eight half cells; an octahedron that shares a cell with whole stock is worth breaking
 * the cell up for. */
START_TEST(fewest_blocks_are_found) {
    static const struct {
        const char *name;
        int size;
        int counts[NW_BLOCK_KINDS];
    } known[] = {{"octahedron", 1, {1, 0, 0, 0, 0}},
                 {"cube", 2, {0, 8, 0, 0, 0}},
                 {"tetrahedron", 1, {0, 0, 0, 1, 0}},
                 {"stella-octangula", 2, {0, 0, 8, 0, 0}}};
    for (size_t i = 0; i < G_N_ELEMENTS(known); i++) {
        NwDesign *design = nw_make_named(known[i].name, known[i].size);
        NwBlocks *blocks = checked_blocks(design->pieces[0].solid);
        ck_assert(blocks->least);
        for (int kind = 0; kind < NW_BLOCK_KINDS; kind++)
            ck_assert_int_eq(blocks->counts[kind], known[i].counts[kind]);
        for (size_t k = 0; k < blocks->count; k++)
            ck_assert(blocks->blocks[k].straight);
        nw_blocks_free(blocks);
        nw_design_free(design);
    }
    NwDesign *design = nw_make_named("octahedron", 1);
    NwSolid *solid = design->pieces[0].solid;
    NwVec cell = nw_cell_at(&solid->cells[0]);
    nw_solid_add(solid, cell, NW_WHOLE);
    NwBlocks *blocks = checked_blocks(solid);
    const int wanted[NW_BLOCK_KINDS] = {1, 0, 1, 0, 2};
    ck_assert_mem_eq(blocks->counts, wanted, sizeof wanted);
    nw_blocks_free(blocks);
    nw_design_free(design);
}
END_TEST

/* ---- nests ------------------------------------------------------------------------------- */

/* The outline of a blank where it lies, and its box. */
static NwBox laid_box(const NwRegion *region, const NwBlank *blank, double *area) {
    NwRegion laid = {NULL, 0, 0};
    for (size_t k = 0; k < region->count; k++) {
        nw_region_begin(&laid);
        for (size_t i = 0; i < region->loops[k].count; i++)
            nw_region_add(&laid, nw_blank_point(blank, region->loops[k].points[i]));
    }
    NwBox box = nw_region_box(&laid);
    *area += nw_region_area(&laid);
    nw_region_clear(&laid);
    return box;
}

/* All copies are there, within their sheets with their kerf, and none nearer than the gap. */
static size_t check_nest(const NwPanels *panels, const NwPanelOptions *options) {
    GError *error = NULL;
    NwNest *nest = nw_nest_new(panels, options, &error);
    ck_assert_msg(nest != NULL, "%s", error ? error->message : "");
    double area = 0, wanted = 0, kerf = options->kerf_mm, touch = 1e-6;
    NwBox *boxes = g_new(NwBox, nest->count);
    size_t at = 0;
    for (size_t p = 0; p < panels->count; p++) {
        wanted += panels->panels[p].count * nw_region_area(&panels->panels[p].cut);
        for (int copy = 0; copy < panels->panels[p].count; copy++, at++) {
            ck_assert_uint_lt(at, nest->count);
            ck_assert_uint_eq(nest->blanks[at].panel, p);
        }
    }
    ck_assert_uint_eq(at, nest->count);
    for (size_t i = 0; i < nest->count; i++) {
        const NwBlank *blank = &nest->blanks[i];
        boxes[i] = laid_box(&panels->panels[blank->panel].cut, blank, &area);
        ck_assert_uint_lt(blank->sheet, nest->sheet_count);
        bool lies = boxes[i].high.x - boxes[i].low.x >= boxes[i].high.y - boxes[i].low.y - touch;
        ck_assert(lies || !options->grain);
        ck_assert(boxes[i].low.x >= kerf / 2 - touch && boxes[i].low.y >= kerf / 2 - touch);
        ck_assert(boxes[i].high.x <= options->stock_width_mm - kerf / 2 + touch);
        ck_assert(boxes[i].high.y <= options->stock_height_mm - kerf / 2 + touch);
        for (size_t k = 0; k < i; k++) {
            double x = fmax(boxes[i].low.x - boxes[k].high.x, boxes[k].low.x - boxes[i].high.x);
            double y = fmax(boxes[i].low.y - boxes[k].high.y, boxes[k].low.y - boxes[i].high.y);
            ck_assert(blank->sheet != nest->blanks[k].sheet ||
                      fmax(x, y) >= NW_NEST_GAP_MM + kerf - touch);
        }
    }
    ck_assert_double_eq_tol(area, wanted, 1e-6 * wanted);
    size_t sheets = nest->sheet_count;
    ck_assert((double)sheets * options->stock_width_mm * options->stock_height_mm >= area);
    g_free(boxes);
    nw_nest_free(nest);
    return sheets;
}

static void check_nests(const NwDesign *design) {
    static const double stocks[][2] = {{300, 200}, {200, 300}, {610, 410}, {150, 900}};
    for (size_t i = 0; i < G_N_ELEMENTS(stocks); i++) {
        NwPanelOptions options = {.cell_mm = 20,
                                  .sheet_mm = 2,
                                  .kerf_mm = 0.3,
                                  .stock_width_mm = stocks[i][0],
                                  .stock_height_mm = stocks[i][1]};
        NwPanels *panels = nw_panels_new(design, &options, NULL);
        size_t free_sheets = check_nest(panels, &options);
        options.grain = true;
        ck_assert_uint_le(free_sheets, check_nest(panels, &options));
        nw_panels_free(panels);
    }
}

START_TEST(nests_hold_all_panels) {
    nw_make_each_design(design_folder, check_nests);
    /* Six squares of 19.8 mm with a kerf of 0.2: two rows of three on a sheet, just. */
    NwDesign *cube = nw_make_named("cube", 1);
    NwPanelOptions options = {.cell_mm = 20, .sheet_mm = 1, .kerf_mm = 0.2, .clearance_mm = 0.2};
    NwPanels *panels = nw_panels_new(cube, &options, NULL);
    options.stock_width_mm = 3 * 20 + 2 * NW_NEST_GAP_MM;
    options.stock_height_mm = 2 * 20 + NW_NEST_GAP_MM;
    ck_assert_uint_eq(check_nest(panels, &options), 1);
    options.stock_height_mm -= 0.01;
    ck_assert_uint_eq(check_nest(panels, &options), 2);
    options.stock_height_mm = 20;
    ck_assert_uint_eq(check_nest(panels, &options), 2);
    NwNest *nest = nw_nest_new(panels, &options, NULL);
    char *text = nw_dup_nest_text(nest);
    ck_assert_str_eq(text, "2 sheets of 72 × 20 mm");
    g_free(text);
    nw_nest_free(nest);
    options.stock_height_mm = 19.9;
    GError *error = NULL;
    ck_assert_ptr_null(nw_nest_new(panels, &options, &error));
    ck_assert_ptr_nonnull(strstr(error->message, "panel 1 (A 1 2 3 4 5 6) needs 20.0 × 20.0 mm"));
    g_error_free(error);
    nw_panels_free(panels);
    nw_design_free(cube);
}
END_TEST

/* A panel that is longer than the sheet is high lies along it, unless the sheet has a grain. */
START_TEST(a_grain_forbids_turns) {
    NwDesign *design = nw_design_new("bar");
    NwSolid *bar = nw_solid_new();
    for (int z = 0; z < 4; z++)
        nw_solid_add(bar, nw_vec(0, 0, z), NW_WHOLE);
    nw_design_take_piece(design, "A", bar);
    NwPanelOptions options = {
        .cell_mm = 20, .sheet_mm = 1, .stock_width_mm = 40, .stock_height_mm = 200};
    NwPanels *panels = nw_panels_new(design, &options, NULL);
    check_nest(panels, &options);
    options.grain = true;
    GError *error = NULL;
    ck_assert_ptr_null(nw_nest_new(panels, &options, &error));
    ck_assert_ptr_nonnull(strstr(error->message, "--stock-width-mm"));
    g_error_free(error);
    nw_panels_free(panels);
    nw_design_free(design);
}
END_TEST

/* ---- files -------------------------------------------------------------------------------- */

/* Reads the panels' DXF with a general library, and their SVG with another; both must say
 * millimetres and have an outline for each panel, in the same box. */
static void check_plot(const NwPlot *plot, size_t expected) {
    char *folder = nw_make_scratch();
    GBytes *dxf = nw_plot_to_dxf(plot), *svg = nw_plot_to_svg(plot, "panels");
    nw_make_save(folder, "panels.dxf", dxf);
    nw_make_save(folder, "panels.svg", svg);
    size_t loops = 0;
    NwPoint low = {INFINITY, INFINITY}, high = {-INFINITY, -INFINITY};
    for (size_t s = 0; s < plot->stroke_count; s++) {
        if (plot->strokes[s].ink != NW_INK_CUT)
            continue;
        loops++;
        for (size_t k = 0; k < plot->strokes[s].count; k++) {
            NwPoint p = plot->strokes[s].points[k];
            low = (NwPoint){fmin(low.x, p.x), fmin(low.y, p.y)};
            high = (NwPoint){fmax(high.x, p.x), fmax(high.y, p.y)};
        }
    }
    ck_assert_uint_eq(loops, expected);
    ck_assert(low.x >= 0 && low.y >= 0 && high.x <= plot->width_mm && high.y <= plot->height_mm);
    char *script = g_build_filename(test_folder, "read_dxf.py", NULL);
    const char *const read[] = {"/usr/bin/python3", script, "panels.dxf", NULL};
    char *out = nw_make_run(folder, read);
    if (out && *out) {
        char version[16];
        int units, faults, cuts, texts;
        double box[4];
        ck_assert_int_eq(sscanf(out, "%15s %d %d %d %d %lf %lf %lf %lf", version, &units, &faults,
                                &cuts, &texts, &box[0], &box[1], &box[2], &box[3]),
                         9);
        ck_assert_str_eq(version, "AC1015");
        ck_assert_int_eq(units, 4);
        ck_assert_int_eq(faults, 0);
        ck_assert_int_eq(cuts, (int)loops);
        ck_assert_int_eq(texts, (int)plot->label_count);
        ck_assert_double_eq_tol(box[0], low.x, 1e-3);
        ck_assert_double_eq_tol(box[1], low.y, 1e-3);
        ck_assert_double_eq_tol(box[2], high.x, 1e-3);
        ck_assert_double_eq_tol(box[3], high.y, 1e-3);
    }
    g_free(out);
    const char *const look[] = {"xmllint",
                                "--nonet",
                                "--xpath",
                                "concat(number(substring-before(/*/@width,'mm')),' ',"
                                "number(substring-before(/*/@height,'mm')),' ',"
                                "substring-after(/*/@viewBox,'0 0 '),' ',"
                                "count(//*[@id='CUT']/*))",
                                "panels.svg",
                                NULL};
    out = nw_make_run(folder, look);
    if (out) {
        double width, height, box_x, box_y;
        int cuts;
        ck_assert_int_eq(sscanf(out, "%lf %lf %lf %lf %d", &width, &height, &box_x, &box_y, &cuts),
                         5);
        ck_assert_double_eq_tol(width, plot->width_mm, 1e-3);
        ck_assert_double_eq_tol(height, plot->height_mm, 1e-3);
        ck_assert_double_eq_tol(box_x, width, 1e-9); /* a unit is a millimetre */
        ck_assert_double_eq_tol(box_y, height, 1e-9);
        ck_assert_int_eq(cuts, (int)loops);
    }
    g_free(out);
    g_free(script);
    g_bytes_unref(dxf);
    g_bytes_unref(svg);
    nw_make_clean(folder);
}

/* The panels of a design side by side, and nested on sheets. */
static void check_files(const NwDesign *design) {
    NwPanelOptions options = {.cell_mm = 20,
                              .sheet_mm = 2,
                              .kerf_mm = 0.1,
                              .stock_width_mm = 300,
                              .stock_height_mm = 200};
    NwPanels *panels = nw_panels_new(design, &options, NULL);
    NwPlot *plot = nw_panels_plot(panels, design, &options);
    size_t once = 0, all = 0;
    for (size_t p = 0; p < panels->count; p++) {
        once += panels->panels[p].cut.count;
        all += panels->panels[p].cut.count * (size_t)panels->panels[p].count;
    }
    check_plot(plot, once);
    nw_plot_free(plot);
    NwNest *nest = nw_nest_new(panels, &options, NULL);
    plot = nw_nest_plot(nest, panels, design, &options);
    check_plot(plot, all);
    size_t rims = 0;
    for (size_t s = 0; s < plot->stroke_count; s++)
        rims += plot->strokes[s].ink == NW_INK_STOCK;
    ck_assert_uint_eq(rims, nest->sheet_count);
    nw_plot_free(plot);
    nw_nest_free(nest);
    nw_panels_free(panels);
}

START_TEST(drawings_are_read_back) {
    nw_make_each_design(design_folder, check_files);
}
END_TEST

/* The DXF by its own groups, for where no library is: the units stand in the header. */
START_TEST(dxf_says_millimetres) {
    NwPlot *plot = nw_plot_new(10, 10);
    nw_plot_label(plot, (NwPoint){1, 1}, 2, 0, 0, false, "45° × 2");
    GBytes *dxf = nw_plot_to_dxf(plot);
    gsize size;
    const char *text = g_bytes_get_data(dxf, &size);
    ck_assert(g_strstr_len(text, (gssize)size, "\n9\n$INSUNITS\n70\n4\n"));
    ck_assert(g_strstr_len(text, (gssize)size, "\n1\n45\\U+00B0 \\U+00D7 2\n"));
    ck_assert(g_str_has_suffix(text + size - 6, "0\nEOF\n"));
    g_bytes_unref(dxf);
    nw_plot_free(plot);
}
END_TEST

START_TEST(materials_and_table) {
    ck_assert_double_eq_tol(nw_material_find("Beech")->density_kg_m3, 717, 0.5);
    ck_assert_double_eq_tol(nw_material_find("birch")->density_kg_m3, 694, 0.5);
    ck_assert_double_eq_tol(nw_material_find("cherry")->density_kg_m3, 560, 0.5);
    ck_assert_double_eq_tol(nw_material_find("acrylic")->density_kg_m3, 1190, 0.5);
    ck_assert_ptr_null(nw_material_find("lead"));
    NwDesign *design = nw_make_named("cube", 2);
    free(design->pieces[0].name);
    design->pieces[0].name = nw_dup_string("=A, \"1\"");
    NwTableOptions options = table_options(25);
    char *csv = nw_table_csv(design, &options);
    char **lines = g_strsplit(csv, "\r\n", -1);
    ck_assert_str_eq(lines[1], "\"'=A, \"\"1\"\"\",1,125.0000,89.62,beech,717.0,50.000,50.000,"
                               "50.000,90.0000");
    ck_assert_str_eq(lines[2], "");
    g_strfreev(lines);
    g_free(csv);
    size_t count;
    for (size_t i = 0; i < 60; i++) {
        char name[16];
        g_snprintf(name, sizeof name, "piece %d", (int)i);
        nw_design_take_piece(design, name, nw_solid_copy(design->pieces[0].solid));
    }
    NwPlot **pages = nw_table_pages(design, &options, &count);
    ck_assert_uint_eq(count, 2);
    size_t names = 0;
    for (size_t p = 0; p < count; p++) {
        for (size_t i = 0; i < pages[p]->label_count; i++) {
            names += g_str_has_prefix(pages[p]->labels[i].text, "piece ");
            ck_assert(pages[p]->labels[i].at.y > NW_PAPER_MARGIN_MM);
        }
        nw_plot_free(pages[p]);
    }
    ck_assert_uint_eq(names, 60);
    free(pages);
    nw_design_free(design);
}
END_TEST

/* Two files, of which the second cannot be written: the first keeps what it had. */
START_TEST(files_are_written_whole_or_not) {
    char *folder = nw_make_scratch(), *text;
    char *first = g_build_filename(folder, "first", NULL);
    char *second = g_build_filename(folder, "none", "second", NULL);
    GError *error = NULL;
    ck_assert(g_file_set_contents(first, "old", -1, NULL));
    NwOutput *output = nw_output_new();
    nw_output_take_text(output, first, g_strdup("new"));
    nw_output_take_text(output, second, g_strdup("new"));
    ck_assert(!nw_output_write(output, &error));
    ck_assert(strstr(error->message, "second") != NULL);
    g_error_free(error);
    nw_output_free(output);
    ck_assert(g_file_get_contents(first, &text, NULL, NULL));
    ck_assert_str_eq(text, "old");
    g_free(text);
    output = nw_output_new();
    nw_output_take_text(output, first, g_strdup("new"));
    ck_assert(nw_output_write(output, NULL));
    nw_output_free(output);
    ck_assert(g_file_get_contents(first, &text, NULL, NULL));
    ck_assert_str_eq(text, "new");
    g_free(text);
    GDir *dir = g_dir_open(folder, 0, NULL);
    ck_assert_str_eq(g_dir_read_name(dir), "first");
    ck_assert_ptr_null(g_dir_read_name(dir)); /* nothing is left lying about */
    g_dir_close(dir);
    g_free(first);
    g_free(second);
    nw_make_clean(folder);
}
END_TEST

static gboolean write_one(const char *path, GError **error) {
    NwOutput *output = nw_output_new();
    nw_output_take_text(output, path, g_strdup("new"));
    gboolean written = nw_output_write(output, error);
    nw_output_free(output);
    return written;
}

/* A link stays one: the file where it leads is replaced, or made, and keeps its permissions. */
START_TEST(files_are_written_where_links_lead) {
    char *folder = nw_make_scratch(), *text;
    char *file = g_build_filename(folder, "file", NULL);
    char *link = g_build_filename(folder, "link", NULL);
    char *again = g_build_filename(folder, "again", NULL);
    ck_assert_int_eq(symlink("file", link), 0);
    ck_assert_int_eq(symlink(link, again), 0);
    for (int is_there = 0; is_there < 2; is_there++) {
        struct stat at;
        if (is_there) {
            ck_assert(g_file_set_contents(file, "old", -1, NULL));
            ck_assert_int_eq(g_chmod(file, 0640), 0);
        }
        ck_assert(write_one(again, NULL));
        ck_assert(g_file_test(again, G_FILE_TEST_IS_SYMLINK));
        ck_assert(g_file_test(link, G_FILE_TEST_IS_SYMLINK));
        ck_assert(g_file_get_contents(file, &text, NULL, NULL));
        ck_assert_str_eq(text, "new");
        g_free(text);
        ck_assert_int_eq(g_stat(file, &at), 0);
        if (is_there)
            ck_assert_int_eq(at.st_mode & 0777, 0640);
    }
    g_free(file);
    g_free(link);
    g_free(again);
    nw_make_clean(folder);
}
END_TEST

/* A pipe, and a device at the end of a link, are told apart from files and stay what they are. */
START_TEST(devices_are_refused) {
    char *folder = nw_make_scratch();
    char *pipe = g_build_filename(folder, "pipe", NULL);
    char *device = g_build_filename(folder, "device", NULL);
    ck_assert_int_eq(mkfifo(pipe, 0644), 0);
    ck_assert_int_eq(symlink("/dev/full", device), 0);
    const char *const paths[] = {pipe, device};
    for (size_t i = 0; i < 2; i++) {
        GError *error = NULL;
        struct stat at;
        ck_assert(!write_one(paths[i], &error));
        ck_assert(g_error_matches(error, G_FILE_ERROR, G_FILE_ERROR_INVAL));
        ck_assert_ptr_nonnull(strstr(error->message, paths[i]));
        ck_assert_ptr_nonnull(strstr(error->message, "choose another name"));
        g_error_free(error);
        ck_assert_int_eq(g_stat(paths[i], &at), 0);
        ck_assert(i ? S_ISCHR(at.st_mode) : S_ISFIFO(at.st_mode));
    }
    g_free(pipe);
    g_free(device);
    nw_make_clean(folder);
}
END_TEST

int main(int argc, char **argv) {
    if (argc < 3)
        return 2;
    design_folder = argv[1];
    test_folder = argv[2];
    Suite *suite = suite_create("cuts");
    TCase *cases = tcase_create("cuts");
    tcase_set_timeout(cases, 120);
    tcase_add_test(cases, named_solids_have_their_published_figures);
    tcase_add_test(cases, a_corner_has_its_angles);
    tcase_add_test(cases, bevels_follow_the_sheet);
    tcase_add_test(cases, equal_panels_are_found);
    tcase_add_test(cases, thick_sheet_is_refused);
    tcase_add_test(cases, blocks_make_the_piece);
    tcase_add_test(cases, blocks_of_bundled_designs);
    tcase_add_test(cases, fewest_blocks_are_found);
    tcase_add_test(cases, nests_hold_all_panels);
    tcase_add_test(cases, a_grain_forbids_turns);
    tcase_add_test(cases, drawings_are_read_back);
    tcase_add_test(cases, dxf_says_millimetres);
    tcase_add_test(cases, materials_and_table);
    tcase_add_test(cases, files_are_written_whole_or_not);
    tcase_add_test(cases, files_are_written_where_links_lead);
    tcase_add_test(cases, devices_are_refused);
    suite_add_tcase(suite, cases);
    return run_suite(suite);
}
