#include <gio/gio.h>
#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "export/export_request.h"
#include "export/products.h"
#include "export/rows.h"
#include "make/dxf.h"
#include "make/plot_write.h"
#include "make/safety/safety_notes.h"
#include "make/stock/blocks.h"
#include "make/stock/material.h"
#include "make/stock/nest.h"
#include "make/stock/panels.h"
#include "make/stock/table.h"

static const NwOptionChoice parts_words[] = {
    {"all", N_("All")},
    {"panels", N_("Panels")},
    {"blocks", N_("Blocks")},
    {"table", N_("Table")},
};

static const NwOptionChoice materials[] = {
    {"beech", N_("Beech")},     {"birch", N_("Birch")}, {"cherry", N_("Cherry")},
    {"acrylic", N_("Acrylic")}, {"PLA", "PLA"},
};

static const NwOption options[] = {
    {"only", NW_OPTION_CHOICE, N_("Contents"),
     N_("Write only panels, blocks or table (default: all)"), N_("PART"), .choices = parts_words,
     .choice_count = G_N_ELEMENTS(parts_words)},
    {"cell-mm", NW_OPTION_NUMBER, N_("Cell size"), N_("Cell size (default: 20)"), N_("MM"),
     .least = 1, .most = 500, .standard = 20, .digits = 1},
    {"sheet-mm", NW_OPTION_NUMBER, N_("Sheet thickness"),
     N_("Sheet thickness of panels (default: 3)"), N_("MM"), .least = 0.1, .most = 100,
     .standard = 3, .digits = 1},
    {"kerf-mm", NW_OPTION_NUMBER, N_("Kerf"), N_("Width of the saw’s or laser’s cut (default: 0)"),
     N_("MM"), .most = 10, .digits = 2},
    {"stock-width-mm", NW_OPTION_NUMBER, N_("Stock sheet width (0: any)"),
     N_("Arrange panels on stock sheets of this width (0: do not)"), N_("MM"), .most = 100000,
     .digits = 1},
    {"stock-height-mm", NW_OPTION_NUMBER, N_("Height of a stock sheet (0: none)"),
     N_("Arrange panels on stock sheets of this height (0: do not)"), N_("MM"), .most = 100000,
     .digits = 1},
    {"grain", NW_OPTION_SWITCH, N_("Sheets have a grain"),
     N_("Do not turn panels on stock sheets: the grain runs along the width"), NULL},
    {"clearance-mm", NW_OPTION_NUMBER, N_("Clearance"),
     N_("Clearance on every side of a hollow piece (default: 0)"), N_("MM"), .most = 20,
     .digits = 2},
    {"material", NW_OPTION_CHOICE, N_("Material"),
     N_("acrylic, beech (the default), birch, cherry or PLA"), N_("NAME"), .choices = materials,
     .choice_count = G_N_ELEMENTS(materials)},
    {"density", NW_OPTION_NUMBER, N_("Density (0: that of the material)"),
     N_("Density of another material (default: 0, that of --material)"), N_("KG/M³"), .most = 30000,
     .digits = 0},
    {"paper", NW_OPTION_CHOICE, N_("Paper of the table"), N_("A4 (default), A3 or Letter"),
     N_("NAME"), .choices = nw_paper_choices, .choice_count = NW_PAPER_CHOICES},
};

/* Files in making, and where they go. */
typedef struct Work {
    const NwExportRequest *request;
    NwOutput *output;
    NwExportReport *report;
    NwPanelOptions panels;
    NwTableOptions table;
    NwProgress *progress;
} Work;

static void take(const Work *work, const char *name, GBytes *bytes) {
    g_autofree char *path = g_build_filename(work->request->out, name, NULL);
    nw_output_take(work->output, path, bytes);
}

static void take_text(const Work *work, const char *name, char *text) {
    take(work, name, g_bytes_new_take(text, strlen(text)));
}

/* Each panel once, or all of them on sheets of stock. */
static NwPlot *plot_panels(const Work *work, const NwPanels *panels, GError **error) {
    const NwDesign *design = work->request->design;
    if (work->panels.stock_width_mm <= 0)
        return nw_panels_plot(panels, design, &work->panels);
    NwNest *nest = nw_nest_new(panels, &work->panels, error);
    if (!nest)
        return NULL;
    g_autofree char *sheets = nw_dup_nest_text(nest);
    /* Translators: “2 sheets of 600 × 300 mm” */
    nw_export_report_take_remark(work->report, g_strdup_printf(_("The panels need %s."), sheets));
    NwPlot *plot = nw_nest_plot(nest, panels, design, &work->panels);
    nw_nest_free(nest);
    return plot;
}

static gboolean add_panels(const Work *work, GError **error) {
    const NwDesign *design = work->request->design;
    NwPanels *panels = nw_panels_new(design, &work->panels, error);
    NwPlot *plot = panels ? plot_panels(work, panels, error) : NULL;
    if (plot) {
        take(work, "panels.svg", nw_plot_to_svg(plot, design->name));
        take(work, "panels.dxf", nw_plot_to_dxf(plot));
        take_text(work, "panels.csv", nw_panels_csv(panels));
        nw_plot_free(plot);
    }
    nw_panels_free(panels);
    return plot != NULL;
}

