#include "store/statement.h"

#include <string.h>

NwValue nw_null(void) {
    return (NwValue){.type = SQLITE_NULL};
}

NwValue nw_int(gint64 integer) {
    return (NwValue){.type = SQLITE_INTEGER, .integer = integer};
}

NwValue nw_id(gint64 id) {
    return id ? nw_int(id) : nw_null();
}

NwValue nw_real(double real) {
    return (NwValue){.type = SQLITE_FLOAT, .real = real};
}

NwValue nw_text(const char *text) {
    if (!text)
        return nw_null();
    return (NwValue){.type = SQLITE_TEXT, .bytes = text, .size = strlen(text)};
}

NwValue nw_blob(const void *bytes, gsize size) {
    return (NwValue){.type = SQLITE_BLOB, .bytes = size ? bytes : "", .size = size};
}

NwValue nw_bytes(GBytes *bytes) {
    if (!bytes)
        return nw_null();
    gsize size;
    const void *data = g_bytes_get_data(bytes, &size);
    return nw_blob(data, size);
}

NwStatement nw_statement(NwLibrary *library, const char *sql) {
    NwStatement statement = {.library = library};
    statement.code = sqlite3_prepare_v2(library->db, sql, -1, &statement.handle, NULL);
    return statement;
}

static gboolean failed(const NwStatement *statement) {
    int code = statement->code;
    return code != SQLITE_OK && code != SQLITE_ROW && code != SQLITE_DONE;
}

static int bind_value(sqlite3_stmt *handle, int at, const NwValue *value) {
    switch (value->type) {
    case SQLITE_INTEGER:
        return sqlite3_bind_int64(handle, at, value->integer);
    case SQLITE_FLOAT:
        return sqlite3_bind_double(handle, at, value->real);
    case SQLITE_TEXT:
        return sqlite3_bind_text64(handle, at, value->bytes, value->size, SQLITE_STATIC,
                                   SQLITE_UTF8);
    case SQLITE_BLOB:
        return sqlite3_bind_blob64(handle, at, value->bytes, value->size, SQLITE_STATIC);
    default:
        return sqlite3_bind_null(handle, at);
    }
}

void nw_statement_bind_values(NwStatement *statement, const NwValue *values, gsize count) {
    for (gsize i = 0; i < count && !failed(statement); i++)
        statement->code = bind_value(statement->handle, (int)i + 1, &values[i]);
}

gboolean nw_statement_row(NwStatement *statement) {
    if (failed(statement) || statement->code == SQLITE_DONE)
        return FALSE;
    statement->code = sqlite3_step(statement->handle);
    return statement->code == SQLITE_ROW;
}

void nw_statement_run(NwStatement *statement) {
    while (nw_statement_row(statement))
        continue;
    if (!failed(statement))
        statement->code = sqlite3_reset(statement->handle);
}

gboolean nw_statement_end(NwStatement *statement, GError **error) {
    gboolean well = !failed(statement);
    if (!well)
        nw_library_fail(statement->library->path, statement->code, error);
    sqlite3_finalize(statement->handle);
    statement->handle = NULL;
    return well;
}

gint64 nw_column_int(const NwStatement *statement, int column) {
    return sqlite3_column_int64(statement->handle, column);
}

double nw_column_real(const NwStatement *statement, int column) {
    return sqlite3_column_double(statement->handle, column);
}

char *nw_column_dup_text(const NwStatement *statement, int column) {
    const char *text = (const char *)sqlite3_column_text(statement->handle, column);
    return g_utf8_make_valid(text ? text : "", -1);
}

const guint8 *nw_column_blob(const NwStatement *statement, int column, gsize *size) {
    const guint8 *bytes = sqlite3_column_blob(statement->handle, column);
    *size = bytes ? (gsize)sqlite3_column_bytes(statement->handle, column) : 0;
    return bytes;
}

GBytes *nw_column_dup_bytes(const NwStatement *statement, int column) {
    if (sqlite3_column_type(statement->handle, column) == SQLITE_NULL)
        return NULL;
    gsize size;
    const guint8 *bytes = nw_column_blob(statement, column, &size);
    return g_bytes_new(bytes, size);
}

gboolean nw_library_run(NwLibrary *library, const char *sql, GError **error) {
    NwStatement statement = nw_statement(library, sql);
    nw_statement_run(&statement);
    return nw_statement_end(&statement, error);
}

gboolean nw_library_ask(NwLibrary *library, const char *sql, NwValue value, gint64 fallback,
                        gint64 *answer, GError **error) {
    NwStatement statement = nw_statement(library, sql);
    if (value.type != SQLITE_NULL)
        nw_statement_bind(&statement, value);
    *answer = nw_statement_row(&statement) ? nw_column_int(&statement, 0) : fallback;
    return nw_statement_end(&statement, error);
}

gboolean nw_library_begin_read(NwLibrary *library, GError **error) {
    return nw_library_run(library, "BEGIN", error);
}

gboolean nw_library_begin_write(NwLibrary *library, GError **error) {
    if (library->read_only)
        return nw_library_refuse(library->path, NW_LIBRARY_ERROR_READ_ONLY, error);
    return nw_library_run(library, "BEGIN IMMEDIATE", error);
}

gboolean nw_library_finish(NwLibrary *library, gboolean well, GError **error) {
    if (well && nw_library_run(library, "COMMIT", error))
        return TRUE;
    /* Some failures have rolled back already; then there is nothing left to undo. */
    if (!sqlite3_get_autocommit(library->db))
        nw_library_run(library, "ROLLBACK", NULL);
    return FALSE;
}
