#include "session/block_worker.h"

#include <stdlib.h>

#include "base/memory.h"
#include "cook/baseline_setup.h"
#include "job/advice_record.h"
#include "job/background.h"

/* Nodes, states or microseconds between two looks at what the maker wants. */
enum { EFFORT = 4000 };

/* Between two saves; and saving takes no more than one part in so many of the time. */
enum { SAVE_MICROSECONDS = 5000000, SAVE_SHARE = 20 };

struct NwBlockWorker {
    /* Fixed when it is made. */
    NwDesign *design;
    char *path, *question;
    gint64 version;
    NwAdvisorOptions options;
    NwBackground background;

    /* The thread's own. */
    NwFounds founds;
    NwAdvisor *advisor;
    NwLibrary *library; /* NULL: it cannot be kept */
    gint64 next_save;
    gboolean saved; /* nothing is new since */
    guint posted;   /* since it was last told to go */

    /* Under the lock of the background. */
    NwBlockWorkerState state;
    NwStatus status;
    gboolean go;
    GPtrArray *tray; /* NwProposalItem */
    GArray *misses;
    NwAdvisorProgress progress;
    gboolean has_front;
    NwFront front;
    char *trouble;
};

/* ---- the thread -------------------------------------------------------------------------- */

static void set_state(NwBlockWorker *worker, NwBlockWorkerState state, NwStatus status) {
    NW_BACKGROUND_HOLD(&worker->background);
    worker->state = state;
    worker->status = status;
    nw_background_wake(&worker->background);
}

/* Takes the error over. */
static void note_trouble(NwBlockWorker *worker, GError *error) {
    NW_BACKGROUND_HOLD(&worker->background);
    g_free(worker->trouble);
    worker->trouble = g_strdup(error->message);
    nw_background_wake(&worker->background);
    g_error_free(error);
}

static void keep(NwBlockWorker *worker, gboolean complete) {
    GError *error = NULL;
    gint64 before = g_get_monotonic_time();
    if (!worker->library || worker->saved)
        return;
    if (!nw_advice_record_save(worker->library, worker->version, worker->question, worker->advisor,
                               complete, &error))
        note_trouble(worker, error);
    gint64 after = g_get_monotonic_time();
    worker->saved = TRUE;
    worker->next_save = after + MAX(SAVE_MICROSECONDS, SAVE_SHARE * (after - before));
}

/* Lays down what an earlier session found. */
static void take_up(NwBlockWorker *worker) {
    GError *error = NULL;
    gboolean taken = FALSE;
    size_t count;
    if (worker->version < 0)
        return; /* the version could not be saved: the maker was told */
    worker->library = nw_library_open(worker->path, NW_LIBRARY_READ_WRITE, &error);
    if (!worker->library ||
        !nw_advice_record_take_up(worker->library, worker->version, worker->question,
                                  worker->advisor, &taken, &error))
        note_trouble(worker, error);
    worker->saved = taken;
    if (!taken)
        return;
    const NwProposal *const *proposals = nw_advisor_proposals(worker->advisor, &count);
    GPtrArray *rows = g_ptr_array_new();
    for (size_t i = 0; i < count; i++)
        g_ptr_array_add(rows,
                        nw_proposal_item_new(worker->advisor, proposals[i], worker->options.cook));
    NW_BACKGROUND_HOLD(&worker->background);
    g_ptr_array_extend_and_steal(worker->tray, rows);
    nw_advisor_progress(worker->advisor, &worker->progress);
}

/* NW_STOPPED: it is to leave. */
static NwStatus make_advisor(NwBlockWorker *worker) {
    NwBaselineSetup *setup;
    NwBaseline *baseline;
    NwStatus status = nw_baseline_setup_new(worker->design, worker->options.baseline, &setup);
    if (status != NW_OK)
        return status;
    do
        status = nw_baseline_setup_step(setup, EFFORT, &baseline);
    while (status == NW_STOPPED && !nw_background_is_leaving(&worker->background));
    nw_baseline_setup_free(setup);
    if (status == NW_OK)
        worker->advisor = nw_advisor_new_on(baseline, worker->options);
    return status;
}

static gboolean prepare(NwBlockWorker *worker) {
    NwStatus status = make_advisor(worker);
    /* What was found earlier spares a search; if it does not match, the advisor searches. */
    if (status == NW_OK && worker->founds.count &&
        nw_advisor_learn(worker->advisor, worker->founds.list, worker->founds.count) != NW_OK)
        nw_baseline_forget(nw_advisor_ground(worker->advisor));
    if (status == NW_OK)
        take_up(worker);
    worker->next_save = g_get_monotonic_time() + SAVE_MICROSECONDS;
    set_state(worker, status == NW_OK ? NW_BLOCK_WORKER_WORKING : NW_BLOCK_WORKER_FAILED, status);
    return status == NW_OK;
}

/* Whether it is to wait, or to leave. */
static gboolean is_to_rest(NwBlockWorker *worker) {
    NW_BACKGROUND_HOLD(&worker->background);
    return !worker->go || !nw_background_is_wanted(&worker->background);
}

