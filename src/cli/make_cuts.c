#include <errno.h>
#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "cli/make.h"
#include "cli/make_options.h"
#include "make/blocks.h"
#include "make/dxf.h"
#include "make/material.h"
#include "make/panels.h"
#include "make/plot_write.h"
#include "make/table.h"

/* What the command line says. */
typedef struct Wish {
    NwPanelOptions panels;
    NwTableOptions table;
    double density;
    char *out, *only, *material, *paper, *store;
} Wish;

typedef gboolean Part(NwOutput *output, const Wish *wish, const NwDesign *design, GError **error);

static void take(NwOutput *output, const Wish *wish, const char *name, GBytes *bytes) {
    char *path = g_build_filename(wish->out, name, NULL);
    nw_output_take(output, path, bytes);
    g_free(path);
}

static void take_text(NwOutput *output, const Wish *wish, const char *name, char *text) {
    take(output, wish, name, g_bytes_new_take(text, strlen(text)));
}

static gboolean add_panels(NwOutput *output, const Wish *wish, const NwDesign *design,
                           GError **error) {
    NwPanels *panels = nw_panels_new(design, &wish->panels, error);
    if (!panels)
        return FALSE;
    NwPlot *plot = nw_panels_plot(panels, design, &wish->panels);
    take(output, wish, "panels.svg", nw_plot_to_svg(plot, design->name));
    take(output, wish, "panels.dxf", nw_plot_to_dxf(plot));
    take_text(output, wish, "panels.csv", nw_panels_csv(panels));
    nw_plot_free(plot);
    nw_panels_free(panels);
    return TRUE;
}

static gboolean add_blocks(NwOutput *output, const Wish *wish, const NwDesign *design,
                           GError **error) {
    (void)error;
    take_text(output, wish, "blocks.txt", nw_blocks_text(design, wish->table.cell_mm));
    return TRUE;
}

static gboolean add_table(NwOutput *output, const Wish *wish, const NwDesign *design,
                          GError **error) {
    size_t count;
    NwPlot **pages = nw_table_pages(design, &wish->table, &count);
    GBytes *pdf = nw_plots_to_pdf((const NwPlot *const *)pages, count, design->name, error);
    if (pdf) {
        take(output, wish, "table.pdf", pdf);
        take_text(output, wish, "table.csv", nw_table_csv(design, &wish->table));
    }
    for (size_t i = 0; i < count; i++)
        nw_plot_free(pages[i]);
    free(pages);
    return pdf != NULL;
}

static const struct {
    const char *name;
    Part *add;
} parts[] = {{"panels", add_panels}, {"blocks", add_blocks}, {"table", add_table}};

static gboolean read_material(Wish *wish) {
    const NwMaterial *material = nw_material_find(wish->material ? wish->material : "beech");
    if (wish->density > 0) {
        wish->table.material = wish->material ? wish->material : _("own density");
        wish->table.density_kg_m3 = wish->density;
    } else if (material) {
        wish->table.material = material->name;
        wish->table.density_kg_m3 = material->density_kg_m3;
    } else {
        GString *names = g_string_new(NULL);
        for (size_t i = 0; nw_material(i); i++)
            g_string_append_printf(names, "%s%s", i ? ", " : "", nw_material(i)->name);
        nw_complain(_("there is no material “%s”: choose one of %s, or say how heavy it is with "
                      "--density"),
                    wish->material, names->str);
        g_string_free(names, TRUE);
        return FALSE;
    }
    if (wish->density > 0 && !wish->material)
        material = NULL;
    wish->table.caution = _(material ? material->caution : nw_material_any_caution());
    wish->panels.caution = wish->table.caution;
    return TRUE;
}

static gboolean read_only(const Wish *wish) {
    for (gsize i = 0; wish->only && i < G_N_ELEMENTS(parts); i++)
        if (strcmp(parts[i].name, wish->only) == 0)
            return TRUE;
    if (wish->only)
        nw_complain(_("--only takes panels, blocks or table, not “%s”"), wish->only);
    return !wish->only;
}

