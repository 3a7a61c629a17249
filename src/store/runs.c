#include "store/runs.h"

#include <string.h>

#include "store/statement.h"

static const char *const state_names[] = {
    [NW_RUN_OPEN] = "open",
    [NW_RUN_COMPLETE] = "complete",
    [NW_RUN_LIMITED] = "limited",
};

const char *nw_run_state_name(NwRunState state) {
    return (unsigned)state < G_N_ELEMENTS(state_names) ? state_names[state] : "unknown state";
}

NwRunState nw_run_state_of_name(const char *name) {
    for (gsize i = 0; i < G_N_ELEMENTS(state_names); i++)
        if (strcmp(name, state_names[i]) == 0)
            return (NwRunState)i;
    return NW_RUN_OPEN;
}

void nw_run_free(NwRun *run) {
    if (!run)
        return;
    g_free(run->options);
    g_clear_pointer(&run->resume, g_bytes_unref);
    g_free(run);
}

static gint64 now(void) {
    return g_get_real_time() / G_USEC_PER_SEC;
}

static gboolean gone(const char *what, GError **error) {
    g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_GONE,
                "the store has no such %s any more; open the design again", what);
    return FALSE;
}

static gboolean unfit(const char *what, GError **error) {
    g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_UNFIT,
                "the run was not saved: %s; search again", what);
    return FALSE;
}

static gboolean check_free(NwLibrary *library, gint64 version_id, const char *options,
                           GError **error) {
    gint64 version;
    if (!nw_library_ask(library, "SELECT id FROM version WHERE id = ?", nw_int(version_id), 0,
                        &version, error))
        return FALSE;
    if (!version)
        return gone("version", error);
    NwStatement row = nw_statement(library, "SELECT 1 FROM run WHERE version = ? AND options = ?");
    nw_statement_bind(&row, nw_int(version_id), nw_text(options));
    gboolean taken = nw_statement_row(&row);
    if (!nw_statement_end(&row, error))
        return FALSE;
    if (taken)
        g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_TAKEN,
                    "the store has a run of this version with these options already; resume it, "
                    "or remove it first");
    return !taken;
}

static gboolean insert_run(NwLibrary *library, gint64 version_id, const char *options,
                           GError **error) {
    NwStatement add =
        nw_statement(library, "INSERT INTO run (version, options, state, share, started, saved) "
                              "VALUES (?1, ?2, 'open', 0.0, ?3, ?3)");
    nw_statement_bind(&add, nw_int(version_id), nw_text(options), nw_int(now()));
    nw_statement_run(&add);
    return nw_statement_end(&add, error);
}

gboolean nw_library_begin_run(NwLibrary *library, gint64 version_id, const char *options,
                              gint64 *run_id, GError **error) {
    if (!g_utf8_validate(options, -1, NULL))
        return unfit("its options are not UTF-8", error);
    if (!nw_library_begin_write(library, error))
        return FALSE;
    gboolean well = check_free(library, version_id, options, error) &&
                    insert_run(library, version_id, options, error);
    gint64 id = sqlite3_last_insert_rowid(library->db);
    if (!nw_library_finish(library, well, error))
        return FALSE;
    *run_id = id;
    return TRUE;
}

/* Another search of the same run has come to its end, which this one has not. */
#define IS_BEHIND "state = 'complete' AND ?1 <> 'complete'"

static gboolean update_run(NwLibrary *library, gint64 run_id, const NwRunSave *save,
                           GError **error) {
    NwStatement set =
        nw_statement(library, "UPDATE run SET state = iif(" IS_BEHIND ", state, ?1),"
                              " share = iif(" IS_BEHIND ", share, ?2), saved = ?3,"
                              " resume = iif(" IS_BEHIND ", resume, ?4) WHERE id = ?5");
    nw_statement_bind(&set, nw_text(nw_run_state_name(save->state)), nw_real(save->share),
                      nw_int(now()), nw_bytes(save->resume), nw_int(run_id));
    nw_statement_run(&set);
    return nw_statement_end(&set, error) && (sqlite3_changes(library->db) || gone("run", error));
}

