#include "make/text.h"

#include <string.h>

void nw_append_number(GString *out, const char *before, double value, int decimals) {
    char format[8], text[G_ASCII_DTOSTR_BUF_SIZE];
    g_snprintf(format, sizeof format, "%%.%df", decimals);
    g_string_append(out, before);
    g_string_append(out, g_ascii_formatd(text, sizeof text, format, value));
}

char *nw_dup_degrees(double degrees) {
    GString *text = g_string_new(NULL);
    nw_append_number(text, "", degrees, 1);
    if (g_str_has_suffix(text->str, ".0"))
        g_string_truncate(text, text->len - 2);
    if (strcmp(text->str, "-0") == 0)
        g_string_assign(text, "0");
    g_string_append(text, "°");
    return g_string_free(text, FALSE);
}

void nw_append_csv(GString *out, const char *field) {
    const char *guard = field[0] && strchr("=+-@", field[0]) ? "'" : "";
    if (!field[strcspn(field, ",\"\r\n")]) {
        g_string_append(out, guard);
        g_string_append(out, field);
        return;
    }
    g_string_append_c(out, '"');
    g_string_append(out, guard);
    for (const char *p = field; *p; p++) {
        if (*p == '"')
            g_string_append_c(out, '"');
        g_string_append_c(out, *p);
    }
    g_string_append_c(out, '"');
}
