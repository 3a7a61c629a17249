#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

#include "cli/make.h"
#include "cli/make_options.h"
#include "make/net_pages.h"
#include "make/plot_write.h"

/* What the command line says. */
typedef struct Wish {
    NwNetOptions options;
    char *out, *paper, *store;
    gboolean once;
} Wish;

static gboolean read_wish(Wish *wish) {
    NwNetOptions *o = &wish->options;
    if (!wish->out) {
        nw_complain(_("--out is missing: name a file that ends in .pdf or .svg"));
        return FALSE;
    }
    if (!g_str_has_suffix(wish->out, ".pdf") && !g_str_has_suffix(wish->out, ".svg")) {
        nw_complain(_("“%s” is neither PDF nor SVG: let the file end in .pdf or .svg"), wish->out);
        return FALSE;
    }
    o->once = wish->once;
    o->paper = nw_make_paper(wish->paper);
    return o->paper && nw_make_number("--cell-mm", o->cell_mm, 1, 500) &&
           nw_make_number("--card-mm", o->card_mm, 0, 20) &&
           nw_make_number("--clearance-mm", o->clearance_mm, 0, 20) &&
           nw_make_number("--tab-mm", o->tab_mm, 0, 30);
}

/* PDF: one file. SVG: one for each page, with its number in the name where there are several. */
static gboolean add_files(NwOutput *output, const Wish *wish, const NwNetPages *pages,
                          const char *title, GError **error) {
    const NwPlot *const *plots = (const NwPlot *const *)pages->pages;
    if (g_str_has_suffix(wish->out, ".pdf")) {
        GBytes *pdf = nw_plots_to_pdf(plots, pages->count, title, error);
        if (pdf)
            nw_output_take(output, wish->out, pdf);
        return pdf != NULL;
    }
    for (size_t i = 0; i < pages->count; i++) {
        char *path = pages->count == 1 ? g_strdup(wish->out)
                                       : g_strdup_printf("%.*s-%d.svg", (int)strlen(wish->out) - 4,
                                                         wish->out, (int)i + 1);
        nw_output_take(output, path, nw_plot_to_svg(plots[i], title));
        g_free(path);
    }
    return TRUE;
}

static void report(const NwNetPages *pages) {
    printf(ngettext("%d net", "%d nets", pages->nets), (int)pages->nets);
    printf(ngettext(" on %d page", " on %d pages", pages->count), (int)pages->count);
    printf(ngettext(", %d glue tab\n", ", %d glue tabs\n", pages->tabs), (int)pages->tabs);
    if (pages->bare)
        printf(
            ngettext("%d edge has no room for a tab: glue it edge to edge, with a strip inside\n",
                     "%d edges have no room for a tab: glue them edge to edge, with a strip "
                     "inside\n",
                     pages->bare),
            (int)pages->bare);
}

static NwExit make(const Wish *wish, const NwDesign *design) {
    GError *error = NULL;
    NwNetPages *pages = nw_net_pages_new(design, &wish->options, &error);
    if (!pages)
        return nw_give_up(error, NW_EXIT_USAGE);
    NwOutput *output = nw_output_new();
    NwExit exit;
    if (add_files(output, wish, pages, design->name, &error))
        exit = (NwExit)nw_make_write(output);
    else
        exit = nw_give_up(error, NW_EXIT_FAILED);
    if (exit == NW_EXIT_COMPLETE)
        report(pages);
    nw_output_free(output);
    nw_net_pages_free(pages);
    return exit;
}

NwExit nw_make_nets(int argc, char **argv) {
    static char name[] = "make nets";
    Wish wish = {.options = {.cell_mm = 20, .card_mm = 0.3, .tab_mm = 6}};
    const GOptionEntry options[] = {
        {"out", 'o', 0, G_OPTION_ARG_FILENAME, &wish.out, N_("Write this file: PDF or SVG"),
         N_("FILE")},
        {"cell-mm", 0, 0, G_OPTION_ARG_DOUBLE, &wish.options.cell_mm, N_("Length of a cell (20)"),
         N_("MM")},
        {"card-mm", 0, 0, G_OPTION_ARG_DOUBLE, &wish.options.card_mm,
         N_("Thickness of the card (0.3)"), N_("MM")},
        {"clearance-mm", 0, 0, G_OPTION_ARG_DOUBLE, &wish.options.clearance_mm,
         N_("More play, on every side of a piece (0)"), N_("MM")},
        {"tab-mm", 0, 0, G_OPTION_ARG_DOUBLE, &wish.options.tab_mm,
         N_("Depth of the glue tabs at most (6); 0: no tabs"), N_("MM")},
        {"paper", 0, 0, G_OPTION_ARG_STRING, &wish.paper, N_("A4 (the default), A3 or Letter"),
         N_("NAME")},
        {"once", 0, 0, G_OPTION_ARG_NONE, &wish.once,
         N_("Draw every piece once, however many copies it has"), NULL},
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &wish.store, N_("The store to find designs in"),
         N_("FILE")},
        {NULL}};
    argv[0] = name;
    NwExit exit = NW_EXIT_USAGE;
    if (nw_verb_parse(&argc, &argv, options, _("DESIGN --out FILE"),
                      _("Unfolds every piece to flat nets of card, to cut, fold and glue.\n\n"
                        "Faces are drawn smaller by the thickness of the card on every side, so "
                        "that\nthe pieces slide. Print at 100 % and measure the ruler."),
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
    g_free(wish.paper);
    g_free(wish.store);
    return exit;
}
