#include "export/option_words.h"

#include <glib/gi18n.h>
#include <string.h>

static const char name_letters[] = "abcdefghijklmnopqrstuvwxyz0123456789-";

static const NwOption *option_of(const NwProduct *product, const char *name, size_t length) {
    for (size_t i = 0; i < product->option_count; i++) {
        const NwOption *option = &product->options[i];
        if (strlen(option->name) == length && strncmp(option->name, name, length) == 0)
            return option;
    }
    return NULL;
}

char *nw_option_words_dup_for_window(const NwProduct *product, const char *sentence) {
    GString *text = g_string_new(NULL);
    for (const char *mark; (mark = strstr(sentence, "--"));) {
        size_t length = strspn(mark + 2, name_letters);
        const NwOption *option = option_of(product, mark + 2, length);
        g_string_append_len(text, sentence, mark - sentence);
        if (option)
            /* Translators: the quotes round what a control of the window is labelled. */
            g_string_append_printf(text, _("“%s”"), _(option->label));
        else
            g_string_append_len(text, mark, (gssize)length + 2);
        sentence = mark + 2 + length;
    }
    g_string_append(text, sentence);
    return g_string_free(text, FALSE);
}
