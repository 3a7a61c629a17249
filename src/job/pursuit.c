#include "job/pursuit.h"

#include "job/record.h"
#include "job/words.h"

enum {
    TAKE_MILLISECONDS = 100,
    SETUP_MILLISECONDS = 40,
    KEPT_STEP_MILLISECONDS = 10,
    SAVE_SECONDS = 2
};

struct NwPursuit {
    NwHarvest *harvest;
    NwRecord *record;   /* NULL: not kept */
    gboolean ready;     /* the search is set up */
    GPtrArray *earlier; /* what the store had, until the step that sets it up hands it over */
    gint64 saved;       /* monotonic time of the last save */
};

/* Finds the run in the store. It may have none without an error, if it can only be read. */
static gboolean open_record(NwPursuit *pursuit, const NwPursuitGoal *goal, GError **error) {
    GError *failure = NULL;
    pursuit->record = nw_record_open(goal->library, goal->version, &goal->options, &failure);
    if (failure) {
        g_propagate_error(error, failure);
        return FALSE;
    }
    if (!pursuit->record)
        return TRUE;
    return !goal->anew || nw_record_restart(pursuit->record, error);
}

/* What the store has, once the search is set up. */
static gboolean load(NwPursuit *pursuit, GError **error) {
    NwHarvest *harvest = pursuit->harvest;
    pursuit->earlier = nw_record_load(pursuit->record, harvest->search, error);
    if (!pursuit->earlier)
        return FALSE;
    harvest->from_store = nw_record_recall(pursuit->record, harvest->search);
    harvest->was_older = nw_record_was_older(pursuit->record);
    if (harvest->from_store) /* there is the last word on their numbers */
        g_ptr_array_sort(pursuit->earlier, nw_words_compare);
    return TRUE;
}

static gboolean begin(NwPursuit *pursuit, const NwPursuitGoal *goal, GError **error) {
    NwHarvest *harvest = pursuit->harvest;
    if (goal->library && !open_record(pursuit, goal, error))
        return FALSE;
    harvest->search = pursuit->record ? nw_record_begin_search(pursuit->record, goal->design,
                                                               &goal->options, error)
                                      : nw_search_begin(goal->design, &goal->options, NULL, error);
    if (!harvest->search)
        return FALSE;
    nw_search_progress(harvest->search, &harvest->progress);
    return TRUE;
}

NwPursuit *nw_pursuit_begin(const NwPursuitGoal *goal, NwHarvest *harvest, GError **error) {
    NwPursuit *pursuit = g_new0(NwPursuit, 1);
    pursuit->harvest = harvest;
    if (begin(pursuit, goal, error))
        return pursuit;
    nw_pursuit_free(pursuit);
    return NULL;
}

void nw_pursuit_free(NwPursuit *pursuit) {
    if (!pursuit)
        return;
    nw_record_free(pursuit->record);
    if (pursuit->earlier)
        g_ptr_array_unref(pursuit->earlier);
    g_free(pursuit);
}

/* What was found since, and if it is kept, saved with where the search stands. */
static gboolean take(NwPursuit *pursuit, GPtrArray **batch, GError **error) {
    NwSearch *search = pursuit->harvest->search;
    pursuit->saved = g_get_monotonic_time();
    if (pursuit->record)
        return nw_record_save(pursuit->record, search, batch, error);
    *batch = nw_search_take(search, 0);
    return TRUE;
}

/* Findings of a search that is kept are taken only to be saved. */
static gboolean wait_and_take(NwPursuit *pursuit, GPtrArray **batch, GError **error) {
    if (!pursuit->record) {
        *batch = nw_search_take(pursuit->harvest->search, TAKE_MILLISECONDS);
        return TRUE;
    }
    g_usleep(KEPT_STEP_MILLISECONDS * 1000);
    if (g_get_monotonic_time() - pursuit->saved >= SAVE_SECONDS * G_USEC_PER_SEC)
        return take(pursuit, batch, error);
    *batch = g_ptr_array_new();
    return TRUE;
}

/* Sets the search up for some moments. */
static gboolean set_up(NwPursuit *pursuit, GError **error) {
    NwSearch *search = pursuit->harvest->search;
    NwStatus status = NW_STOPPED;
    gint64 end = g_get_monotonic_time() + SETUP_MILLISECONDS * 1000;
    while (status == NW_STOPPED && g_get_monotonic_time() < end)
        status = pursuit->record ? nw_record_set_up(pursuit->record, search, error)
                                 : nw_search_set_up(search, error);
    pursuit->ready = status == NW_OK;
    if (pursuit->ready && pursuit->record && !load(pursuit, error))
        return FALSE;
    nw_search_progress(search, &pursuit->harvest->progress);
    return pursuit->ready || status == NW_STOPPED;
}

gboolean nw_pursuit_step(NwPursuit *pursuit, GPtrArray **batch, GError **error) {
    NwHarvest *harvest = pursuit->harvest;
    gboolean good = TRUE;
    if (!pursuit->ready) {
        good = set_up(pursuit, error);
        *batch = pursuit->earlier ? g_steal_pointer(&pursuit->earlier) : nw_findings_new();
        return good;
    }
    if (harvest->progress.state == NW_SEARCH_READY) {
        nw_search_start(harvest->search);
        pursuit->saved = g_get_monotonic_time();
    }
    good = wait_and_take(pursuit, batch, error);
    nw_search_progress(harvest->search, &harvest->progress);
    return good;
}

gboolean nw_pursuit_is_over(const NwPursuit *pursuit) {
    NwSearchState state = pursuit->harvest->progress.state;
    if (pursuit->earlier) /* it was complete before, and that is still to be handed over */
        return FALSE;
    return state == NW_SEARCH_COMPLETE || state == NW_SEARCH_STOPPED || state == NW_SEARCH_FAILED;
}

gboolean nw_pursuit_end(NwPursuit *pursuit, GPtrArray **batch, GError **error) {
    nw_search_stop(pursuit->harvest->search);
    if (!pursuit->ready) { /* where it stands is where it stood */
        *batch = nw_findings_new();
        return TRUE;
    }
    gboolean good = take(pursuit, batch, error);
    nw_search_progress(pursuit->harvest->search, &pursuit->harvest->progress);
    return good;
}
