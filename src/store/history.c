#include "store/history.h"

#include "store/current_version.h"
#include "store/statement.h"

void nw_history_free(NwHistory *history) {
    g_free(history->undo_action);
    g_free(history->redo_action);
    g_free(history);
}

/* Reads where the design stands, within the caller's transaction. */
static NwHistory *read_history(NwLibrary *library, gint64 design_id, GError **error) {
    g_autoptr(NwHistory) history = g_new0(NwHistory, 1);
    NwStatement row =
        nw_statement(library, "SELECT v.id, v.parent, v.redo, v.action, r.action FROM design AS d "
                              "JOIN version AS v ON v.id = d.current "
                              "LEFT JOIN version AS r ON r.id = v.redo WHERE d.id = ?");
    nw_statement_bind(&row, nw_int(design_id));
    if (nw_statement_row(&row)) {
        history->current = nw_column_int(&row, 0);
        history->undo = nw_column_int(&row, 1);
        history->redo = nw_column_int(&row, 2);
        history->undo_action = nw_column_dup_text(&row, 3);
        history->redo_action = nw_column_dup_text(&row, 4);
    }
    if (!nw_statement_end(&row, error))
        return NULL;
    if (!history->current) {
        nw_current_version_gone("such design any more", error);
        return NULL;
    }
    return g_steal_pointer(&history);
}

NwHistory *nw_library_load_history(NwLibrary *library, gint64 design_id, GError **error) {
    if (!nw_library_begin_read(library, error))
        return NULL;
    NwHistory *history = read_history(library, design_id, error);
    if (!nw_library_finish(library, history != NULL, error))
        g_clear_pointer(&history, nw_history_free);
    return history;
}

/* The versions that are to go, oldest first. */
static GArray *list_surplus(NwLibrary *library, gint64 design_id, int kept, GError **error) {
    g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(gint64));
    NwStatement row = nw_statement(
        library, "SELECT id FROM (SELECT v.id FROM version AS v JOIN design AS d ON d.id = v.design"
                 " WHERE d.id = ? AND v.note = '' AND v.id <> d.current"
                 " AND NOT EXISTS (SELECT 1 FROM run WHERE run.version = v.id)"
                 " ORDER BY v.id DESC LIMIT -1 OFFSET ?) ORDER BY id");
    nw_statement_bind(&row, nw_int(design_id), nw_int(MAX(kept, 0)));
    while (nw_statement_row(&row)) {
        gint64 id = nw_column_int(&row, 0);
        g_array_append_val(ids, id);
    }
    return nw_statement_end(&row, error) ? g_steal_pointer(&ids) : NULL;
}

static gboolean run_for(NwLibrary *library, const char *sql, gint64 id, GError **error) {
    NwStatement statement = nw_statement(library, sql);
    nw_statement_bind(&statement, nw_int(id));
    nw_statement_run(&statement);
    return nw_statement_end(&statement, error);
}

/* Takes one version out of the tree and closes the gap. What led forth to it leads on to where it
 * led, or, if it led nowhere, to the newest of its siblings. */
static gboolean take_out(NwLibrary *library, gint64 id, GError **error) {
    static const char *const steps[] = {
        "UPDATE version SET redo = coalesce((SELECT redo FROM version WHERE id = ?1),"
        " (SELECT max(c.id) FROM version AS c WHERE c.parent = version.id AND c.id <> ?1)) "
        "WHERE redo = ?1",
        "UPDATE version SET parent = (SELECT parent FROM version WHERE id = ?1) WHERE parent = ?1",
        "DELETE FROM version WHERE id = ?1",
    };
    for (gsize i = 0; i < G_N_ELEMENTS(steps); i++)
        if (!run_for(library, steps[i], id, error))
            return FALSE;
    return TRUE;
}

static gboolean prune(NwLibrary *library, gint64 design_id, int kept, int *removed,
                      GError **error) {
    g_autoptr(GArray) surplus = list_surplus(library, design_id, kept, error);
    if (!surplus)
        return FALSE;
    for (guint i = 0; i < surplus->len; i++)
        if (!take_out(library, g_array_index(surplus, gint64, i), error))
            return FALSE;
    *removed = (int)surplus->len;
    return TRUE;
}

