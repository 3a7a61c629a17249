#include "format/json_at.h"

#include <stdarg.h>

NwJsonAt nw_json_document(JsonNode *root, const NwJsonReport *report) {
    return (NwJsonAt){.node = root, .report = report};
}

NwJsonAt nw_json_member(const NwJsonAt *object, const char *field) {
    JsonNode *node = json_object_get_member(json_node_get_object(object->node), field);
    return (NwJsonAt){.up = object, .field = field, .node = node, .report = object->report};
}

NwJsonAt nw_json_element(const NwJsonAt *list, guint index) {
    JsonNode *node = json_array_get_element(json_node_get_array(list->node), index);
    return (NwJsonAt){.up = list, .index = index, .node = node, .report = list->report};
}

static void append_path(const NwJsonAt *at, GString *path) {
    if (!at->up)
        return;
    append_path(at->up, path);
    if (at->field)
        g_string_append_printf(path, "%s%s", path->len ? "." : "", at->field);
    else
        g_string_append_printf(path, "[%u]", at->index);
}

gboolean nw_json_fail(const NwJsonAt *at, NwJsonError code, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    g_autofree char *what = g_strdup_vprintf(format, arguments);
    va_end(arguments);
    g_autoptr(GString) path = g_string_new(NULL);
    append_path(at, path);
    const char *source = at->report->source_name;
    g_set_error(at->report->error, NW_JSON_ERROR, (int)code, "%s%s%s: %s", source ? source : "",
                source ? ": " : "", path->len ? path->str : "the document", what);
    return FALSE;
}

static const char *kind_of(JsonNode *node) {
    switch (json_node_get_node_type(node)) {
    case JSON_NODE_OBJECT:
        return "an object";
    case JSON_NODE_ARRAY:
        return "a list";
    case JSON_NODE_NULL:
        return "null";
    case JSON_NODE_VALUE:
        break;
    }
    GType type = json_node_get_value_type(node);
    if (type == G_TYPE_STRING)
        return "a text";
    if (type == G_TYPE_BOOLEAN)
        return "true or false";
    return type == G_TYPE_INT64 ? "a whole number" : "a number with a point or exponent";
}

static gboolean fail_kind(const NwJsonAt *at, const char *wanted) {
    return nw_json_fail(at, NW_JSON_ERROR_VALUE, "%s belongs here, not %s", wanted,
                        kind_of(at->node));
}

static gboolean is_known(const NwJsonField *fields, const char *name) {
    for (; fields->name; fields++)
        if (g_str_equal(fields->name, name))
            return TRUE;
    return FALSE;
}

static gboolean fail_unknown(const NwJsonAt *at, const NwJsonField *fields, const char *name) {
    g_autoptr(GString) allowed = g_string_new(NULL);
    for (; fields->name; fields++)
        g_string_append_printf(allowed, "%s%s", allowed->len ? ", " : "", fields->name);
    return nw_json_fail(at, NW_JSON_ERROR_FIELD,
                        "there is no field \"%s\" here; take it out or use one of: %s", name,
                        allowed->str);
}

gboolean nw_json_is_object(const NwJsonAt *at, const NwJsonField *fields) {
    if (!JSON_NODE_HOLDS_OBJECT(at->node))
        return fail_kind(at, "an object in braces");
    JsonObjectIter iter;
    const char *name;
    json_object_iter_init_ordered(&iter, json_node_get_object(at->node));
    while (json_object_iter_next_ordered(&iter, &name, NULL))
        if (!is_known(fields, name))
            return fail_unknown(at, fields, name);
    for (const NwJsonField *field = fields; field->name; field++)
        if (field->required && !json_object_has_member(json_node_get_object(at->node), field->name))
            return nw_json_fail(at, NW_JSON_ERROR_FIELD, "the field \"%s\" is missing; add it",
                                field->name);
    return TRUE;
}

gboolean nw_json_is_list(const NwJsonAt *at, int wanted, guint *count) {
    if (!JSON_NODE_HOLDS_ARRAY(at->node))
        return fail_kind(at, "a list in square brackets");
    *count = json_array_get_length(json_node_get_array(at->node));
    if (wanted >= 0 && *count != (guint)wanted)
        return nw_json_fail(at, NW_JSON_ERROR_VALUE, "%d whole numbers belong here, not %u", wanted,
                            *count);
    return TRUE;
}

gboolean nw_json_whole(const NwJsonAt *at, int low, int high, int *value) {
    if (!JSON_NODE_HOLDS_VALUE(at->node) || json_node_get_value_type(at->node) != G_TYPE_INT64)
        return fail_kind(at, "a whole number");
    gint64 found = json_node_get_int(at->node);
    if (found < low || found > high)
        return nw_json_fail(at, NW_JSON_ERROR_VALUE,
                            "%" G_GINT64_FORMAT " is out of range; use %d to %d", found, low, high);
    *value = (int)found;
    return TRUE;
}

gboolean nw_json_text(const NwJsonAt *at, const char **text) {
    if (!JSON_NODE_HOLDS_VALUE(at->node) || json_node_get_value_type(at->node) != G_TYPE_STRING)
        return fail_kind(at, "a text in double quotes");
    *text = json_node_get_string(at->node);
    return TRUE;
}
