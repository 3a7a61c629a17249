#include "store/designs.h"

#include "design/frame.h"
#include "store/blob.h"
#include "store/current_version.h"
#include "store/design_rows.h"
#include "store/statement.h"

static gint64 now(void) {
    return g_get_real_time() / G_USEC_PER_SEC;
}

static gboolean check_fit(const NwDesign *design, const char *note, GError **error) {
    const char *fault = nw_design_rows_fault(design);
    if (!fault && note && !g_utf8_validate(note, -1, NULL))
        fault = "its note is not UTF-8";
    if (!fault)
        return TRUE;
    g_autofree char *name = g_utf8_make_valid(design->name, -1);
    g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_UNFIT,
                "design \"%s\" was not saved: %s; change that and save again", name, fault);
    return FALSE;
}

/* As a store keeps a design: settled, or as drawn if it cannot be settled. NULL if it is unfit. */
static NwDesign *dup_settled(const NwDesign *design, const char *note, GError **error) {
    if (!check_fit(design, note, error))
        return NULL;
    NwDesign *settled = nw_design_copy(design);
    nw_design_settle(settled);
    if (!check_fit(settled, note, error))
        g_clear_pointer(&settled, nw_design_free);
    return settled;
}

static gboolean insert_version(NwLibrary *library, gint64 design_id, gint64 parent,
                               const NwDesign *design, const char *note, gint64 *version_id,
                               GError **error) {
    g_autoptr(GByteArray) envelope = nw_blob_of_solid(design->envelope);
    g_autoptr(GByteArray) may_be_empty = nw_blob_of_solid(design->may_be_empty);
    g_autoptr(GBytes) digest = nw_design_rows_dup_digest(design);
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
    return nw_design_rows_write(library, *version_id, design, error);
}

static gboolean insert_design(NwLibrary *library, const NwDesign *design, const char *note,
                              gint64 *design_id, gint64 *version_id, GError **error) {
    if (!nw_current_version_check_name(library, design->name, 0, error))
        return FALSE;
    NwStatement add = nw_statement(library, "INSERT INTO design (name) VALUES (?)");
    nw_statement_bind(&add, nw_text(design->name));
    nw_statement_run(&add);
    if (!nw_statement_end(&add, error))
        return FALSE;
    *design_id = sqlite3_last_insert_rowid(library->db);
    return insert_version(library, *design_id, 0, design, note, version_id, error) &&
           nw_current_version_set(library, *design_id, *version_id, error);
}

gboolean nw_library_add_design(NwLibrary *library, const NwDesign *design, const char *note,
                               gint64 *design_id, gint64 *version_id, GError **error) {
    gint64 new_design = 0, new_version = 0;
    NwDesign *settled = dup_settled(design, note, error);
    gboolean well = settled && nw_library_begin_write(library, error);
    if (well) {
        well = insert_design(library, settled, note, &new_design, &new_version, error);
        well = nw_library_finish(library, well, error);
    }
    nw_design_free(settled);
    if (!well)
        return FALSE;
    if (design_id)
        *design_id = new_design;
    if (version_id)
        *version_id = new_version;
    return TRUE;
}

/* Whether the version says the same as a settled design. An older store may hold it unsettled. */
static gboolean says_the_same(NwLibrary *library, gint64 version_id, GBytes *digest,
                              const NwDesign *design, gboolean *same, GError **error) {
    g_autoptr(GBytes) wanted = nw_design_rows_dup_digest(design);
    *same = digest && g_bytes_equal(wanted, digest);
    if (*same)
        return TRUE;
    NwDesign *found = nw_design_rows_read(library, version_id, error);
    if (!found)
        return FALSE;
    if (!nw_design_is_settled(found) && nw_design_settle(found) == NW_OK) {
        g_autoptr(GBytes) settled = nw_design_rows_dup_digest(found);
        *same = g_bytes_equal(wanted, settled);
    }
    nw_design_free(found);
    return TRUE;
}