gboolean nw_library_prune(NwLibrary *library, gint64 design_id, int kept, int *removed,
                          GError **error) {
    int count = 0;
    if (!nw_library_begin_write(library, error))
        return FALSE;
    g_autoptr(NwHistory) there = read_history(library, design_id, error);
    gboolean well = there && prune(library, design_id, kept, &count, error);
    if (!nw_library_finish(library, well, error))
        return FALSE;
    if (removed)
        *removed = count;
    return TRUE;
}

static gboolean set_action(NwLibrary *library, gint64 version_id, const char *action,
                           GError **error) {
    g_autofree char *shown = g_utf8_make_valid(action ? action : "", -1);
    NwStatement set = nw_statement(library, "UPDATE version SET action = ? WHERE id = ?");
    nw_statement_bind(&set, nw_text(shown), nw_int(version_id));
    nw_statement_run(&set);
    return nw_statement_end(&set, error);
}

static gboolean save_edit(NwLibrary *library, gint64 design_id, const NwDesign *design,
                          const char *action, gint64 *version_id, GError **error) {
    g_autoptr(NwHistory) before = read_history(library, design_id, error);
    int removed;
    if (!before || !nw_current_version_grow(library, design_id, before->current, design, NULL,
                                            version_id, error))
        return FALSE;
    return *version_id == before->current ||
           (set_action(library, *version_id, action, error) &&
            prune(library, design_id, NW_HISTORY_KEPT, &removed, error));
}

gboolean nw_library_save_edit(NwLibrary *library, gint64 design_id, const NwDesign *design,
                              const char *action, gint64 *version_id, GError **error) {
    gint64 version = 0;
    if (!nw_library_begin_write(library, error))
        return FALSE;
    gboolean well = save_edit(library, design_id, design, action, &version, error);
    if (!nw_library_finish(library, well, error))
        return FALSE;
    if (version_id)
        *version_id = version;
    return TRUE;
}

static gboolean nothing_there(gboolean forth, GError **error) {
    g_set_error_literal(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_GONE,
                        forth ? "there is nothing to redo; undo something first"
                              : "there is nothing to undo; this is the first version kept");
    return FALSE;
}

static gboolean step(NwLibrary *library, gint64 design_id, gboolean forth, gint64 *version_id,
                     GError **error) {
    gint64 to = 0;
    if (!nw_library_begin_write(library, error))
        return FALSE;
    g_autoptr(NwHistory) history = read_history(library, design_id, error);
    if (history)
        to = forth ? history->redo : history->undo;
    gboolean well = history && (to || nothing_there(forth, error)) &&
                    nw_current_version_set(library, design_id, to, error);
    if (!nw_library_finish(library, well, error))
        return FALSE;
    if (version_id)
        *version_id = to;
    return TRUE;
}

gboolean nw_library_undo(NwLibrary *library, gint64 design_id, gint64 *version_id, GError **error) {
    return step(library, design_id, FALSE, version_id, error);
}

gboolean nw_library_redo(NwLibrary *library, gint64 design_id, gint64 *version_id, GError **error) {
    return step(library, design_id, TRUE, version_id, error);
}

gboolean nw_library_name_version(NwLibrary *library, gint64 version_id, const char *note,
                                 GError **error) {
    if (!g_utf8_validate(note, -1, NULL)) {
        g_set_error_literal(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_UNFIT,
                            "the version was not named: its name is not UTF-8; type another");
        return FALSE;
    }
    if (!nw_library_begin_write(library, error))
        return FALSE;
    NwStatement set = nw_statement(library, "UPDATE version SET note = ? WHERE id = ?");
    nw_statement_bind(&set, nw_text(note), nw_int(version_id));
    nw_statement_run(&set);
    gboolean well =
        nw_statement_end(&set, error) &&
        (sqlite3_changes(library->db) || nw_current_version_gone("such version any more", error));
    return nw_library_finish(library, well, error);
}

GPtrArray *nw_library_list_named(NwLibrary *library, gint64 design_id, GError **error) {
    GPtrArray *list = nw_library_list_versions(library, design_id, error);
    for (guint i = list ? list->len : 0; i--;)
        if (!((NwVersionEntry *)list->pdata[i])->note[0])
            g_ptr_array_remove_index(list, i);
    return list;
}
