#include "store/assemblies.h"

#include <string.h>

#include "store/blob.h"
#include "store/statement.h"

static const char *const status_names[NW_STORED_STATUS_COUNT] = {
    [NW_STORED_OPENS] = "opens",
    [NW_STORED_UNREACHABLE] = "unreachable",
    [NW_STORED_UNDECIDED] = "undecided",
    [NW_STORED_UNEXAMINED] = "unexamined",
};

const char *nw_stored_status_name(NwStoredStatus status) {
    return (unsigned)status < NW_STORED_STATUS_COUNT ? status_names[status] : "unknown status";
}

NwStoredAssembly *nw_stored_assembly_new(guint64 key, const NwPlacement *placements, gsize count) {
    NwStoredAssembly *assembly = g_new0(NwStoredAssembly, 1);
    assembly->key = key;
    assembly->status = NW_STORED_UNEXAMINED;
    assembly->placements = g_new0(NwPlacement, count + 1);
    assembly->placement_count = count;
    if (count)
        memcpy(assembly->placements, placements, count * sizeof *placements);
    return assembly;
}

void nw_stored_assembly_free(NwStoredAssembly *assembly) {
    if (!assembly)
        return;
    g_free(assembly->placements);
    g_clear_pointer(&assembly->way_out, g_bytes_unref);
    g_free(assembly);
}

static gboolean check_fit(const NwStoredAssembly *assembly, GError **error) {
    gboolean fits = (unsigned)assembly->status < NW_STORED_STATUS_COUNT &&
                    assembly->placement_count <= NW_COPIES_MAX;
    for (gsize i = 0; fits && i < assembly->placement_count; i++)
        fits = nw_blob_holds(&assembly->placements[i]);
    if (!fits)
        g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_UNFIT,
                    "assembly %016" G_GINT64_MODIFIER "x was not saved: a placement or its status "
                    "is out of range; search again",
                    assembly->key);
    return fits;
}

static void put(NwStatement *add, gint64 run_id, const NwStoredAssembly *assembly) {
    guint8 key[NW_KEY_SIZE];
    nw_blob_of_key(assembly->key, key);
    g_autoptr(GByteArray) placements =
        nw_blob_of_placements(assembly->placements, assembly->placement_count);
    nw_statement_bind(add, nw_int(run_id), nw_blob(key, sizeof key),
                      nw_text(nw_stored_status_name(assembly->status)), nw_int(assembly->level),
                      nw_int(assembly->total), nw_int(assembly->verified != 0),
                      nw_int(assembly->states), nw_blob(placements->data, placements->len),
                      nw_bytes(assembly->way_out), nw_int(assembly->at_least));
    nw_statement_run(add);
}

gboolean nw_library_put_assemblies(NwLibrary *library, gint64 run_id, GPtrArray *assemblies,
                                   GError **error) {
    for (guint i = 0; i < assemblies->len; i++)
        if (!check_fit(assemblies->pdata[i], error))
            return FALSE;
    NwStatement add = nw_statement(
        library,
        "INSERT INTO assembly (run, key, status, level, total, verified, states, placements, "
        "way_out, at_least) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (run, key) DO UPDATE "
        "SET "
        "status = excluded.status, level = excluded.level, total = excluded.total, "
        "verified = excluded.verified, states = excluded.states, "
        "placements = excluded.placements, way_out = excluded.way_out, "
        "at_least = excluded.at_least "
        "WHERE (excluded.status <> 'unexamined' OR assembly.status = 'unexamined') "
        "AND NOT (excluded.status = 'opens' AND assembly.status = 'opens' "
        "AND excluded.total > assembly.total)");
    for (guint i = 0; i < assemblies->len; i++)
        put(&add, run_id, assemblies->pdata[i]);
    return nw_statement_end(&add, error);
}

gboolean nw_library_improve_assembly(NwLibrary *library, gint64 run_id, NwStoredAssembly *assembly,
                                     GError **error) {
    g_autoptr(GPtrArray) one = g_ptr_array_new();
    g_ptr_array_add(one, assembly);
    if (!nw_library_begin_write(library, error))
        return FALSE;
    return nw_library_finish(library, nw_library_put_assemblies(library, run_id, one, error),
                             error);
}

#define SELECT_ASSEMBLIES                                                                          \
    "SELECT key, status, level, total, verified, states, placements, way_out, at_least "           \
    "FROM assembly "

static NwStoredStatus read_status(const NwStatement *row, int column) {
    g_autofree char *name = nw_column_dup_text(row, column);
    int status = 0;
    while (status < NW_STORED_UNEXAMINED && strcmp(name, status_names[status]) != 0)
        status++;
    return (NwStoredStatus)status;
}

/* NULL, and the statement has failed, for a row that is not as written. */
static NwStoredAssembly *read_assembly(NwStatement *row) {
    gsize key_size, size, count;
    const guint8 *key = nw_column_blob(row, 0, &key_size);
    const guint8 *bytes = nw_column_blob(row, 6, &size);
    g_autofree NwPlacement *placements = nw_blob_read_placements(bytes, size, &count);
    if (key_size != NW_KEY_SIZE || !placements) {
        row->code = SQLITE_CORRUPT;
        return NULL;
    }
    NwStoredAssembly *assembly = nw_stored_assembly_new(nw_blob_read_key(key), placements, count);
    assembly->status = read_status(row, 1);
    assembly->level = (int)nw_column_int(row, 2);
    assembly->total = (int)nw_column_int(row, 3);
    assembly->verified = nw_column_int(row, 4) != 0;
    assembly->states = nw_column_int(row, 5);
    assembly->way_out = nw_column_dup_bytes(row, 7);
    assembly->at_least = (int)nw_column_int(row, 8);
    return assembly;
}

GPtrArray *nw_library_load_assemblies(NwLibrary *library, gint64 run_id, const guint64 *after,
                                      int limit, GError **error) {
    guint8 key[NW_KEY_SIZE];
    nw_blob_of_key(after ? *after : 0, key);
    g_autoptr(GPtrArray) list =
        g_ptr_array_new_with_free_func((GDestroyNotify)nw_stored_assembly_free);
    /* The empty blob comes before every key. */
    NwStatement row =
        nw_statement(library, SELECT_ASSEMBLIES "WHERE run = ? AND key > ? ORDER BY key LIMIT ?");
    nw_statement_bind(&row, nw_int(run_id), nw_blob(key, after ? sizeof key : 0), nw_int(limit));
    while (nw_statement_row(&row)) {
        NwStoredAssembly *assembly = read_assembly(&row);
        if (assembly)
            g_ptr_array_add(list, assembly);
    }
    return nw_statement_end(&row, error) ? g_steal_pointer(&list) : NULL;
}

NwStoredAssembly *nw_library_load_assembly(NwLibrary *library, gint64 run_id, guint64 key,
                                           GError **error) {
    guint8 bytes[NW_KEY_SIZE];
    nw_blob_of_key(key, bytes);
    g_autoptr(NwStoredAssembly) assembly = NULL;
    NwStatement row = nw_statement(library, SELECT_ASSEMBLIES "WHERE run = ? AND key = ?");
    nw_statement_bind(&row, nw_int(run_id), nw_blob(bytes, sizeof bytes));
    if (nw_statement_row(&row))
        assembly = read_assembly(&row);
    if (!nw_statement_end(&row, error))
        return NULL;
    if (!assembly)
        g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_GONE,
                    "this run has no assembly %016" G_GINT64_MODIFIER "x; list its assemblies",
                    key);
    return g_steal_pointer(&assembly);
}