/* The current version, and whether it says the same as `design`, which is settled. */
static gboolean read_current(NwLibrary *library, gint64 design_id, const NwDesign *design,
                             gint64 *current, gboolean *same, GError **error) {
    NwStatement row = nw_statement(library, "SELECT v.id, v.content FROM design AS d "
                                            "JOIN version AS v ON v.id = d.current WHERE d.id = ?");
    nw_statement_bind(&row, nw_int(design_id));
    g_autoptr(GBytes) digest = NULL;
    *current = 0;
    *same = FALSE;
    if (nw_statement_row(&row)) {
        *current = nw_column_int(&row, 0);
        digest = nw_column_dup_bytes(&row, 1);
    }
    if (!nw_statement_end(&row, error))
        return FALSE;
    if (!*current)
        return nw_current_version_gone("such design any more", error);
    return says_the_same(library, *current, digest, design, same, error);
}

static gboolean grow(NwLibrary *library, gint64 design_id, gint64 parent, const NwDesign *settled,
                     const char *note, gint64 *version_id, GError **error) {
    gboolean same;
    if (!read_current(library, design_id, settled, version_id, &same, error))
        return FALSE;
    if (same)
        return TRUE;
    if (!parent)
        parent = *version_id;
    return nw_current_version_check(library, design_id, parent, error) &&
           nw_current_version_check_name(library, settled->name, design_id, error) &&
           insert_version(library, design_id, parent, settled, note, version_id, error) &&
           nw_current_version_set(library, design_id, *version_id, error);
}

gboolean nw_current_version_grow(NwLibrary *library, gint64 design_id, gint64 parent,
                                 const NwDesign *design, const char *note, gint64 *version_id,
                                 GError **error) {
    NwDesign *settled = dup_settled(design, note, error);
    gboolean well = settled && grow(library, design_id, parent, settled, note, version_id, error);
    nw_design_free(settled);
    return well;
}

gboolean nw_library_add_version(NwLibrary *library, gint64 design_id, gint64 parent,
                                const NwDesign *design, const char *note, gint64 *version_id,
                                GError **error) {
    gint64 version = 0;
    if (!nw_library_begin_write(library, error))
        return FALSE;
    gboolean well =
        nw_current_version_grow(library, design_id, parent, design, note, &version, error);
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
    gboolean well = nw_current_version_check(library, design_id, version_id, error) &&
                    nw_current_version_set(library, design_id, version_id, error);
    return nw_library_finish(library, well, error);
}

NwDesign *nw_library_load_as_drawn(NwLibrary *library, gint64 version_id, GError **error) {
    if (!nw_library_begin_read(library, error))
        return NULL;
    NwDesign *design = nw_design_rows_read(library, version_id, error);
    if (!nw_library_finish(library, design != NULL, error))
        g_clear_pointer(&design, nw_design_free);
    return design;
}

NwDesign *nw_library_load_design(NwLibrary *library, gint64 version_id, GError **error) {
    NwDesign *design = nw_library_load_as_drawn(library, version_id, error);
    if (design)
        nw_design_settle(design); /* one that cannot be settled stays as it was drawn */
    return design;
}

gboolean nw_library_has_design(NwLibrary *library, gint64 design_id, gboolean *has,
                               GError **error) {
    gint64 id;
    if (!nw_library_ask(library, "SELECT id FROM design WHERE id = ?", nw_int(design_id), 0, &id,
                        error))
        return FALSE;
    *has = id != 0;
    return TRUE;
}

gboolean nw_library_remove_design(NwLibrary *library, gint64 design_id, GError **error) {
    if (!nw_library_begin_write(library, error))
        return FALSE;
    NwStatement remove = nw_statement(library, "DELETE FROM design WHERE id = ?");
    nw_statement_bind(&remove, nw_int(design_id));
    nw_statement_run(&remove);
    gboolean well =
        nw_statement_end(&remove, error) &&
        (sqlite3_changes(library->db) || nw_current_version_gone("such design any more", error));
    return nw_library_finish(library, well, error);
}
