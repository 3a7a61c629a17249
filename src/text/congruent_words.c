#include "text/congruent_words.h"

#include <glib/gi18n.h>

#include "design/congruent.h"

/* Adds the sentence of those that are congruent to `piece`, the first of them. */
static void add_sentence(GString *words, const NwDesign *design, const int *first, int piece) {
    int last = piece;
    for (int p = piece; p < (int)design->piece_count; p++)
        if (first[p] == piece)
            last = p;
    if (last == piece)
        return;
    g_autoptr(GString) names = g_string_new(design->pieces[piece].name);
    for (int p = piece + 1; p < last; p++)
        if (first[p] == piece)
            g_string_append_printf(names, _(", %s"), design->pieces[p].name);
    if (words->len)
        g_string_append_c(words, '\n');
    g_string_append_printf(words, _("%s and %s are the same shape."), names->str,
                           design->pieces[last].name);
}

char *nw_congruent_words(const NwDesign *design) {
    g_autofree int *first = g_new(int, design->piece_count + 1);
    if (!nw_design_congruent(design, first))
        return NULL;
    GString *words = g_string_new(NULL);
    for (int p = 0; p < (int)design->piece_count; p++)
        if (first[p] == p)
            add_sentence(words, design, first, p);
    return g_string_free(words, FALSE);
}
