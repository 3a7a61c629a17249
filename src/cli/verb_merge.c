#include <glib/gi18n.h>

#include "cli/rewrite.h"
#include "cli/verb.h"
#include "design/check_assembly.h"
#include "design/congruent.h"

static NwExit merge(NwSource *source, NwRewrite *rewrite) {
    NwDesign *design = source->design;
    NwEdit edit = {.design = design};
    gboolean had_intended = design->intended_count > 0;
    nw_edit_merge_congruent(&edit);
    /* Pieces that are drawn beside each other, but do not fill the envelope yet, are no answer. */
    if (!had_intended && nw_check_assembly(design, design->intended, design->intended_count))
        nw_design_set_intended(design, NULL, 0);
    int copies = nw_design_copies(design);
    char *sentence =
        edit.changed
            ? g_strdup_printf(ngettext("“%s” now has %d piece, %d copies in all.",
                                       "“%s” now has %d pieces, %d copies in all.",
                                       design->piece_count),
                              design->name, (int)design->piece_count, copies)
            : g_strdup_printf(_("No two pieces of “%s” are the same shape."), design->name);
    char *longer = g_strconcat(sentence,
                               !had_intended && design->intended_count
                                   ? _("\nThe pieces as they are drawn are its intended assembly.")
                                   : "",
                               NULL);
    rewrite->stored = source->library != NULL;
    rewrite->unchanged = !edit.changed;
    rewrite->action = _("Make copies");
    rewrite->sentence = longer;
    NwExit exit = nw_rewrite(design, rewrite);
    g_free(longer);
    g_free(sentence);
    return exit;
}

NwExit nw_verb_merge(int argc, char **argv) {
    char *store = NULL, *out = NULL;
    const GOptionEntry options[] = {
        {"out", 0, 0, G_OPTION_ARG_FILENAME, &out,
         N_("Write to this file and leave DESIGN unchanged"), N_("FILE")},
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &store, N_("Use this store"), N_("FILE")},
        {NULL}};
    NwExit exit = NW_EXIT_USAGE;
    if (nw_verb_parse(&argc, &argv, options, _("DESIGN"),
                      _("Turns pieces of the same shape into copies of the first, which keeps its "
                        "name and colour. The\nintended assembly stays as it is. A file is "
                        "rewritten; a design in the store gets a new version."),
                      1, 1)) {
        NwSource source;
        GError *error = NULL;
        if (nw_source_open(&source, argv[1], store, TRUE, &error)) {
            NwRewrite rewrite = {.argument = argv[1], .store = store, .out = out};
            exit = merge(&source, &rewrite);
            nw_source_close(&source);
        } else {
            nw_give_up(error, exit);
        }
    }
    g_free(store);
    g_free(out);
    return exit;
}
