#include "session/apart_worker.h"

#include <pthread.h>
#include <stdlib.h>

#include "base/memory.h"

/* A step is some hundredths of a second at most; news come some times a second. */
enum { POSITIONS_A_STEP = 500, NEWS_MICROSECONDS = 200000 };

struct NwApartWorker {
    /* Fixed when it is made. */
    NwDesign *design;
    NwPlacement *placements; /* NULL: of what the design shows */
    size_t count;
    NwApartOptions options;
    double seconds;
    NwApartCall *call;
    gpointer data;
    GThread *thread;

    pthread_mutex_t lock; /* guards everything below */
    gboolean prepared, leaving, orphan;
    NwApartNews news;
    char *trouble;
    guint source; /* the pending call, or 0 */
};

static gboolean wake(gpointer data) {
    NwApartWorker *worker = data;
    pthread_mutex_lock(&worker->lock);
    worker->source = 0;
    NwApartNews news = worker->news;
    worker->news.finding = NULL;
    pthread_mutex_unlock(&worker->lock);
    worker->call(&news, worker->data); /* which may free it */
    nw_found_assembly_free(news.finding);
    return G_SOURCE_REMOVE;
}

/* ---- the thread -------------------------------------------------------------------------- */

/* Under the lock. */
static void ask_for_call(NwApartWorker *worker) {
    if (!worker->source && !worker->leaving)
        worker->source = g_idle_add(wake, worker);
}

static gboolean is_leaving(NwApartWorker *worker) {
    pthread_mutex_lock(&worker->lock);
    gboolean leaving = worker->leaving;
    pthread_mutex_unlock(&worker->lock);
    return leaving;
}

static NwApart *prepare(NwApartWorker *worker, GError **error) {
    NwShown shown = NW_SHOWS_NONE;
    NwApart *apart = worker->placements
                         ? nw_apart_new(worker->design, worker->placements, worker->count,
                                        &worker->options, error)
                         : nw_apart_new_shown(worker->design, &worker->options, &shown, error);
    pthread_mutex_lock(&worker->lock);
    worker->prepared = TRUE;
    worker->news.shown = shown;
    pthread_mutex_unlock(&worker->lock);
    return apart;
}

static void tell_progress(NwApartWorker *worker, const NwApart *apart) {
    pthread_mutex_lock(&worker->lock);
    worker->news.progress = nw_apart_progress(apart);
    worker->news.at_least = nw_apart_finding(apart)->at_least;
    ask_for_call(worker);
    pthread_mutex_unlock(&worker->lock);
}

static NwStatus take_apart(NwApartWorker *worker, NwApart *apart, GError **error) {
    gint64 began = g_get_monotonic_time(), told = began;
    NwStatus status;
    gboolean late = FALSE;
    while ((status = nw_apart_step(apart, POSITIONS_A_STEP, error)) == NW_STOPPED && !late &&
           !is_leaving(worker)) {
        gint64 now = g_get_monotonic_time();
        late = worker->seconds > 0 && (double)(now - began) >= worker->seconds * G_USEC_PER_SEC;
        if (now - told < NEWS_MICROSECONDS)
            continue;
        told = now;
        tell_progress(worker, apart);
    }
    return status;
}

static void destroy(NwApartWorker *worker) {
    nw_found_assembly_free(worker->news.finding);
    nw_design_free(worker->design);
    g_free(worker->placements);
    pthread_mutex_destroy(&worker->lock);
    g_free(worker->trouble);
    free(worker);
}

static gpointer run(gpointer data) {
    NwApartWorker *worker = data;
    GError *error = NULL;
    NwApart *apart = prepare(worker, &error);
    if (apart)
        take_apart(worker, apart, &error);
    pthread_mutex_lock(&worker->lock);
    worker->news.over = TRUE;
    if (apart && !error) {
        worker->news.progress = nw_apart_progress(apart);
        worker->news.finding = nw_apart_steal(apart);
    }
    if (error && !g_error_matches(error, NW_APART_ERROR, NW_APART_ERROR_NONE_SHOWN))
        worker->news.trouble = worker->trouble = g_strdup(error->message);
    ask_for_call(worker);
    gboolean orphan = worker->orphan;
    pthread_mutex_unlock(&worker->lock);
    g_clear_error(&error);
    nw_apart_free(apart);
    if (orphan)
        destroy(worker);
    return NULL;
}

/* ---- from the main thread ---------------------------------------------------------------- */

static NwApartWorker *start(const NwDesign *design, const NwPlacement *placements, size_t count,
                            const NwApartOptions *options, double seconds, NwApartCall *call,
                            gpointer data) {
    NwApartWorker *worker = nw_alloc(1, sizeof *worker);
    pthread_mutex_init(&worker->lock, NULL);
    worker->design = nw_design_copy(design);
    worker->placements = placements ? g_memdup2(placements, count * sizeof *placements) : NULL;
    worker->count = count;
    worker->options = *options;
    worker->seconds = seconds;
    worker->call = call;
    worker->data = data;
    worker->thread = g_thread_new("apart", run, worker);
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
    pthread_mutex_lock(&worker->lock);
    worker->leaving = TRUE;
    worker->orphan = !worker->prepared;
    gboolean orphan = worker->orphan;
    GThread *thread = worker->thread;
    if (worker->source)
        g_source_remove(worker->source);
    worker->source = 0;
    pthread_mutex_unlock(&worker->lock);
    if (orphan) {
        g_thread_unref(thread);
        return;
    }
    g_thread_join(thread);
    destroy(worker);
}
