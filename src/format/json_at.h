/* A place in a JSON document, and the questions a strict reader asks there.
 *
 * A place knows the place above it, so that a message can say where it is ("pieces[2].cells[5]")
 * while nothing is spent on paths as long as all is well. Places live on the stack of the reader:
 *
 *     NwJsonAt pieces = nw_json_member(&root, "pieces");
 *     NwJsonAt piece = nw_json_element(&pieces, 2);
 *
 * Every question answers FALSE after setting the error. Ownership: places borrow everything.
 * Thread: one. */
#ifndef NW_FORMAT_JSON_AT_H
#define NW_FORMAT_JSON_AT_H

#include <json-glib/json-glib.h>

#include "format/json_strict.h"

/* Where messages go, and the name they start with (NULL for none). */
typedef struct NwJsonReport {
    const char *source_name;
    GError **error;
} NwJsonReport;

typedef struct NwJsonAt {
    const struct NwJsonAt *up; /* NULL for the document */
    const char *field;         /* its name in the object above, or NULL in a list */
    guint index;               /* its index in the list above */
    JsonNode *node;            /* NULL for a field that was left out */
    const NwJsonReport *report;
} NwJsonAt;

/* A field that an object may have; a table of them ends with a NULL name. */
typedef struct NwJsonField {
    const char *name;
    gboolean required;
} NwJsonField;

NwJsonAt nw_json_document(JsonNode *root, const NwJsonReport *report);
NwJsonAt nw_json_member(const NwJsonAt *object, const char *field);
NwJsonAt nw_json_element(const NwJsonAt *list, guint index);

/* Sets the error "source: path: message"; always FALSE. */
gboolean nw_json_fail(const NwJsonAt *at, NwJsonError code, const char *format, ...)
    G_GNUC_PRINTF(3, 4);

/* An object that has every required field and no field beyond the table. */
gboolean nw_json_is_object(const NwJsonAt *at, const NwJsonField *fields);

/* A list; of `wanted` items unless that is negative. */
gboolean nw_json_is_list(const NwJsonAt *at, int wanted, guint *count);

/* A number written without point and exponent, from low to high. */
gboolean nw_json_whole(const NwJsonAt *at, int low, int high, int *value);

/* A text; borrowed from the document. */
gboolean nw_json_text(const NwJsonAt *at, const char **text);

#endif
