#include "store/designs.h"

#include "store/blob.h"
#include "store/current.h"
#include "store/drawing.h"
#include "store/statement.h"

static gint64 now(void) {
    return g_get_real_time() / G_USEC_PER_SEC;
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

static gboolean insert_design(NwLibrary *library, const NwDesign *design, const char *note,
                              gint64 *design_id, gint64 *version_id, GError **error) {
    if (!nw_current_check_name(library, design->name, 0, error))
        return FALSE;
    NwStatement add = nw_statement(library, "INSERT INTO design (name) VALUES (?)");
    nw_statement_bind(&add, nw_text(design->name));
    nw_statement_run(&add);
    if (!nw_statement_end(&add, error))
        return FALSE;
    *design_id = sqlite3_last_insert_rowid(library->db);
    return insert_version(library, *design_id, 0, design, note, version_id, error) &&
           nw_current_set(library, *design_id, *version_id, error);
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
    return nw_statement_end(&row, error) &&
           (*current || nw_current_gone("such design any more", error));
}

gboolean nw_current_grow(NwLibrary *library, gint64 design_id, gint64 parent,
                         const NwDesign *design, const char *note, gint64 *version_id,
                         GError **error) {
    gboolean same;
    if (!check_fit(design, note, error) ||
        !read_current(library, design_id, design, version_id, &same, error))
        return FALSE;
    if (same)
        return TRUE;
    if (!parent)
        parent = *version_id;
    return nw_current_check(library, design_id, parent, error) &&
           nw_current_check_name(library, design->name, design_id, error) &&
           insert_version(library, design_id, parent, design, note, version_id, error) &&
           nw_current_set(library, design_id, *version_id, error);
}

gboolean nw_library_add_version(NwLibrary *library, gint64 design_id, gint64 parent,
                                const NwDesign *design, const char *note, gint64 *version_id,
                                GError **error) {
    gint64 version = 0;
    if (!nw_library_begin_write(library, error))
        return FALSE;
    gboolean well = nw_current_grow(library, design_id, parent, design, note, &version, error);
    if (!nw_library_finish(library, well, error))
        return FALSE;
    if (version_id)
        *version_id = version;
    return TRUE;
}

gboolean nw_library_set_current(NwLibrary *library, gint64 design_id, gint64 version_id,
                                GError **error) {
    if (!nw_library_begin_write(library, error))
        return FALSE;
    gboolean well = nw_current_check(library, design_id, version_id, error) &&
                    nw_current_set(library, design_id, version_id, error);
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
    gboolean well =
        nw_statement_end(&remove, error) &&
        (sqlite3_changes(library->db) || nw_current_gone("such design any more", error));
    return nw_library_finish(library, well, error);
}
