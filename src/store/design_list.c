/* Lists of designs and versions. Declared in designs.h. */
#include "store/designs.h"

#include "store/statement.h"

void nw_design_entry_free(NwDesignEntry *entry) {
    g_free(entry->name);
    g_free(entry);
}

void nw_version_entry_free(NwVersionEntry *entry) {
    g_free(entry->name);
    g_free(entry->note);
    g_free(entry->action);
    g_free(entry);
}

/* The last run is the one saved last of any version. */
#define SELECT_DESIGNS                                                                             \
    "SELECT d.id, d.current, d.name,"                                                              \
    " (SELECT count(*) FROM version WHERE design = d.id),"                                         \
    " (SELECT count(*) FROM piece WHERE version = d.current),"                                     \
    " (SELECT total(copies) FROM piece WHERE version = d.current),"                                \
    " (SELECT max(created) FROM version WHERE design = d.id),"                                     \
    " r.id, r.state, r.share, (SELECT count(*) FROM assembly WHERE run = r.id) "                   \
    "FROM design AS d LEFT JOIN run AS r ON r.id ="                                                \
    " (SELECT run.id FROM run JOIN version ON version.id = run.version"                            \
    "  WHERE version.design = d.id ORDER BY run.saved DESC, run.id DESC LIMIT 1) "

static NwDesignEntry *read_design(const NwStatement *row) {
    NwDesignEntry *entry = g_new0(NwDesignEntry, 1);
    entry->id = nw_column_int(row, 0);
    entry->current_version = nw_column_int(row, 1);
    entry->name = nw_column_dup_text(row, 2);
    entry->versions = (int)nw_column_int(row, 3);
    entry->pieces = (int)nw_column_int(row, 4);
    entry->bodies = (int)nw_column_int(row, 5);
    entry->modified = nw_column_int(row, 6);
    entry->run_id = nw_column_int(row, 7);
    g_autofree char *state = nw_column_dup_text(row, 8);
    entry->run_state = nw_run_state_of_name(state);
    entry->run_share = nw_column_real(row, 9);
    entry->run_found = nw_column_int(row, 10);
    return entry;
}

GPtrArray *nw_library_list_designs(NwLibrary *library, GError **error) {
    g_autoptr(GPtrArray) list =
        g_ptr_array_new_with_free_func((GDestroyNotify)nw_design_entry_free);
    NwStatement row =
        nw_statement(library, SELECT_DESIGNS "ORDER BY d.name COLLATE NOCASE, d.name");
    while (nw_statement_row(&row))
        g_ptr_array_add(list, read_design(&row));
    return nw_statement_end(&row, error) ? g_steal_pointer(&list) : NULL;
}

NwDesignEntry *nw_library_find_design(NwLibrary *library, const char *name, GError **error) {
    g_autoptr(NwDesignEntry) entry = NULL;
    NwStatement row = nw_statement(library, SELECT_DESIGNS "WHERE d.name = ?");
    nw_statement_bind(&row, nw_text(name));
    if (nw_statement_row(&row))
        entry = read_design(&row);
    if (!nw_statement_end(&row, error))
        return NULL;
    if (!entry) {
        g_autofree char *shown = g_utf8_make_valid(name, -1);
        g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_GONE,
                    "no design “%s” in the store; see “notch library”", shown);
    }
    return g_steal_pointer(&entry);
}

static NwVersionEntry *read_version(const NwStatement *row) {
    NwVersionEntry *entry = g_new0(NwVersionEntry, 1);
    entry->id = nw_column_int(row, 0);
    entry->parent = nw_column_int(row, 1);
    entry->created = nw_column_int(row, 2);
    entry->name = nw_column_dup_text(row, 3);
    entry->note = nw_column_dup_text(row, 4);
    entry->pieces = (int)nw_column_int(row, 5);
    entry->bodies = (int)nw_column_int(row, 6);
    entry->current = nw_column_int(row, 7) != 0;
    entry->action = nw_column_dup_text(row, 8);
    return entry;
}

GPtrArray *nw_library_list_versions(NwLibrary *library, gint64 design_id, GError **error) {
    g_autoptr(GPtrArray) list =
        g_ptr_array_new_with_free_func((GDestroyNotify)nw_version_entry_free);
    NwStatement row =
        nw_statement(library, "SELECT v.id, v.parent, v.created, v.name, v.note,"
                              " (SELECT count(*) FROM piece WHERE version = v.id),"
                              " (SELECT total(copies) FROM piece WHERE version = v.id),"
                              " v.id = d.current, v.action "
                              "FROM version AS v JOIN design AS d ON d.id = v.design "
                              "WHERE d.id = ? ORDER BY v.id");
    nw_statement_bind(&row, nw_int(design_id));
    while (nw_statement_row(&row))
        g_ptr_array_add(list, read_version(&row));
    return nw_statement_end(&row, error) ? g_steal_pointer(&list) : NULL;
}
