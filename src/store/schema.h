/* The tables of a store, and how they came to be.
 *
 * A store at user_version n has had the first n steps applied. Steps are rows of SQL: a later
 * version of the program adds rows at the end and changes none. A new store runs them all, so it
 * and a migrated one have the same tables, letter for letter.
 *
 * Layouts of blobs are in blob.h. Ids are never used twice (AUTOINCREMENT), so an id that a window
 * still holds cannot come to mean something else. Times are seconds since 1970, UTC.
 * Thread: that of the connection. */
#ifndef NW_STORE_SCHEMA_H
#define NW_STORE_SCHEMA_H

#include <glib.h>
#include <sqlite3.h>

enum { NW_STORE_APPLICATION_ID = 0x4e545752 }; /* "NTWR" */

typedef struct NwSchema {
    const char *const *steps; /* step i leads from user_version i to i + 1 */
    int count;
} NwSchema;

/* The schema of this program; its count is the newest user_version that it knows. */
extern const NwSchema nw_schema;

/* Applies the steps from user_version `from` on, and sets user_version. The caller has begun a
 * transaction, and rolls it back unless the answer is SQLITE_OK. */
int nw_schema_apply(sqlite3 *db, NwSchema schema, int from);

/* Whether the tables are those of the first `version` steps, letter for letter, with no other
 * table, view or trigger. *code is SQLITE_OK unless the store could not be read. */
gboolean nw_schema_matches(sqlite3 *db, NwSchema schema, int version, int *code);

#endif
