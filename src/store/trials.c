#include "store/trials.h"

#include <math.h>
#include <string.h>

#include "store/statement.h"

void nw_stored_trial_free(NwStoredTrial *trial) {
    if (!trial)
        return;
    g_free(trial->design_name);
    g_free(trial->who);
    g_free(trial->remark);
    g_free(trial);
}

static gboolean gone(const char *what, GError **error) {
    g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_GONE,
                "the store has no such %s; list what it has", what);
    return FALSE;
}

static gboolean check(const NwStoredTrial *trial, GError **error) {
    const char *fault = NULL;
    if (!trial->who || !trial->remark || !g_utf8_validate(trial->who, -1, NULL) ||
        !g_utf8_validate(trial->remark, -1, NULL))
        fault = "its texts are not UTF-8";
    else if (!isfinite(trial->minutes) || trial->minutes < 0)
        fault = "its minutes are no number over 0";
    else if (trial->minutes == 0 && !trial->gave_up)
        fault = "it says neither how many minutes it took nor that it was given up";
    if (fault)
        g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_UNFIT,
                    "the trial was not saved: %s; change that and save again", fault);
    return !fault;
}

/* The version that the trial is of; it must belong to the design. */
static gboolean find_version(NwLibrary *library, const NwStoredTrial *trial, gint64 *version,
                             GError **error) {
    NwStatement row =
        nw_statement(library, "SELECT v.id FROM design AS d JOIN version AS v ON v.design = d.id "
                              "WHERE d.id = ?1 AND v.id = coalesce(?2, d.current)");
    nw_statement_bind(&row, nw_int(trial->design), nw_id(trial->version));
    *version = nw_statement_row(&row) ? nw_column_int(&row, 0) : 0;
    return nw_statement_end(&row, error) &&
           (*version || gone(trial->version ? "version of that design" : "design", error));
}

static NwValue minutes_value(const NwStoredTrial *trial) {
    return trial->minutes > 0 ? nw_real(trial->minutes) : nw_null();
}

static gboolean insert(NwLibrary *library, const NwStoredTrial *trial, GError **error) {
    gint64 version;
    if (!find_version(library, trial, &version, error))
        return FALSE;
    NwStatement add = nw_statement(library, "INSERT INTO trial (design, version, who, tried, "
                                            "colours, gave_up, minutes, remark) "
                                            "VALUES (?, ?, ?, ?, ?, ?, ?, ?)");
    nw_statement_bind(&add, nw_int(trial->design), nw_int(version), nw_text(trial->who),
                      nw_int(trial->tried), nw_int(trial->colours != FALSE),
                      nw_int(trial->gave_up != FALSE), minutes_value(trial),
                      nw_text(trial->remark));
    nw_statement_run(&add);
    return nw_statement_end(&add, error);
}

gboolean nw_library_add_trial(NwLibrary *library, const NwStoredTrial *trial, gint64 *id,
                              GError **error) {
    if (!check(trial, error) || !nw_library_begin_write(library, error))
        return FALSE;
    gboolean well = insert(library, trial, error);
    gint64 row = sqlite3_last_insert_rowid(library->db);
    if (!nw_library_finish(library, well, error))
        return FALSE;
    if (id)
        *id = row;
    return TRUE;
}

gboolean nw_library_edit_trial(NwLibrary *library, const NwStoredTrial *trial, GError **error) {
    if (!check(trial, error) || !nw_library_begin_write(library, error))
        return FALSE;
    NwStatement set = nw_statement(library, "UPDATE trial SET who = ?, tried = ?, colours = ?, "
                                            "gave_up = ?, minutes = ?, remark = ? WHERE id = ?");
    nw_statement_bind(&set, nw_text(trial->who), nw_int(trial->tried),
                      nw_int(trial->colours != FALSE), nw_int(trial->gave_up != FALSE),
                      minutes_value(trial), nw_text(trial->remark), nw_int(trial->id));
    nw_statement_run(&set);
    gboolean well =
        nw_statement_end(&set, error) && (sqlite3_changes(library->db) || gone("trial", error));
    return nw_library_finish(library, well, error);
}

gboolean nw_library_remove_trial(NwLibrary *library, gint64 id, GError **error) {
    if (!nw_library_begin_write(library, error))
        return FALSE;
    NwStatement remove = nw_statement(library, "DELETE FROM trial WHERE id = ?");
    nw_statement_bind(&remove, nw_int(id));
    nw_statement_run(&remove);
    gboolean well =
        nw_statement_end(&remove, error) && (sqlite3_changes(library->db) || gone("trial", error));
    return nw_library_finish(library, well, error);
}

