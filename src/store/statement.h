/* SQL for the files of this folder: statements, transactions, and errors in plain words.
 *
 * A statement remembers its first failure and then does nothing more, so it is checked once, at
 * its end:
 *
 *     NwStatement s = nw_statement(library, "SELECT name FROM design WHERE id = ?");
 *     nw_statement_bind(&s, nw_int(id));
 *     while (nw_statement_row(&s))
 *         ... nw_column_dup_text(&s, 0) ...
 *     return nw_statement_end(&s, error);
 *
 * What is bound is not copied: it must live until the statement ends or is bound again.
 * Ownership: nw_statement_end frees. Thread: that of the library. */
#ifndef NW_STORE_STATEMENT_H
#define NW_STORE_STATEMENT_H

#include <sqlite3.h>

#include "store/error.h"

typedef struct NwLibrary NwLibrary;

struct NwLibrary {
    sqlite3 *db;
    char *path;
    gboolean read_only;
};

typedef struct NwStatement {
    NwLibrary *library;
    sqlite3_stmt *handle;
    int code; /* SQLITE_OK, _ROW, _DONE or the first failure */
} NwStatement;

/* A value to bind. */
typedef struct NwValue {
    int type; /* SQLITE_INTEGER, _FLOAT, _TEXT, _BLOB or _NULL */
    gint64 integer;
    double real;
    const void *bytes;
    gsize size;
} NwValue;

NwValue nw_null(void);
NwValue nw_int(gint64 integer);
NwValue nw_id(gint64 id); /* null for 0 */
NwValue nw_real(double real);
NwValue nw_text(const char *text);              /* null for NULL */
NwValue nw_blob(const void *bytes, gsize size); /* an empty blob for size 0 */
NwValue nw_bytes(GBytes *bytes);                /* null for NULL */

NwStatement nw_statement(NwLibrary *library, const char *sql);
void nw_statement_bind_values(NwStatement *statement, const NwValue *values, gsize count);

#define nw_statement_bind(statement, ...)                                                          \
    nw_statement_bind_values((statement), (const NwValue[]){__VA_ARGS__},                          \
                             sizeof((const NwValue[]){__VA_ARGS__}) / sizeof(NwValue))

/* Steps; TRUE when there is a row to read. */
gboolean nw_statement_row(NwStatement *statement);

/* Runs to the end and makes the statement ready to be bound again. */
void nw_statement_run(NwStatement *statement);

/* Frees. FALSE, with *error set, if anything failed on the way. */
gboolean nw_statement_end(NwStatement *statement, GError **error);

gint64 nw_column_int(const NwStatement *statement, int column);
double nw_column_real(const NwStatement *statement, int column);
char *nw_column_dup_text(const NwStatement *statement, int column); /* valid UTF-8, never NULL */
const guint8 *nw_column_blob(const NwStatement *statement, int column, gsize *size);
GBytes *nw_column_dup_bytes(const NwStatement *statement, int column); /* NULL for null */

/* Runs a statement that takes no values and gives no rows. */
gboolean nw_library_run(NwLibrary *library, const char *sql, GError **error);

/* One integer of one row; `fallback` when there is no row. */
gboolean nw_library_ask(NwLibrary *library, const char *sql, NwValue value, gint64 fallback,
                        gint64 *answer, GError **error);

/* A transaction: begin, then finish with whether it went well; finish gives FALSE if it did not,
 * or if the commit failed, and then everything is as before. `begin_write` waits for other
 * writers, and is refused for a store that can only be read. */
gboolean nw_library_begin_read(NwLibrary *library, GError **error);
gboolean nw_library_begin_write(NwLibrary *library, GError **error);
gboolean nw_library_finish(NwLibrary *library, gboolean well, GError **error);

#endif
