#include "cli/same.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "job/congruent_words.h"

/* The word as one can type it in a shell. */
static char *dup_typed(const char *word) {
    return strpbrk(word, " \t'\"\\$`!*?[&;()<>|#~") ? g_shell_quote(word) : g_strdup(word);
}

void nw_print_same(const NwDesign *design, const char *argument) {
    char *words = nw_congruent_words(design);
    if (!words)
        return;
    char *typed = dup_typed(argument);
    printf(
        _("%s\nListed one by one they count as different pieces, so that swapping them looks like "
          "another\nassembly: “notch merge %s” makes them copies of one piece.\n"),
        words, typed);
    g_free(typed);
    g_free(words);
}
