#include "store/advices.h"

#include <inttypes.h>

#include "slide/direction.h"
#include "store/statement.h"

char *nw_stored_advice_design(const NwBaselineOptions *options) {
    guint32 states = options->max_states ? options->max_states : NW_STATES_DEFAULT;
    return g_strdup_printf("directions=%d states=%" PRIu32,
                           options->diagonals ? NW_DIRECTIONS : NW_CUBE_DIRECTIONS, states);
}

char *nw_stored_advice_question(const NwAdvisorOptions *options) {
    g_autofree char *design = nw_stored_advice_design(&options->baseline);
    const char *changes = options->singles ? "1" : options->pairs ? "2" : "1, then 2";
    if (!options->cook)
        return g_strdup_printf("%s changes=%s cook=all", design, changes);
    return g_strdup_printf("%s changes=%s cook=%016" PRIx64, design, changes, options->cook);
}

void nw_stored_advice_free(NwStoredAdvice *advice) {
    if (!advice)
        return;
    g_clear_pointer(&advice->state, g_bytes_unref);
    g_free(advice);
}

static gboolean put(NwLibrary *library, gint64 version_id, const char *question, GBytes *state,
                    gboolean complete, GError **error) {
    gint64 version;
    if (!nw_library_ask(library, "SELECT id FROM version WHERE id = ?", nw_int(version_id), 0,
                        &version, error))
        return FALSE;
    if (!version) {
        g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_GONE,
                    "the store has no such version any more; open the design again");
        return FALSE;
    }
    NwStatement row = nw_statement(library, "INSERT OR REPLACE INTO advice "
                                            "(version, options, saved, complete, state) "
                                            "VALUES (?, ?, ?, ?, ?)");
    nw_statement_bind(&row, nw_int(version_id), nw_text(question),
                      nw_int(g_get_real_time() / G_USEC_PER_SEC), nw_int(complete != FALSE),
                      nw_bytes(state));
    nw_statement_run(&row);
    return nw_statement_end(&row, error);
}

gboolean nw_library_save_advice(NwLibrary *library, gint64 version_id, const char *question,
                                GBytes *state, gboolean complete, GError **error) {
    if (!nw_library_begin_write(library, error))
        return FALSE;
    gboolean well = put(library, version_id, question, state, complete, error);
    return nw_library_finish(library, well, error);
}

NwStoredAdvice *nw_library_load_advice(NwLibrary *library, gint64 version_id, const char *question,
                                       GError **error) {
    g_autoptr(NwStoredAdvice) advice = NULL;
    NwStatement row = nw_statement(library, "SELECT state, complete, saved FROM advice "
                                            "WHERE version = ? AND options = ?");
    nw_statement_bind(&row, nw_int(version_id), nw_text(question));
    if (nw_statement_row(&row)) {
        advice = g_new0(NwStoredAdvice, 1);
        advice->state = nw_column_dup_bytes(&row, 0);
        advice->complete = nw_column_int(&row, 1) != 0;
        advice->saved = nw_column_int(&row, 2);
    }
    return nw_statement_end(&row, error) ? g_steal_pointer(&advice) : NULL;
}

gboolean nw_library_remove_advice(NwLibrary *library, gint64 version_id, const char *question,
                                  GError **error) {
    if (!nw_library_begin_write(library, error))
        return FALSE;
    NwStatement row = nw_statement(library, "DELETE FROM advice WHERE version = ? AND options = ?");
    nw_statement_bind(&row, nw_int(version_id), nw_text(question));
    nw_statement_run(&row);
    return nw_library_finish(library, nw_statement_end(&row, error), error);
}