#define TRIAL_COLUMNS                                                                              \
    "t.id, t.design, coalesce(t.version, 0), d.name, t.who, t.remark, t.tried, t.colours, "        \
    "t.gave_up, coalesce(t.minutes, 0.0) FROM trial AS t JOIN design AS d ON d.id = t.design "

static NwStoredTrial *read_trial(const NwStatement *row) {
    NwStoredTrial *trial = g_new0(NwStoredTrial, 1);
    trial->id = nw_column_int(row, 0);
    trial->design = nw_column_int(row, 1);
    trial->version = nw_column_int(row, 2);
    trial->design_name = nw_column_dup_text(row, 3);
    trial->who = nw_column_dup_text(row, 4);
    trial->remark = nw_column_dup_text(row, 5);
    trial->tried = nw_column_int(row, 6);
    trial->colours = nw_column_int(row, 7) != 0;
    trial->gave_up = nw_column_int(row, 8) != 0;
    trial->minutes = nw_column_real(row, 9);
    return trial;
}

NwStoredTrial *nw_library_load_trial(NwLibrary *library, gint64 id, GError **error) {
    g_autoptr(NwStoredTrial) trial = NULL;
    NwStatement row = nw_statement(library, "SELECT " TRIAL_COLUMNS "WHERE t.id = ?");
    nw_statement_bind(&row, nw_int(id));
    if (nw_statement_row(&row))
        trial = read_trial(&row);
    if (!nw_statement_end(&row, error) || (!trial && !gone("trial", error)))
        return NULL;
    return g_steal_pointer(&trial);
}

GPtrArray *nw_library_list_trials(NwLibrary *library, gint64 design_id, GError **error) {
    g_autoptr(GPtrArray) list =
        g_ptr_array_new_with_free_func((GDestroyNotify)nw_stored_trial_free);
    NwStatement row =
        nw_statement(library, "SELECT " TRIAL_COLUMNS "WHERE ?1 IS NULL OR t.design = ?1 "
                              "ORDER BY t.tried, t.id");
    nw_statement_bind(&row, nw_id(design_id));
    while (nw_statement_row(&row))
        g_ptr_array_add(list, read_trial(&row));
    return nw_statement_end(&row, error) ? g_steal_pointer(&list) : NULL;
}

/* ---- the table ---------------------------------------------------------------------------- */

static void add_text(GString *csv, const char *text) {
    g_string_append(csv, "\"");
    if (*text && strchr("=+-@\t\r", *text))
        g_string_append_c(csv, '\'');
    for (; *text; text++) {
        if (*text == '"')
            g_string_append_c(csv, '"');
        g_string_append_c(csv, *text);
    }
    g_string_append(csv, "\"");
}

char *nw_stored_trials_to_csv(GPtrArray *trials) {
    GString *csv = g_string_new("number,design,version,who,tried,colours,gave_up,minutes,remark"
                                "\r\n");
    for (guint i = 0; i < trials->len; i++) {
        const NwStoredTrial *trial = trials->pdata[i];
        g_autoptr(GDateTime) tried = g_date_time_new_from_unix_utc(trial->tried);
        g_autofree char *when = tried ? g_date_time_format(tried, "%Y-%m-%dT%H:%M:%SZ") : NULL;
        char minutes[G_ASCII_DTOSTR_BUF_SIZE] = "";
        if (trial->minutes > 0)
            g_ascii_formatd(minutes, sizeof minutes, "%.10g", trial->minutes);
        g_string_append_printf(csv, "%" G_GINT64_FORMAT ",", trial->id);
        add_text(csv, trial->design_name);
        if (trial->version)
            g_string_append_printf(csv, ",%" G_GINT64_FORMAT ",", trial->version);
        else
            g_string_append(csv, ",,");
        add_text(csv, trial->who);
        g_string_append_printf(csv, ",%s,%s,%s,%s,", when ? when : "",
                               trial->colours ? "yes" : "no", trial->gave_up ? "yes" : "no",
                               minutes);
        add_text(csv, trial->remark);
        g_string_append(csv, "\r\n");
    }
    return g_string_free(csv, FALSE);
}