static gboolean add_blocks(const Work *work, GError **error) {
    char *text = nw_blocks_text(work->request->design, work->table.cell_mm, work->progress);
    if (!text)
        return nw_progress_set_error(error);
    take_text(work, "blocks.txt", text);
    return TRUE;
}

static gboolean add_table(const Work *work, GError **error) {
    const NwDesign *design = work->request->design;
    size_t count;
    NwPlot **pages = nw_table_pages(design, &work->table, &count);
    GBytes *pdf = nw_plots_to_pdf((const NwPlot *const *)pages, count, design->name, error);
    if (pdf) {
        take(work, "table.pdf", pdf);
        take_text(work, "table.csv", nw_table_csv(design, &work->table));
    }
    for (size_t i = 0; i < count; i++)
        nw_plot_free(pages[i]);
    free(pages);
    return pdf != NULL;
}

static const struct {
    const char *name, *doing;
    gboolean (*add)(const Work *work, GError **error);
    double from, to;
} parts[] = {
    {"panels", N_("cutting panels"), add_panels, 0, 0.3},
    {"blocks", N_("choosing blocks"), add_blocks, 0.3, 0.6},
    {"table", N_("writing the table"), add_table, 0.6, 0.7},
};

/* A density that is said without a material is of one that nobody knows: wood's cautions hold. */
static void choose_material(Work *work) {
    const NwExportRequest *c = work->request;
    const NwMaterial *material = nw_material_find(nw_export_request_choice(c, "material"));
    double density = nw_export_request_number(c, "density");
    gboolean unnamed = density > 0 && !nw_export_request_is_set(c, "material");
    work->table.material = unnamed ? _("custom density") : material->name;
    work->table.density_kg_m3 = density > 0 ? density : material->density_kg_m3;
    work->table.tools = work->panels.tools = material->tools;
}

static gboolean choose_stock(Work *work, GError **error) {
    const NwExportRequest *c = work->request;
    work->panels.stock_width_mm = nw_export_request_number(c, "stock-width-mm");
    work->panels.stock_height_mm = nw_export_request_number(c, "stock-height-mm");
    work->panels.grain = nw_export_request_switch(c, "grain");
    if ((work->panels.stock_width_mm > 0) == (work->panels.stock_height_mm > 0))
        return TRUE;
    g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT,
                        _("a stock sheet has a width and a height: give both --stock-width-mm and "
                          "--stock-height-mm, or leave both at 0"));
    return FALSE;
}

static gboolean make(const NwExportRequest *request, NwOutput *output, NwExportReport *report,
                     NwProgress *progress, GError **error) {
    double cell_mm = nw_export_request_number(request, "cell-mm");
    Work work = {.request = request,
                 .output = output,
                 .report = report,
                 .panels = {.cell_mm = cell_mm,
                            .sheet_mm = nw_export_request_number(request, "sheet-mm"),
                            .kerf_mm = nw_export_request_number(request, "kerf-mm"),
                            .clearance_mm = nw_export_request_number(request, "clearance-mm"),
                            .progress = progress},
                 .table = {.cell_mm = cell_mm,
                           .paper = nw_paper_size_find(nw_export_request_choice(request, "paper"))},
                 .progress = progress};
    choose_material(&work);
    if (!choose_stock(&work, error))
        return FALSE;
    const char *only = nw_export_request_choice(request, "only");
    for (size_t i = 0; i < G_N_ELEMENTS(parts); i++) {
        if (strcmp(only, "all") != 0 && strcmp(only, parts[i].name) != 0)
            continue;
        if (!nw_progress_stage(progress, _(parts[i].doing), parts[i].from, parts[i].to))
            return nw_progress_set_error(error);
        if (!parts[i].add(&work, error))
            return FALSE;
    }
    return nw_add_piece_cautions(report, request->design, cell_mm, work.panels.clearance_mm,
                                 progress, error);
}

static void warn(const NwExportRequest *request, NwExportReport *report) {
    nw_add_tool_cautions(report,
                         nw_material_find(nw_export_request_choice(request, "material"))->tools);
}

const NwProduct nw_product_cuts = {
    .name = "cuts",
    .title = N_("Cutting Lists"),
    .brief = N_("Panels for hollow pieces, blocks to glue up, and a table of all pieces."),
    .about = N_("Lists what to cut.\n\n"
                "  panels  every face of a hollow piece, with the tilt of the saw: "
                "panels.svg, .dxf, .csv\n"
                "  blocks  cores, corners and larger solids to glue, in order: blocks.txt\n"
                "  table   volume, mass, box and angles of each piece: table.csv, .pdf"),
    .target = NW_EXPORT_TARGET_FOLDER,
    .options = options,
    .option_count = G_N_ELEMENTS(options),
    .unverified = TRUE,
    .warn = warn,
    .make = make,
};
