/* The pieces of an event: one JSON object on one line of standard output, flushed, so that a reader
 * sees each as it happens. `begin` makes the builder, `end` prints it and lets it go. */
#ifndef NW_CLI_JSON_LINE_H
#define NW_CLI_JSON_LINE_H

#include <json-glib/json-glib.h>

/* A JSON text with its fractions in as many digits as they have: 0.00084, not
 * 0.00084000000000000003. Nine significant digits at most. The caller frees. */
char *nw_json_dup_text(JsonNode *root, gboolean pretty);

JsonBuilder *nw_json_line_begin(const char *event);
void nw_json_line_end(JsonBuilder *builder);

void nw_json_line_int(JsonBuilder *builder, const char *name, gint64 value);
void nw_json_line_double(JsonBuilder *builder, const char *name, double value);
void nw_json_line_ints(JsonBuilder *builder, const char *name, const int *values, int count);
void nw_json_line_boolean(JsonBuilder *builder, const char *name, gboolean value);
void nw_json_line_string(JsonBuilder *builder, const char *name,
                         const char *value); /* NULL: null */

#endif
