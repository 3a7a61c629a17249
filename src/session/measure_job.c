#include "session/measure_job.h"

#include <gio/gio.h>
#include <pthread.h>
#include <stdlib.h>
#include <time.h>

#include "base/memory.h"

enum { PATIENCE_MILLISECONDS = 300 }; /* for a stopped one to end */

struct NwMeasureJob {
    /* Fixed when it is made. */
    NwMeasuring measuring;
    NwDesign *design; /* NULL: it is in the store */
    NwAssemblyItem *answer;
    char *path;
    gint64 version;
    NwMeasureCall *call;
    gpointer data;
    NwProgress *progress;
    GThread *thread;

    /* The thread's own until it is done, and fixed from then on. */
    NwMeasures measures;
    GError *error;

    pthread_mutex_t lock; /* guards everything below */
    pthread_cond_t changed;
    gboolean done, leaving, orphan;
    guint source; /* the pending call, or 0 */
};

static gboolean wake(gpointer data) {
    NwMeasureJob *measurer = data;
    pthread_mutex_lock(&measurer->lock);
    measurer->source = 0;
    pthread_mutex_unlock(&measurer->lock);
    measurer->call(measurer->data); /* which may free it */
    return G_SOURCE_REMOVE;
}

static void destroy(NwMeasureJob *measurer) {
    nw_design_free(measurer->design);
    g_clear_object(&measurer->answer);
    g_clear_error(&measurer->error);
    nw_progress_free(measurer->progress);
    pthread_cond_destroy(&measurer->changed);
    pthread_mutex_destroy(&measurer->lock);
    g_free(measurer->path);
    free(measurer);
}

static void measure(NwMeasureJob *measurer) {
    if (measurer->design)
        nw_measuring_of_answer(&measurer->measuring, measurer->design, NULL,
                               measurer->answer ? nw_assembly_item_get(measurer->answer) : NULL,
                               measurer->progress, &measurer->measures, &measurer->error);
    else
        nw_measuring_from_store(&measurer->measuring, measurer->path, measurer->version,
                                measurer->progress, &measurer->measures, &measurer->error);
}

static gpointer run(gpointer data) {
    NwMeasureJob *measurer = data;
    measure(measurer);
    pthread_mutex_lock(&measurer->lock);
    measurer->done = TRUE;
    gboolean orphan = measurer->orphan;
    if (!measurer->leaving)
        measurer->source = g_idle_add(wake, measurer);
    pthread_cond_broadcast(&measurer->changed);
    pthread_mutex_unlock(&measurer->lock);
    if (orphan)
        destroy(measurer);
    return NULL;
}

/* ---- from the main thread ---------------------------------------------------------------- */

static NwMeasureJob *begin(NwMeasureJob with) {
    NwMeasureJob *measurer = nw_alloc(1, sizeof *measurer);
    *measurer = with;
    measurer->progress = nw_progress_new();
    pthread_mutex_init(&measurer->lock, NULL);
    pthread_cond_init(&measurer->changed, NULL);
    measurer->thread = g_thread_new("measurer", run, measurer);
    return measurer;
}

NwMeasureJob *nw_measure_job_new(const NwMeasuring *measuring, const NwDesign *design,
                                 const NwTally *tally, NwAssemblyItem *answer, NwMeasureCall *call,
                                 gpointer data) {
    return begin((NwMeasureJob){.measuring = *measuring,
                                .design = nw_design_copy(design),
                                .measures = {.tally = *tally},
                                .answer = answer ? g_object_ref(answer) : NULL,
                                .call = call,
                                .data = data});
}

NwMeasureJob *nw_measure_job_new_from_store(const NwMeasuring *measuring, const char *path,
                                            gint64 version, NwMeasureCall *call, gpointer data) {
    return begin((NwMeasureJob){.measuring = *measuring,
                                .path = g_strdup(path),
                                .version = version,
                                .call = call,
                                .data = data});
}

/* Under the lock. Waits a little for a stopped one; it is an orphan if it takes longer. */
static void await_end(NwMeasureJob *measurer) {
    struct timespec end;
    clock_gettime(CLOCK_REALTIME, &end);
    end.tv_nsec += PATIENCE_MILLISECONDS * 1000000L;
    end.tv_sec += end.tv_nsec / 1000000000L;
    end.tv_nsec %= 1000000000L;
    while (!measurer->done &&
           pthread_cond_timedwait(&measurer->changed, &measurer->lock, &end) == 0)
        continue;
    measurer->orphan = !measurer->done;
}

void nw_measure_job_free(NwMeasureJob *measurer) {
    if (!measurer)
        return;
    nw_progress_stop(measurer->progress);
    pthread_mutex_lock(&measurer->lock);
    measurer->leaving = TRUE;
    if (measurer->source)
        g_source_remove(measurer->source);
    measurer->source = 0;
    await_end(measurer);
    gboolean orphan = measurer->orphan;
    GThread *thread = measurer->thread;
    pthread_mutex_unlock(&measurer->lock);
    if (orphan) {
        g_thread_unref(thread);
        return;
    }
    g_thread_join(thread);
    destroy(measurer);
}

double nw_measure_job_progress(NwMeasureJob *measurer, char **what) {
    return nw_progress_get(measurer->progress, what);
}

const NwMeasures *nw_measure_job_get(NwMeasureJob *measurer, const char **message) {
    pthread_mutex_lock(&measurer->lock);
    gboolean done = measurer->done;
    pthread_mutex_unlock(&measurer->lock);
    *message = done && measurer->error ? measurer->error->message : NULL;
    return done && !measurer->error ? &measurer->measures : NULL;
}
