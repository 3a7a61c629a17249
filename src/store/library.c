#include "store/library.h"

#include <string.h>

#include "store/create.h"
#include "store/file_probe.h"
#include "store/schema.h"
#include "store/statement.h"

enum { PATIENCE_MS = 3000 };

/* Ways to connect, as parameters of SQLite's file: names. */
static const char *const immutable = "?mode=ro&immutable=1";
static const char *const shared_reading = "?mode=ro";
static const char *const private_reading = "?mode=ro&vfs=unix-none";
static const char *const writing = "?mode=rw";

static void disconnect(NwLibrary *library) {
    sqlite3_close(library->db);
    library->db = NULL;
}

/* Until the store has passed its tests, closing must not write the log back into it. */
static void hold_log(NwLibrary *library, gboolean hold) {
    sqlite3_db_config(library->db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, (int)hold, NULL);
}

static int connect_as(NwLibrary *library, const char *way) {
    g_autofree char *name = g_filename_to_uri(library->path, NULL, NULL);
    g_autofree char *uri = g_strconcat(name ? name : "", way, NULL);
    int flags = SQLITE_OPEN_READWRITE | SQLITE_OPEN_URI | SQLITE_OPEN_NOMUTEX;
    int code = sqlite3_open_v2(uri, &library->db, flags, NULL);
    if (code != SQLITE_OK)
        return code;
    hold_log(library, TRUE);
    /* The file may come from a stranger: no functions run from inside its schema. */
    sqlite3_db_config(library->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
    sqlite3_db_config(library->db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
    sqlite3_db_config(library->db, SQLITE_DBCONFIG_ENABLE_FKEY, 1, NULL);
    sqlite3_busy_timeout(library->db, PATIENCE_MS);
    if (way == private_reading)
        sqlite3_exec(library->db, "PRAGMA locking_mode = EXCLUSIVE", NULL, NULL, NULL);
    return sqlite3_exec(library->db, "PRAGMA cell_size_check = ON; PRAGMA synchronous = FULL", NULL,
                        NULL, NULL);
}

/* A first read takes the locks and maps the log, so this is where a way of connecting fails. */
static int try_reading(NwLibrary *library) {
    return sqlite3_exec(library->db, "SELECT count(*) FROM sqlite_schema", NULL, NULL, NULL);
}

static gboolean check_version(NwLibrary *library, int *version, GError **error) {
    gint64 answer;
    if (!nw_library_ask(library, "PRAGMA user_version", nw_null(), 0, &answer, error))
        return FALSE;
    *version = (int)answer;
    if (answer > nw_schema.count)
        return nw_library_refuse(library->path, NW_LIBRARY_ERROR_NEWER, error);
    if (answer < 1)
        return nw_library_refuse(library->path, NW_LIBRARY_ERROR_DAMAGED, error);
    return TRUE;
}

static gboolean check_pages(NwLibrary *library, GError **error) {
    NwStatement check = nw_statement(library, "PRAGMA quick_check(1)");
    gboolean sound = FALSE;
    if (nw_statement_row(&check)) {
        g_autofree char *verdict = nw_column_dup_text(&check, 0);
        sound = strcmp(verdict, "ok") == 0;
    }
    if (!nw_statement_end(&check, error))
        return FALSE;
    return sound || nw_library_refuse(library->path, NW_LIBRARY_ERROR_DAMAGED, error);
}

/* The version first: of a newer store nothing else is known. */
static gboolean check_all(NwLibrary *library, GError **error) {
    int version, code;
    if (!check_version(library, &version, error) || !check_pages(library, error))
        return FALSE;
    if (nw_schema_matches(library->db, nw_schema, version, &code))
        return TRUE;
    return nw_library_fail(library->path, code == SQLITE_OK ? SQLITE_CORRUPT : code, error);
}

/* The tests on a file at rest. *passed stays FALSE, without an error, when the file came alive
 * meanwhile: then the tests must run on a real connection. */
static gboolean check_at_rest(NwLibrary *library, const NwFileProbe *before, gboolean *passed,
                              GError **error) {
    g_autoptr(GError) problem = NULL;
    int code = connect_as(library, immutable);
    gboolean sound = code == SQLITE_OK ? check_all(library, &problem)
                                       : nw_library_fail(library->path, code, &problem);
    disconnect(library);
    NwFileProbe after;
    if (!nw_file_probe(library->path, &after, error))
        return FALSE;
    *passed = sound && nw_file_probe_held(before, &after);
    if (sound || !nw_file_probe_held(before, &after))
        return TRUE;
    g_propagate_error(error, g_steal_pointer(&problem));
    return FALSE;
}

/* For a store that cannot be written. Without a log it is read as unchanging, which leaves no side
 * files about. With one, a shared index of the log is wanted, and if none can be made (a read-only
 * disk), a private one. */
static int connect_for_reading(NwLibrary *library, gboolean at_rest) {
    if (at_rest)
        return connect_as(library, immutable);
    int code = connect_as(library, shared_reading);
    if (code == SQLITE_OK)
        code = try_reading(library);
    if ((code & 0xff) != SQLITE_CANTOPEN && (code & 0xff) != SQLITE_READONLY)
        return code;
    disconnect(library);
    code = connect_as(library, private_reading);
    return code == SQLITE_OK ? try_reading(library) : code;
}

static gboolean upgrade(NwLibrary *library, GError **error) {
    int version;
    if (!check_version(library, &version, error))
        return FALSE;
    if (version == nw_schema.count)
        return TRUE;
    if (!nw_library_begin_write(library, error))
        return FALSE;
    gboolean well = check_version(library, &version, error); /* another program may have done it */
    int code = well ? nw_schema_apply(library->db, nw_schema, version) : SQLITE_OK;
    if (code != SQLITE_OK)
        well = nw_library_fail(library->path, code, error);
    return nw_library_finish(library, well, error);
}

/* The last gate: everything that writes to the store comes after it. */
static gboolean settle(NwLibrary *library, NwLibraryMode mode, GError **error) {
    if (!library->read_only) {
        hold_log(library, FALSE);
        if (!nw_library_run(library, "PRAGMA journal_mode = WAL", error))
            return FALSE;
        library->read_only = sqlite3_db_readonly(library->db, "main") != 0;
    }
    if (!upgrade(library, error))
        return FALSE;
    library->read_only = library->read_only || mode == NW_LIBRARY_READ_ONLY;
    return !library->read_only || nw_library_run(library, "PRAGMA query_only = ON", error);
}

static gboolean open_file(NwLibrary *library, NwLibraryMode mode, GError **error) {
    NwFileProbe look;
    if (!nw_file_probe(library->path, &look, error))
        return FALSE;
    if (!look.there && mode == NW_LIBRARY_CREATE) {
        if (!nw_store_create(library->path, error) || !nw_file_probe(library->path, &look, error))
            return FALSE;
    }
    if (!look.there)
        return nw_library_refuse(library->path, NW_LIBRARY_ERROR_NOT_FOUND, error);
    gboolean passed = FALSE;
    if (look.at_rest && !check_at_rest(library, &look, &passed, error))
        return FALSE;
    library->read_only = !look.writable;
    int code = look.writable ? connect_as(library, writing)
                             : connect_for_reading(library, look.at_rest && passed);
    if (code != SQLITE_OK)
        return nw_library_fail(library->path, code, error);
    return (passed || check_all(library, error)) && settle(library, mode, error);
}

NwLibrary *nw_library_open(const char *path, NwLibraryMode mode, GError **error) {
    g_autofree char *standard = path ? NULL : nw_library_dup_default_path();
    if (standard && mode == NW_LIBRARY_CREATE) {
        g_autofree char *folder = g_path_get_dirname(standard);
        g_mkdir_with_parents(folder, 0700); /* if that fails, making the file says so */
    }
    NwLibrary *library = g_new0(NwLibrary, 1);
    library->path = g_canonicalize_filename(path ? path : standard, NULL);
    if (open_file(library, mode, error))
        return library;
    nw_library_close(library);
    return NULL;
}

void nw_library_close(NwLibrary *library) {
    if (!library)
        return;
    disconnect(library);
    g_free(library->path);
    g_free(library);
}

char *nw_library_dup_default_path(void) {
    return g_build_filename(g_get_user_data_dir(), "notchwright", "library.notch", NULL);
}

const char *nw_library_get_path(const NwLibrary *library) {
    return library->path;
}

gboolean nw_library_is_read_only(const NwLibrary *library) {
    return library->read_only;
}
