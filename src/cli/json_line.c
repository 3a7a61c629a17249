#include "cli/json_line.h"

#include <stdio.h>
#include <string.h>

/* Appends a number that the generator has written with 17 digits; one with a fraction keeps one. */
static void append_number(GString *text, const char *number, gsize length) {
    char digits[G_ASCII_DTOSTR_BUF_SIZE];
    g_autofree char *copy = g_strndup(number, length);
    if (!strpbrk(copy, ".eE")) {
        g_string_append(text, copy);
        return;
    }
    g_ascii_formatd(digits, sizeof digits, "%.9g", g_ascii_strtod(copy, NULL));
    g_string_append(text, digits);
    if (!strpbrk(digits, ".eE"))
        g_string_append(text, ".0");
}

/* The length of the string that begins here, its quotes included. */
static gsize string_length(const char *text) {
    gsize length = 1;
    while (text[length] && text[length] != '"')
        length += text[length] == '\\' && text[length + 1] ? 2 : 1;
    return length + (text[length] == '"');
}

char *nw_json_dup_text(JsonNode *root, gboolean pretty) {
    g_autofree char *raw = json_to_string(root, pretty);
    GString *text = g_string_sized_new(strlen(raw) + 1);
    for (const char *at = raw; *at;) {
        gsize length = 1;
        if (*at == '"') {
            length = string_length(at);
            g_string_append_len(text, at, (gssize)length);
        } else if (g_ascii_isdigit(*at) || *at == '-') {
            length = strspn(at, "+-0123456789.eE");
            append_number(text, at, length);
        } else {
            g_string_append_c(text, *at);
        }
        at += length;
    }
    return g_string_free(text, FALSE);
}

JsonBuilder *nw_json_line_begin(const char *event) {
    JsonBuilder *builder = json_builder_new();
    json_builder_begin_object(builder);
    json_builder_set_member_name(builder, "event");
    json_builder_add_string_value(builder, event);
    return builder;
}

void nw_json_line_int(JsonBuilder *builder, const char *name, gint64 value) {
    json_builder_set_member_name(builder, name);
    json_builder_add_int_value(builder, value);
}

void nw_json_line_ints(JsonBuilder *builder, const char *name, const int *values, int count) {
    json_builder_set_member_name(builder, name);
    json_builder_begin_array(builder);
    for (int i = 0; i < count; i++)
        json_builder_add_int_value(builder, values[i]);
    json_builder_end_array(builder);
}

void nw_json_line_double(JsonBuilder *builder, const char *name, double value) {
    json_builder_set_member_name(builder, name);
    json_builder_add_double_value(builder, value);
}

void nw_json_line_boolean(JsonBuilder *builder, const char *name, gboolean value) {
    json_builder_set_member_name(builder, name);
    json_builder_add_boolean_value(builder, value);
}

void nw_json_line_string(JsonBuilder *builder, const char *name, const char *value) {
    json_builder_set_member_name(builder, name);
    if (value)
        json_builder_add_string_value(builder, value);
    else
        json_builder_add_null_value(builder);
}

void nw_json_line_end(JsonBuilder *builder) {
    json_builder_end_object(builder);
    JsonNode *root = json_builder_get_root(builder);
    char *text = nw_json_dup_text(root, FALSE);
    puts(text);
    fflush(stdout);
    g_free(text);
    json_node_unref(root);
    g_object_unref(builder);
}