/* Waits while it is paused. FALSE: leave. */
static gboolean may_go_on(NwBlockWorker *worker) {
    if (is_to_rest(worker) || g_get_monotonic_time() > worker->next_save)
        keep(worker, FALSE);
    NW_BACKGROUND_HOLD(&worker->background);
    while (!worker->go && nw_background_is_wanted(&worker->background)) {
        if (worker->state != NW_BLOCK_WORKER_PAUSED) {
            worker->state = NW_BLOCK_WORKER_PAUSED;
            nw_background_wake(&worker->background);
        }
        nw_background_wait(&worker->background);
        worker->posted = 0;
    }
    worker->state = NW_BLOCK_WORKER_WORKING;
    return nw_background_is_wanted(&worker->background);
}

/* Lays down a proposal, if there is one, and where it stands. */
static void tell(NwBlockWorker *worker, const NwProposal *proposal) {
    NwProposalItem *advice =
        proposal ? nw_proposal_item_new(worker->advisor, proposal, worker->options.cook) : NULL;
    size_t miss_count;
    const NwMiss *misses = nw_advisor_misses(worker->advisor, &miss_count);
    NW_BACKGROUND_HOLD(&worker->background);
    if (advice)
        g_ptr_array_add(worker->tray, advice);
    if (worker->misses->len < miss_count)
        g_array_append_vals(worker->misses, misses + worker->misses->len,
                            (guint)(miss_count - worker->misses->len));
    nw_advisor_progress(worker->advisor, &worker->progress);
    worker->has_front = nw_advisor_get_front(worker->advisor, &worker->front);
    if (advice && ++worker->posted == NW_BLOCK_WORKER_BATCH)
        worker->go = FALSE;
    nw_background_wake_soon(&worker->background);
}

static void advise(NwBlockWorker *worker) {
    while (may_go_on(worker)) {
        const NwProposal *proposal;
        NwStatus status = nw_advisor_step(worker->advisor, EFFORT, &proposal);
        worker->saved = FALSE;
        gboolean ended = status != NW_OK && status != NW_STOPPED;
        tell(worker, proposal);
        if (!ended)
            continue;
        if (status == NW_NONE)
            keep(worker, TRUE);
        set_state(worker, status == NW_NONE ? NW_BLOCK_WORKER_DONE : NW_BLOCK_WORKER_FAILED,
                  status);
        return;
    }
}

static void run(gpointer data) {
    NwBlockWorker *worker = data;
    if (prepare(worker))
        advise(worker);
}

/* ---- from the main thread ---------------------------------------------------------------- */

NwBlockWorker *nw_block_worker_new(const NwDesign *design, const char *path, gint64 version,
                                   const NwAdvisorOptions *options, NwFounds *founds,
                                   NwBlockWorkerCall *call, gpointer data) {
    NwBlockWorker *worker = nw_alloc(1, sizeof *worker);
    worker->design = nw_design_copy(design);
    worker->path = g_strdup(path);
    worker->version = version;
    worker->options = *options;
    worker->question = nw_stored_advice_question(options);
    worker->founds = *founds;
    *founds = (NwFounds){0};
    worker->go = TRUE;
    worker->tray = g_ptr_array_new_with_free_func(g_object_unref);
    worker->misses = g_array_new(FALSE, FALSE, sizeof(NwMiss));
    nw_background_begin(&worker->background, "block", run, worker, call, data);
    return worker;
}

void nw_block_worker_free(NwBlockWorker *worker) {
    if (!worker)
        return;
    nw_background_end(&worker->background);
    g_ptr_array_unref(worker->tray);
    g_array_unref(worker->misses);
    nw_founds_clear(&worker->founds);
    nw_advisor_free(worker->advisor);
    nw_library_close(worker->library);
    nw_design_free(worker->design);
    g_free(worker->path);
    g_free(worker->question);
    g_free(worker->trouble);
    free(worker);
}

void nw_block_worker_go(NwBlockWorker *worker) {
    NW_BACKGROUND_HOLD(&worker->background);
    worker->go = TRUE;
    nw_background_tell_change(&worker->background);
}

void nw_block_worker_pause(NwBlockWorker *worker) {
    NW_BACKGROUND_HOLD(&worker->background);
    worker->go = FALSE;
}

NwBlockWorkerState nw_block_worker_get_state(NwBlockWorker *worker) {
    NW_BACKGROUND_HOLD(&worker->background);
    return worker->state;
}

NwStatus nw_block_worker_get_status(NwBlockWorker *worker) {
    NW_BACKGROUND_HOLD(&worker->background);
    return worker->status;
}

void nw_block_worker_progress(NwBlockWorker *worker, NwAdvisorProgress *progress) {
    NW_BACKGROUND_HOLD(&worker->background);
    *progress = worker->progress;
}

char *nw_block_worker_dup_trouble(NwBlockWorker *worker) {
    NW_BACKGROUND_HOLD(&worker->background);
    return g_strdup(worker->trouble);
}

gboolean nw_block_worker_get_front(NwBlockWorker *worker, NwFront *front) {
    NW_BACKGROUND_HOLD(&worker->background);
    gboolean has_front = worker->has_front;
    *front = worker->front;
    return has_front;
}

GPtrArray *nw_block_worker_take(NwBlockWorker *worker) {
    NW_BACKGROUND_HOLD(&worker->background);
    GPtrArray *rows = worker->tray;
    worker->tray = g_ptr_array_new_with_free_func(g_object_unref);
    return rows;
}

GArray *nw_block_worker_dup_misses(NwBlockWorker *worker) {
    NW_BACKGROUND_HOLD(&worker->background);
    return g_array_copy(worker->misses);
}
