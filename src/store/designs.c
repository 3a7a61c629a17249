#include "store/designs.h"

#include "store/blob.h"
#include "store/drawing.h"
#include "store/statement.h"

static gint64 now(void) {
    return g_get_real_time() / G_USEC_PER_SEC;
}

static gboolean gone(const char *what, GError **error) {
    g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_GONE,
                "the store has no %s; list its designs", what);
    return FALSE;
}

static gboolean check_fit(const NwDesign *design, const char *note, GError **error) {
    const char *fault = nw_drawing_fault(design);
    if (!fault && note && !g_utf8_validate(note, -1, NULL))
        fault = "its note is not UTF-8";
    if (!fault)
        return TRUE;
    g_autofree char *name = g_utf8_make_valid(design->name, -1);
    g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_UNFIT,
                "design \"%s\" was not saved: %s; change that and save again", name, fault);
    return FALSE;
}

/* Whether no design but `except` has that name. */
static gboolean name_is_free(NwLibrary *library, const char *name, gint64 except, GError **error) {
    gint64 owner;
    if (!nw_library_ask(library, "SELECT id FROM design WHERE name = ?", nw_text(name), 0, &owner,
                        error))
        return FALSE;
    if (!owner || owner == except)
        return TRUE;
    g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_TAKEN,
                "the store has a design called \"%s\" already; save a new version of that one, or "
                "choose another name",
                name);
    return FALSE;
}

static gboolean insert_version(NwLibrary *library, gint64 design_id, gint64 parent,
                               const NwDesign *design, const char *note, gint64 *version_id,
                               GError **error) {
    g_autoptr(GByteArray) envelope = nw_blob_of_solid(design->envelope);
    g_autoptr(GByteArray) may_be_empty = nw_blob_of_solid(design->may_be_empty);
    g_autoptr(GBytes) digest = nw_drawing_dup_digest(design);
    NwStatement add =
        nw_statement(library, "INSERT INTO version (design, parent, created, note, name, "
                              "mirrors_together, envelope, may_be_empty, content) "
                              "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)");
    nw_statement_bind(&add, nw_int(design_id), nw_id(parent), nw_int(now()),
                      nw_text(note ? note : ""), nw_text(design->name),
                      nw_int(design->mirrors_together), nw_blob(envelope->data, envelope->len),
                      nw_blob(may_be_empty->data, may_be_empty->len), nw_bytes(digest));
    nw_statement_run(&add);
    if (!nw_statement_end(&add, error))
        return FALSE;
    *version_id = sqlite3_last_insert_rowid(library->db);
    return nw_drawing_write(library, *version_id, design, error);
}

/* A design is called what its current version is called. */
static gboolean make_current(NwLibrary *library, gint64 design_id, gint64 version_id,
                             GError **error) {
    NwStatement set =
        nw_statement(library, "UPDATE design SET current = v.id, name = v.name FROM version AS v "
                              "WHERE v.id = ? AND design.id = ?");
    nw_statement_bind(&set, nw_int(version_id), nw_int(design_id));
    nw_statement_run(&set);
    return nw_statement_end(&set, error);
}

static gboolean insert_design(NwLibrary *library, const NwDesign *design, const char *note,
                              gint64 *design_id, gint64 *version_id, GError **error) {
    if (!name_is_free(library, design->name, 0, error))
        return FALSE;
    NwStatement add = nw_statement(library, "INSERT INTO design (name) VALUES (?)");
    nw_statement_bind(&add, nw_text(design->name));
    nw_statement_run(&add);
    if (!nw_statement_end(&add, error))
        return FALSE;
    *design_id = sqlite3_last_insert_rowid(library->db);
    return insert_version(library, *design_id, 0, design, note, version_id, error) &&
           make_current(library, *design_id, *version_id, error);
}

gboolean nw_library_add_design(NwLibrary *library, const NwDesign *design, const char *note,
                               gint64 *design_id, gint64 *version_id, GError **error) {
    gint64 new_design = 0, new_version = 0;
    if (!check_fit(design, note, error) || !nw_library_begin_write(library, error))
        return FALSE;
    gboolean well = insert_design(library, design, note, &new_design, &new_version, error);
    if (!nw_library_finish(library, well, error))
        return FALSE;
    if (design_id)
        *design_id = new_design;
    if (version_id)
        *version_id = new_version;
    return TRUE;
}

