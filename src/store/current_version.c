#include "store/current_version.h"

#include "store/statement.h"

gboolean nw_current_version_gone(const char *what, GError **error) {
    g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_GONE,
                "no %s in the store; see “notch library”", what);
    return FALSE;
}

gboolean nw_current_version_check(NwLibrary *library, gint64 design_id, gint64 version_id,
                                  GError **error) {
    gint64 owner;
    if (!nw_library_ask(library, "SELECT design FROM version WHERE id = ?", nw_int(version_id), 0,
                        &owner, error))
        return FALSE;
    return owner == design_id || nw_current_version_gone("such version of this design", error);
}

gboolean nw_current_version_check_name(NwLibrary *library, const char *name, gint64 except,
                                       GError **error) {
    gint64 owner;
    if (!nw_library_ask(library, "SELECT id FROM design WHERE name = ?", nw_text(name), 0, &owner,
                        error))
        return FALSE;
    if (!owner || owner == except)
        return TRUE;
    g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_TAKEN,
                "the store already has a design “%s”; choose another name", name);
    return FALSE;
}

static gboolean check_name_of(NwLibrary *library, gint64 design_id, gint64 version_id,
                              GError **error) {
    NwStatement row = nw_statement(library, "SELECT name FROM version WHERE id = ?");
    nw_statement_bind(&row, nw_int(version_id));
    g_autofree char *name = nw_statement_row(&row) ? nw_column_dup_text(&row, 0) : g_strdup("");
    return nw_statement_end(&row, error) &&
           nw_current_version_check_name(library, name, design_id, error);
}

/* From every version above this one, the way forth leads to it. */
static gboolean point_forth(NwLibrary *library, gint64 version_id, GError **error) {
    NwStatement line =
        nw_statement(library, "WITH RECURSIVE line (id, parent) AS ("
                              " SELECT id, parent FROM version WHERE id = ?"
                              " UNION SELECT v.id, v.parent FROM line"
                              " JOIN version AS v ON v.id = line.parent) "
                              "UPDATE version SET redo = line.id FROM line "
                              "WHERE version.id = line.parent AND version.redo IS NOT line.id");
    nw_statement_bind(&line, nw_int(version_id));
    nw_statement_run(&line);
    return nw_statement_end(&line, error);
}

gboolean nw_current_version_set(NwLibrary *library, gint64 design_id, gint64 version_id,
                                GError **error) {
    if (!check_name_of(library, design_id, version_id, error))
        return FALSE;
    NwStatement set =
        nw_statement(library, "UPDATE design SET current = v.id, name = v.name FROM version AS v "
                              "WHERE v.id = ? AND design.id = ?");
    nw_statement_bind(&set, nw_int(version_id), nw_int(design_id));
    nw_statement_run(&set);
    return nw_statement_end(&set, error) && point_forth(library, version_id, error);
}