gboolean nw_library_save_run(NwLibrary *library, gint64 run_id, const NwRunSave *save,
                             GError **error) {
    if ((unsigned)save->state >= G_N_ELEMENTS(state_names) ||
        !(save->share >= 0 && save->share <= 1))
        return unfit("its state or its share done is out of range", error);
    if (!nw_library_begin_write(library, error))
        return FALSE;
    gboolean well = update_run(library, run_id, save, error);
    if (well && save->assemblies)
        well = nw_library_put_assemblies(library, run_id, save->assemblies, error);
    return nw_library_finish(library, well, error);
}

/* Columns of every query for runs. The order of the counts is that of NwStoredStatus. */
#define RUN_COLUMNS                                                                                \
    "id, version, options, state, share, started, saved,"                                          \
    " count(iif(status = 'opens', 1, NULL)), count(iif(status = 'unreachable', 1, NULL)),"         \
    " count(iif(status = 'undecided', 1, NULL)), count(iif(status = 'unexamined', 1, NULL))"
#define RUNS " FROM run LEFT JOIN assembly ON assembly.run = run.id "
enum { FIRST_COUNT = 7, RESUME = FIRST_COUNT + NW_STORED_STATUS_COUNT };

static NwRun *read_run(const NwStatement *row) {
    NwRun *run = g_new0(NwRun, 1);
    run->id = nw_column_int(row, 0);
    run->version = nw_column_int(row, 1);
    run->options = nw_column_dup_text(row, 2);
    g_autofree char *state = nw_column_dup_text(row, 3);
    run->state = nw_run_state_of_name(state);
    run->share = nw_column_real(row, 4);
    run->started = nw_column_int(row, 5);
    run->saved = nw_column_int(row, 6);
    for (int status = 0; status < NW_STORED_STATUS_COUNT; status++) {
        run->by_status[status] = nw_column_int(row, FIRST_COUNT + status);
        run->found += run->by_status[status];
    }
    return run;
}

NwRun *nw_library_find_run(NwLibrary *library, gint64 version_id, const char *options,
                           GError **error) {
    g_autoptr(NwRun) run = NULL;
    NwStatement row = nw_statement(library, "SELECT " RUN_COLUMNS ", resume" RUNS
                                            "WHERE version = ? AND options = ? GROUP BY id");
    nw_statement_bind(&row, nw_int(version_id), nw_text(options));
    if (nw_statement_row(&row)) {
        run = read_run(&row);
        run->resume = nw_column_dup_bytes(&row, RESUME);
    }
    return nw_statement_end(&row, error) ? g_steal_pointer(&run) : NULL;
}

gboolean nw_library_has_run(NwLibrary *library, gint64 version_id) {
    gint64 any = 0;
    nw_library_ask(library, "SELECT 1 FROM run WHERE version = ? LIMIT 1", nw_int(version_id), 0,
                   &any, NULL);
    return any != 0;
}

GPtrArray *nw_library_list_runs(NwLibrary *library, gint64 version_id, GError **error) {
    g_autoptr(GPtrArray) list = g_ptr_array_new_with_free_func((GDestroyNotify)nw_run_free);
    NwStatement row = nw_statement(library, "SELECT " RUN_COLUMNS RUNS "WHERE version = ? "
                                            "GROUP BY id ORDER BY saved DESC, id DESC");
    nw_statement_bind(&row, nw_int(version_id));
    while (nw_statement_row(&row))
        g_ptr_array_add(list, read_run(&row));
    return nw_statement_end(&row, error) ? g_steal_pointer(&list) : NULL;
}

gboolean nw_library_remove_run(NwLibrary *library, gint64 run_id, GError **error) {
    if (!nw_library_begin_write(library, error))
        return FALSE;
    NwStatement remove = nw_statement(library, "DELETE FROM run WHERE id = ?");
    nw_statement_bind(&remove, nw_int(run_id));
    nw_statement_run(&remove);
    gboolean well =
        nw_statement_end(&remove, error) && (sqlite3_changes(library->db) || gone("run", error));
    return nw_library_finish(library, well, error);
}
