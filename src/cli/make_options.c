#include "cli/make_options.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "cli/verb.h"

gboolean nw_make_number(const char *option, double number, double least, double most) {
    if (number >= least && number <= most)
        return TRUE;
    nw_complain(_("%s takes a number of millimetres from %g to %g"), option, least, most);
    return FALSE;
}

const NwPaperSize *nw_make_paper(const char *name) {
    const NwPaperSize *paper = nw_paper_size_find(name ? name : "A4");
    if (paper)
        return paper;
    GString *names = g_string_new(NULL);
    for (size_t i = 0; nw_paper_size(i); i++)
        g_string_append_printf(names, "%s%s", i ? ", " : "", nw_paper_size(i)->name);
    nw_complain(_("there is no paper “%s”: choose one of %s"), name, names->str);
    g_string_free(names, TRUE);
    return NULL;
}

gboolean nw_make_has_pieces(const NwDesign *design) {
    for (size_t i = 0; i < design->piece_count; i++)
        if (!design->pieces[i].solid->count) {
            nw_complain(_("piece “%s” has no parts: draw it first, or remove it"),
                        design->pieces[i].name);
            return FALSE;
        }
    if (!design->piece_count)
        nw_complain(_("the design has no pieces: there is nothing to make"));
    return design->piece_count > 0;
}

int nw_make_write(const NwOutput *output) {
    GError *error = NULL;
    if (!nw_output_write(output, &error))
        return nw_give_up(error, NW_EXIT_FAILED);
    for (guint i = 0; i < nw_output_count(output); i++)
        printf("%s\n", nw_output_path(output, i));
    return NW_EXIT_COMPLETE;
}