static gboolean read_wish(Wish *wish) {
    NwPanelOptions *p = &wish->panels;
    if (!wish->out) {
        nw_complain(_("--out is missing: name a folder for the files"));
        return FALSE;
    }
    if (wish->density < 0 || wish->density > 30000 || wish->density != wish->density) {
        nw_complain(_("--density takes kilograms per cubic metre, up to 30000"));
        return FALSE;
    }
    wish->table.cell_mm = p->cell_mm;
    wish->table.paper = nw_make_paper(wish->paper);
    return wish->table.paper && nw_make_number("--cell-mm", p->cell_mm, 1, 500) &&
           nw_make_number("--sheet-mm", p->sheet_mm, 0.1, 100) &&
           nw_make_number("--kerf-mm", p->kerf_mm, 0, 10) &&
           nw_make_number("--clearance-mm", p->clearance_mm, 0, 20) && read_only(wish) &&
           read_material(wish);
}

static NwExit make(const Wish *wish, const NwDesign *design) {
    GError *error = NULL;
    NwOutput *output = nw_output_new();
    NwExit exit = NW_EXIT_COMPLETE;
    for (gsize i = 0; exit == NW_EXIT_COMPLETE && i < G_N_ELEMENTS(parts); i++)
        if ((!wish->only || strcmp(parts[i].name, wish->only) == 0) &&
            !parts[i].add(output, wish, design, &error))
            exit = nw_give_up(error, NW_EXIT_USAGE);
    if (exit == NW_EXIT_COMPLETE && g_mkdir_with_parents(wish->out, 0777) < 0) {
        nw_complain(_("the folder “%s” cannot be made: %s"), wish->out, g_strerror(errno));
        exit = NW_EXIT_FAILED;
    }
    if (exit == NW_EXIT_COMPLETE)
        exit = (NwExit)nw_make_write(output);
    nw_output_free(output);
    return exit;
}

NwExit nw_make_cuts(int argc, char **argv) {
    static char name[] = "make cuts";
    Wish wish = {.panels = {.cell_mm = 20, .sheet_mm = 3}};
    const GOptionEntry options[] = {
        {"out", 'o', 0, G_OPTION_ARG_FILENAME, &wish.out, N_("Write the files into this folder"),
         N_("FOLDER")},
        {"only", 0, 0, G_OPTION_ARG_STRING, &wish.only,
         N_("Write only the panels, the blocks or the table"), N_("PART")},
        {"cell-mm", 0, 0, G_OPTION_ARG_DOUBLE, &wish.panels.cell_mm, N_("Length of a cell (20)"),
         N_("MM")},
        {"sheet-mm", 0, 0, G_OPTION_ARG_DOUBLE, &wish.panels.sheet_mm,
         N_("Thickness of the sheet for panels (3)"), N_("MM")},
        {"kerf-mm", 0, 0, G_OPTION_ARG_DOUBLE, &wish.panels.kerf_mm,
         N_("What the saw or laser takes away (0)"), N_("MM")},
        {"clearance-mm", 0, 0, G_OPTION_ARG_DOUBLE, &wish.panels.clearance_mm,
         N_("Play on every side of a hollow piece (0)"), N_("MM")},
        {"material", 0, 0, G_OPTION_ARG_STRING, &wish.material,
         N_("acrylic, beech (the default), birch, cherry or PLA"), N_("NAME")},
        {"density", 0, 0, G_OPTION_ARG_DOUBLE, &wish.density,
         N_("Density of the material, where it is another"), N_("KG/M³")},
        {"paper", 0, 0, G_OPTION_ARG_STRING, &wish.paper, N_("A4 (the default), A3 or Letter"),
         N_("NAME")},
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &wish.store, N_("The store to find designs in"),
         N_("FILE")},
        {NULL}};
    argv[0] = name;
    NwExit exit = NW_EXIT_USAGE;
    if (nw_verb_parse(&argc, &argv, options, _("DESIGN --out FOLDER"),
                      _("Lists what to cut.\n\n"
                        "  panels  every face of a hollow piece, with the tilt of the saw: "
                        "panels.svg, .dxf, .csv\n"
                        "  blocks  cores, corners and larger solids to glue, in order: blocks.txt\n"
                        "  table   volume, mass, box and angles of each piece: table.csv, .pdf"),
                      1, 1) &&
        read_wish(&wish)) {
        NwSource source;
        GError *error = NULL;
        if (!nw_source_open(&source, argv[1], wish.store, FALSE, &error)) {
            exit = nw_give_up(error, NW_EXIT_USAGE);
        } else {
            if (nw_make_has_pieces(source.design))
                exit = make(&wish, source.design);
            nw_source_close(&source);
        }
    }
    g_free(wish.out);
    g_free(wish.only);
    g_free(wish.material);
    g_free(wish.paper);
    g_free(wish.store);
    return exit;
}
