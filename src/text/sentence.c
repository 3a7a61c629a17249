#include "text/sentence.h"

#include <string.h>

char *nw_sentence_of(const char *message) {
    if (!message || !*message)
        return g_strdup(message);
    GString *text = g_string_new(NULL);
    g_string_append_unichar(text, g_unichar_toupper(g_utf8_get_char(message)));
    g_string_append(text, g_utf8_next_char(message));
    if (!strchr(".!?", text->str[text->len - 1]))
        g_string_append_c(text, '.');
    return g_string_free(text, FALSE);
}
