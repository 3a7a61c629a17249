#include "cli/same.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "text/congruent_words.h"

void nw_print_same(const NwSource *source) {
    char *words = nw_congruent_words(source->design);
    if (!words)
        return;
    printf(_("%s\nListed separately they count as different pieces, so swapping them looks like "
             "another\nassembly. To make them copies of one piece: notch merge %s\n"),
           words, source->words);
    g_free(words);
}