/* The current version, and whether it says the same as `design`. */
static gboolean read_current(NwLibrary *library, gint64 design_id, const NwDesign *design,
                             gint64 *current, gboolean *same, GError **error) {
    NwStatement row = nw_statement(library, "SELECT v.id, v.content FROM design AS d "
                                            "JOIN version AS v ON v.id = d.current WHERE d.id = ?");
    nw_statement_bind(&row, nw_int(design_id));
    *current = 0;
    *same = FALSE;
    if (nw_statement_row(&row)) {
        g_autoptr(GBytes) wanted = nw_drawing_dup_digest(design);
        g_autoptr(GBytes) found = nw_column_dup_bytes(&row, 1);
        *current = nw_column_int(&row, 0);
        *same = found && g_bytes_equal(wanted, found);
    }
    return nw_statement_end(&row, error) && (*current || gone("such design any more", error));
}

static gboolean check_belongs(NwLibrary *library, gint64 design_id, gint64 version_id,
                              GError **error) {
    gint64 owner;
    if (!nw_library_ask(library, "SELECT design FROM version WHERE id = ?", nw_int(version_id), 0,
                        &owner, error))
        return FALSE;
    return owner == design_id || gone("such version of this design", error);
}

static gboolean grow_design(NwLibrary *library, gint64 design_id, gint64 parent,
                            const NwDesign *design, const char *note, gint64 *version_id,
                            GError **error) {
    gboolean same;
    if (!read_current(library, design_id, design, version_id, &same, error))
        return FALSE;
    if (same)
        return TRUE;
    if (!parent)
        parent = *version_id;
    return check_belongs(library, design_id, parent, error) &&
           name_is_free(library, design->name, design_id, error) &&
           insert_version(library, design_id, parent, design, note, version_id, error) &&
           make_current(library, design_id, *version_id, error);
}

gboolean nw_library_add_version(NwLibrary *library, gint64 design_id, gint64 parent,
                                const NwDesign *design, const char *note, gint64 *version_id,
                                GError **error) {
    gint64 version = 0;
    if (!check_fit(design, note, error) || !nw_library_begin_write(library, error))
        return FALSE;
    gboolean well = grow_design(library, design_id, parent, design, note, &version, error);
    if (!nw_library_finish(library, well, error))
        return FALSE;
    if (version_id)
        *version_id = version;
    return TRUE;
}

static gboolean check_name_of(NwLibrary *library, gint64 design_id, gint64 version_id,
                              GError **error) {
    NwStatement row = nw_statement(library, "SELECT name FROM version WHERE id = ?");
    nw_statement_bind(&row, nw_int(version_id));
    g_autofree char *name = nw_statement_row(&row) ? nw_column_dup_text(&row, 0) : g_strdup("");
    return nw_statement_end(&row, error) && name_is_free(library, name, design_id, error);
}

gboolean nw_library_set_current(NwLibrary *library, gint64 design_id, gint64 version_id,
                                GError **error) {
    if (!nw_library_begin_write(library, error))
        return FALSE;
    gboolean well = check_belongs(library, design_id, version_id, error) &&
                    check_name_of(library, design_id, version_id, error) &&
                    make_current(library, design_id, version_id, error);
    return nw_library_finish(library, well, error);
}

NwDesign *nw_library_load_design(NwLibrary *library, gint64 version_id, GError **error) {
    if (!nw_library_begin_read(library, error))
        return NULL;
    NwDesign *design = nw_drawing_read(library, version_id, error);
    if (!nw_library_finish(library, design != NULL, error))
        g_clear_pointer(&design, nw_design_free);
    return design;
}

gboolean nw_library_remove_design(NwLibrary *library, gint64 design_id, GError **error) {
    if (!nw_library_begin_write(library, error))
        return FALSE;
    NwStatement remove = nw_statement(library, "DELETE FROM design WHERE id = ?");
    nw_statement_bind(&remove, nw_int(design_id));
    nw_statement_run(&remove);
    gboolean well = nw_statement_end(&remove, error) &&
                    (sqlite3_changes(library->db) || gone("such design any more", error));
    return nw_library_finish(library, well, error);
}
