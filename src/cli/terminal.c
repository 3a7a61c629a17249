#include "cli/terminal.h"

#include <stdio.h>
#include <unistd.h>

#include "base/minus.h"
#include "lattice/number_text.h"

gboolean nw_terminal_is(FILE *stream) {
    return isatty(fileno(stream));
}

static gboolean wants_colour(FILE *stream) {
    const char *refused = g_getenv("NO_COLOR"), *term = g_getenv("TERM");
    return nw_terminal_is(stream) && !(refused && *refused) && term && *term &&
           g_strcmp0(term, "dumb") != 0;
}

const char *nw_tint(FILE *stream, NwTint tint) {
    static const char *const escapes[NW_TINTS] = {
        [NW_PLAIN] = "\033[0m",   [NW_BOLD] = "\033[1m",       [NW_FAINT] = "\033[2m",
        [NW_GOOD] = "\033[1;32m", [NW_WARNING] = "\033[1;33m",
    };
    return wants_colour(stream) ? escapes[tint] : "";
}

void nw_status_line(const char *line) {
    static gboolean shown = FALSE;
    if (!nw_terminal_is(stderr) || (!line && !shown))
        return;
    fprintf(stderr, "\r\033[K%s", line ? line : "");
    fflush(stderr);
    shown = line != NULL;
}

char *nw_terminal_take(char *text) {
    static const char *const signs[][2] = {{NW_MINUS, "-"}, {"·", "."}};
    if (g_get_charset(NULL))
        return text;
    for (gsize i = 0; i < G_N_ELEMENTS(signs); i++) {
        g_auto(GStrv) between = g_strsplit(text, signs[i][0], -1);
        g_free(text);
        text = g_strjoinv(signs[i][1], between);
    }
    return text;
}

char *nw_terminal_dup_number(int number) {
    char text[NW_NUMBER_TEXT_SIZE];
    return nw_terminal_take(g_strdup(nw_number_text(number, text)));
}

void nw_print_column(const char *text, int letters) {
    glong pad = letters - g_utf8_strlen(text, -1);
    printf("  %s%*s", text, (int)MAX(pad, 0), "");
}
