/* Strict JSON: the gate before json-glib.
 *
 * json-glib reads more than JSON (comments, 'single quotes', 0x10, "var x =", a second value after
 * the first) and bends what does not fit it: of two fields with one name the last wins silently, a
 * number past 64 bits wraps round, "\u0000" cuts a text short, and deep nesting eats the stack.
 * A file that passes here is plain JSON as RFC 8259 has it, within json-glib's means, so what
 * json-glib then says about it can be believed.
 *
 * Refused beyond the RFC: a field named twice in one object (compared after escapes are undone), a
 * whole number of more than NW_JSON_DIGITS digits, more than NW_JSON_DEPTH lists and objects one in
 * another, a NUL character, and a byte order mark. Lines and columns count from 1, in characters.
 * Thread: any; nothing to own. Cost: one pass. */
#ifndef NW_FORMAT_JSON_STRICT_H
#define NW_FORMAT_JSON_STRICT_H

#include <glib.h>

#define NW_JSON_ERROR (nw_json_error_quark())
GQuark nw_json_error_quark(void);

typedef enum NwJsonError {
    NW_JSON_ERROR_SYNTAX, /* not JSON; the message has line and column */
    NW_JSON_ERROR_FORMAT, /* JSON, but no design, or one of a newer version */
    NW_JSON_ERROR_FIELD,  /* a field is unknown, missing or given twice */
    NW_JSON_ERROR_VALUE,  /* a value of the wrong type or out of its range */
    NW_JSON_ERROR_SIZE,   /* more bytes than are read at all */
} NwJsonError;

enum { NW_JSON_DEPTH = 16, NW_JSON_DIGITS = 15 };

/* Whether the `length` bytes are strict JSON. `source_name` (NULL allowed) starts the message. */
gboolean nw_json_check(const char *text, gsize length, const char *source_name, GError **error);

#endif
