#include "cli/json_line.h"

#include <stdio.h>

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
    char *text = json_to_string(root, FALSE);
    puts(text);
    fflush(stdout);
    g_free(text);
    json_node_unref(root);
    g_object_unref(builder);
}
