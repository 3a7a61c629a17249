#include <glib/gi18n.h>
#include <string.h>

#include "export/export_request.h"
#include "export/products.h"
#include "export/rows.h"
#include "make/card/net_pages.h"
#include "make/plot_write.h"
#include "make/safety/safety_notes.h"

static const NwOption options[] = {
    {"cell-mm", NW_OPTION_NUMBER, N_("Cell size"), N_("Cell size (default: 20)"), N_("MM"),
     .least = 1, .most = 500, .standard = 20, .digits = 1},
    {"card-mm", NW_OPTION_NUMBER, N_("Card thickness"), N_("Thickness of the card (0.3)"), N_("MM"),
     .most = 20, .standard = 0.3, .digits = 2},
    {"clearance-mm", NW_OPTION_NUMBER, N_("Extra clearance"),
     N_("Extra clearance on every side of a piece (default: 0)"), N_("MM"), .most = 20,
     .digits = 2},
    {"tab-mm", NW_OPTION_NUMBER, N_("Glue tab depth"),
     N_("Greatest depth of glue tabs (default: 6; 0: no tabs)"), N_("MM"), .most = 30,
     .standard = 6, .digits = 1},
    {"paper", NW_OPTION_CHOICE, N_("Paper"), N_("A4 (default), A3 or Letter"), N_("NAME"),
     .choices = nw_paper_choices, .choice_count = NW_PAPER_CHOICES},
    {"once", NW_OPTION_SWITCH, N_("One of each piece"),
     N_("Include each piece once, however many copies it has")},
};

/* PDF: one file. SVG: one for each page, with its number in the name where there are several. */
static gboolean add_files(NwOutput *output, const char *out, const NwNetPages *pages,
                          const char *title, GError **error) {
    const NwPlot *const *plots = (const NwPlot *const *)pages->pages;
    if (g_str_has_suffix(out, ".pdf")) {
        GBytes *pdf = nw_plots_to_pdf(plots, pages->count, title, error);
        if (pdf)
            nw_output_take(output, out, pdf);
        return pdf != NULL;
    }
    for (size_t i = 0; i < pages->count; i++) {
        g_autofree char *path =
            pages->count == 1
                ? g_strdup(out)
                : g_strdup_printf("%.*s-%d.svg", (int)strlen(out) - 4, out, (int)i + 1);
        nw_output_take(output, path, nw_plot_to_svg(plots[i], title));
    }
    return TRUE;
}

static void report(const NwNetPages *pages, NwExportReport *made) {
    nw_export_report_take_remark(made, g_strdup_printf(_("nets: %d, pages: %d, glue tabs: %d"),
                                                       (int)pages->nets, (int)pages->count,
                                                       (int)pages->tabs));
    if (pages->bare)
        nw_export_report_take_remark(
            made,
            g_strdup_printf(
                ngettext("%d edge has no room for a tab: glue it edge to edge, with a strip inside",
                         "%d edges have no room for a tab: glue them edge to edge, with a strip "
                         "inside",
                         pages->bare),
                (int)pages->bare));
}

static gboolean make(const NwExportRequest *request, NwOutput *output, NwExportReport *made,
                     NwProgress *progress, GError **error) {
    NwNetOptions wish = {.cell_mm = nw_export_request_number(request, "cell-mm"),
                         .card_mm = nw_export_request_number(request, "card-mm"),
                         .clearance_mm = nw_export_request_number(request, "clearance-mm"),
                         .tab_mm = nw_export_request_number(request, "tab-mm"),
                         .paper = nw_paper_size_find(nw_export_request_choice(request, "paper")),
                         .once = nw_export_request_switch(request, "once"),
                         .progress = progress};
    if (!nw_progress_stage(progress, _("unfolding"), 0, 0.7))
        return nw_progress_set_error(error);
    NwNetPages *pages = nw_net_pages_new(request->design, &wish, error);
    gboolean done = pages && add_files(output, request->out, pages, request->design->name, error);
    if (done)
        report(pages, made);
    nw_net_pages_free(pages);
    /* folded card stands proud of the printed line by half its thickness */
    done = done && nw_add_piece_cautions(made, request->design, wish.cell_mm,
                                         wish.clearance_mm + wish.card_mm / 2, progress, error);
    return done;
}

static void warn(const NwExportRequest *request, NwExportReport *made) {
    (void)request;
    nw_add_tool_cautions(made, 1 << NW_TOOL_KNIFE | 1 << NW_TOOL_GLUE);
}

static const char *const endings[] = {".pdf", ".svg", NULL};

const NwProduct nw_product_nets = {
    .name = "nets",
    .title = N_("Card Nets"),
    .brief = N_("Each piece unfolded flat, to cut, fold and glue."),
    .about = N_("Unfolds each piece into flat nets of card, to cut, fold and glue.\n\nFaces are "
                "drawn smaller on every side by the thickness of the card, so that the pieces "
                "slide. Print\nat 100 % and measure the ruler."),
    .target = NW_EXPORT_TARGET_FILE,
    .endings = endings,
    .options = options,
    .option_count = G_N_ELEMENTS(options),
    .unverified = TRUE,
    .warn = warn,
    .make = make,
};
