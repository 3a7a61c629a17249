#include "job/search_run.h"

#include "job/run_store.h"
#include "text/words.h"

enum {
    TAKE_MILLISECONDS = 100,
    SETUP_MILLISECONDS = 40,
    KEPT_STEP_MILLISECONDS = 10,
    SAVE_SECONDS = 2
};

struct NwSearchRun {
    NwSearchResults *results;
    NwRunStore *record; /* NULL: not kept */
    gboolean ready;     /* the search is set up */
    GPtrArray *earlier; /* what the store had, until the step that sets it up hands it over */
    gint64 saved;       /* monotonic time of the last save */
};

/* Finds the run in the store. It may have none without an error, if it can only be read. */
static gboolean open_record(NwSearchRun *run, const NwSearchRunGoal *goal, GError **error) {
    GError *failure = NULL;
    run->record = nw_run_store_open(goal->library, goal->version, &goal->options, &failure);
    if (failure) {
        g_propagate_error(error, failure);
        return FALSE;
    }
    if (!run->record)
        return TRUE;
    return !goal->anew || nw_run_store_restart(run->record, error);
}

/* What the store has, once the search is set up. */
static gboolean load(NwSearchRun *run, GError **error) {
    NwSearchResults *results = run->results;
    run->earlier = nw_run_store_load(run->record, results->search, error);
    if (!run->earlier)
        return FALSE;
    results->from_store = nw_run_store_recall(run->record, results->search);
    results->was_older = nw_run_store_was_older(run->record);
    if (results->from_store) /* there is the last word on their numbers */
        g_ptr_array_sort(run->earlier, nw_words_compare);
    return TRUE;
}

static gboolean begin(NwSearchRun *run, const NwSearchRunGoal *goal, GError **error) {
    NwSearchResults *results = run->results;
    if (goal->library && !open_record(run, goal, error))
        return FALSE;
    results->search =
        run->record ? nw_run_store_begin_search(run->record, goal->design, &goal->options, error)
                    : nw_search_begin(goal->design, &goal->options, NULL, error);
    if (!results->search)
        return FALSE;
    nw_search_progress(results->search, &results->progress);
    return TRUE;
}

NwSearchRun *nw_search_run_begin(const NwSearchRunGoal *goal, NwSearchResults *results,
                                 GError **error) {
    NwSearchRun *run = g_new0(NwSearchRun, 1);
    run->results = results;
    if (begin(run, goal, error))
        return run;
    nw_search_run_free(run);
    return NULL;
}

void nw_search_run_free(NwSearchRun *run) {
    if (!run)
        return;
    nw_run_store_free(run->record);
    if (run->earlier)
        g_ptr_array_unref(run->earlier);
    g_free(run);
}

/* What was found since, and if it is kept, saved with where the search stands. */
static gboolean take(NwSearchRun *run, GPtrArray **batch, GError **error) {
    NwSearch *search = run->results->search;
    run->saved = g_get_monotonic_time();
    if (run->record)
        return nw_run_store_save(run->record, search, batch, error);
    *batch = nw_search_take(search, 0);
    return TRUE;
}

/* Findings of a search that is kept are taken only to be saved. */
static gboolean wait_and_take(NwSearchRun *run, GPtrArray **batch, GError **error) {
    if (!run->record) {
        *batch = nw_search_take(run->results->search, TAKE_MILLISECONDS);
        return TRUE;
    }
    g_usleep(KEPT_STEP_MILLISECONDS * 1000);
    if (g_get_monotonic_time() - run->saved >= SAVE_SECONDS * G_USEC_PER_SEC)
        return take(run, batch, error);
    *batch = g_ptr_array_new();
    return TRUE;
}

/* Sets the search up for some moments. */
static gboolean set_up(NwSearchRun *run, GError **error) {
    NwSearch *search = run->results->search;
    NwStatus status = NW_STOPPED;
    gint64 end = g_get_monotonic_time() + SETUP_MILLISECONDS * 1000;
    while (status == NW_STOPPED && g_get_monotonic_time() < end)
        status = run->record ? nw_run_store_set_up(run->record, search, error)
                             : nw_search_set_up(search, error);
    run->ready = status == NW_OK;
    if (run->ready && run->record && !load(run, error))
        return FALSE;
    nw_search_progress(search, &run->results->progress);
    return run->ready || status == NW_STOPPED;
}

gboolean nw_search_run_step(NwSearchRun *run, GPtrArray **batch, GError **error) {
    NwSearchResults *results = run->results;
    gboolean good = TRUE;
    if (!run->ready) {
        good = set_up(run, error);
        *batch = run->earlier ? g_steal_pointer(&run->earlier) : nw_findings_new();
        return good;
    }
    if (results->progress.state == NW_SEARCH_READY) {
        nw_search_start(results->search);
        run->saved = g_get_monotonic_time();
    }
    good = wait_and_take(run, batch, error);
    nw_search_progress(results->search, &results->progress);
    return good;
}

gboolean nw_search_run_is_over(const NwSearchRun *run) {
    NwSearchState state = run->results->progress.state;
    if (run->earlier) /* it was complete before, and that is still to be handed over */
        return FALSE;
    return state == NW_SEARCH_COMPLETE || state == NW_SEARCH_STOPPED || state == NW_SEARCH_FAILED;
}

gboolean nw_search_run_end(NwSearchRun *run, GPtrArray **batch, GError **error) {
    nw_search_stop(run->results->search);
    if (!run->ready) { /* where it stands is where it stood */
        *batch = nw_findings_new();
        return TRUE;
    }
    gboolean good = take(run, batch, error);
    nw_search_progress(run->results->search, &run->results->progress);
    return good;
}
