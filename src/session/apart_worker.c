#include "session/apart_worker.h"

#include <stdlib.h>

#include "base/memory.h"
#include "job/background.h"

enum { POSITIONS_A_STEP = 500 }; /* some hundredths of a second at most */

struct NwApartWorker {
    /* Fixed when it is made. */
    NwDesign *design;
    NwPlacement *placements; /* NULL: of what the design shows */
    size_t count;
    NwApartOptions options;
    double seconds;
    NwApartCall *call;
    gpointer data;
    NwBackground background;

    /* Under its lock. */
    NwApartNews news;
    char *trouble;
};

static void on_news(gpointer data) {
    NwApartWorker *worker = data;
    nw_background_lock(&worker->background);
    NwApartNews news = worker->news;
    worker->news.finding = NULL;
    nw_background_unlock(&worker->background);
    worker->call(&news, worker->data); /* which may free it */
    nw_found_assembly_free(news.finding);
}

/* ---- the thread -------------------------------------------------------------------------- */

static NwApart *prepare(NwApartWorker *worker, GError **error) {
    NwShown shown = NW_SHOWS_NONE;
    NwApart *apart = worker->placements
                         ? nw_apart_new(worker->design, worker->placements, worker->count,
                                        &worker->options, error)
                         : nw_apart_new_shown(worker->design, &worker->options, &shown, error);
    NW_BACKGROUND_HOLD(&worker->background);
    worker->news.shown = shown;
    return apart;
}

static void tell_progress(NwApartWorker *worker, const NwApart *apart) {
    NW_BACKGROUND_HOLD(&worker->background);
    worker->news.progress = nw_apart_progress(apart);
    worker->news.at_least = nw_apart_finding(apart)->at_least;
    nw_background_wake_soon(&worker->background);
}

static void take_apart(NwApartWorker *worker, NwApart *apart, GError **error) {
    gint64 began = g_get_monotonic_time();
    gboolean late = FALSE;
    while (nw_apart_step(apart, POSITIONS_A_STEP, error) == NW_STOPPED && !late &&
           !nw_background_is_leaving(&worker->background)) {
        double seconds = (double)(g_get_monotonic_time() - began) / G_USEC_PER_SEC;
        late = worker->seconds > 0 && seconds >= worker->seconds;
        tell_progress(worker, apart);
    }
}

static void run(gpointer data) {
    NwApartWorker *worker = data;
    GError *error = NULL;
    NwApart *apart = prepare(worker, &error);
    if (apart)
        take_apart(worker, apart, &error);
    nw_background_lock(&worker->background);
    worker->news.over = TRUE;
    if (apart && !error) {
        worker->news.progress = nw_apart_progress(apart);
        worker->news.finding = nw_apart_steal(apart);
    }
    if (error && !g_error_matches(error, NW_APART_ERROR, NW_APART_ERROR_NONE_SHOWN))
        worker->news.trouble = worker->trouble = g_strdup(error->message);
    nw_background_unlock(&worker->background);
    g_clear_error(&error);
    nw_apart_free(apart);
}

/* ---- from the main thread ---------------------------------------------------------------- */

static NwApartWorker *start(const NwDesign *design, const NwPlacement *placements, size_t count,
                            const NwApartOptions *options, double seconds, NwApartCall *call,
                            gpointer data) {
    NwApartWorker *worker = nw_alloc(1, sizeof *worker);
    worker->design = nw_design_copy(design);
    worker->placements = placements ? g_memdup2(placements, count * sizeof *placements) : NULL;
    worker->count = count;
    worker->options = *options;
    worker->seconds = seconds;
    worker->call = call;
    worker->data = data;
    nw_background_begin(&worker->background, "apart", run, worker, on_news, worker);
    return worker;
}

NwApartWorker *nw_apart_worker_new(const NwDesign *design, const NwApartOptions *options,
                                   double seconds, NwApartCall *call, gpointer data) {
    return start(design, NULL, 0, options, seconds, call, data);
}

NwApartWorker *nw_apart_worker_new_of(const NwDesign *design, const NwPlacement *placements,
                                      size_t count, const NwApartOptions *options,
                                      NwApartCall *call, gpointer data) {
    return start(design, placements, count, options, 0, call, data);
}

void nw_apart_worker_free(NwApartWorker *worker) {
    if (!worker)
        return;
    nw_background_end(&worker->background);
    nw_found_assembly_free(worker->news.finding);
    nw_design_free(worker->design);
    g_free(worker->placements);
    g_free(worker->trouble);
    free(worker);
}
