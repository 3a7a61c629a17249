#include "session/measure_job.h"

#include <stdlib.h>

#include "base/memory.h"
#include "job/background.h"

struct NwMeasureJob {
    /* Fixed when it is made. */
    NwMeasuring measuring;
    NwDesign *design; /* NULL: it is in the store */
    NwAssemblyItem *answer;
    char *path;
    gint64 version;
    NwProgress *progress;
    NwBackground background;

    /* The thread's own until that is over, and fixed from then on. */
    NwMeasures measures;
    GError *error;
};

static void measure(gpointer data) {
    NwMeasureJob *job = data;
    if (job->design)
        nw_measuring_of_answer(&job->measuring, job->design, NULL,
                               job->answer ? nw_assembly_item_get(job->answer) : NULL,
                               job->progress, &job->measures, &job->error);
    else
        nw_measuring_from_store(&job->measuring, job->path, job->version, job->progress,
                                &job->measures, &job->error);
}

/* ---- from the main thread ---------------------------------------------------------------- */

static NwMeasureJob *begin(NwMeasureJob with, NwMeasureCall *call, gpointer data) {
    NwMeasureJob *job = nw_alloc(1, sizeof *job);
    *job = with;
    job->progress = nw_progress_new();
    nw_background_begin(&job->background, "measure", measure, job, call, data);
    return job;
}

NwMeasureJob *nw_measure_job_new(const NwMeasuring *measuring, const NwDesign *design,
                                 const NwTally *tally, NwAssemblyItem *answer, NwMeasureCall *call,
                                 gpointer data) {
    return begin((NwMeasureJob){.measuring = *measuring,
                                .design = nw_design_copy(design),
                                .measures = {.tally = *tally},
                                .answer = answer ? g_object_ref(answer) : NULL},
                 call, data);
}

NwMeasureJob *nw_measure_job_new_from_store(const NwMeasuring *measuring, const char *path,
                                            gint64 version, NwMeasureCall *call, gpointer data) {
    return begin(
        (NwMeasureJob){.measuring = *measuring, .path = g_strdup(path), .version = version}, call,
        data);
}

void nw_measure_job_free(NwMeasureJob *job) {
    if (!job)
        return;
    nw_progress_stop(job->progress);
    nw_background_end(&job->background);
    nw_design_free(job->design);
    g_clear_object(&job->answer);
    g_clear_error(&job->error);
    nw_progress_free(job->progress);
    g_free(job->path);
    free(job);
}

double nw_measure_job_progress(NwMeasureJob *job, char **what) {
    return nw_progress_get(job->progress, what);
}

const NwMeasures *nw_measure_job_get(NwMeasureJob *job, const char **message) {
    gboolean done = nw_background_is_over(&job->background);
    *message = done && job->error ? job->error->message : NULL;
    return done && !job->error ? &job->measures : NULL;
}
