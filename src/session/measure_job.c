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
    NwMeasureJob *measurer = data;
    if (measurer->design)
        nw_measuring_of_answer(&measurer->measuring, measurer->design, NULL,
                               measurer->answer ? nw_assembly_item_get(measurer->answer) : NULL,
                               measurer->progress, &measurer->measures, &measurer->error);
    else
        nw_measuring_from_store(&measurer->measuring, measurer->path, measurer->version,
                                measurer->progress, &measurer->measures, &measurer->error);
}

/* ---- from the main thread ---------------------------------------------------------------- */

static NwMeasureJob *begin(NwMeasureJob with, NwMeasureCall *call, gpointer data) {
    NwMeasureJob *measurer = nw_alloc(1, sizeof *measurer);
    *measurer = with;
    measurer->progress = nw_progress_new();
    nw_background_begin(&measurer->background, "measure", measure, measurer, call, data);
    return measurer;
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

void nw_measure_job_free(NwMeasureJob *measurer) {
    if (!measurer)
        return;
    nw_progress_stop(measurer->progress);
    nw_background_end(&measurer->background);
    nw_design_free(measurer->design);
    g_clear_object(&measurer->answer);
    g_clear_error(&measurer->error);
    nw_progress_free(measurer->progress);
    g_free(measurer->path);
    free(measurer);
}

double nw_measure_job_progress(NwMeasureJob *measurer, char **what) {
    return nw_progress_get(measurer->progress, what);
}

const NwMeasures *nw_measure_job_get(NwMeasureJob *measurer, const char **message) {
    gboolean done = nw_background_is_over(&measurer->background);
    *message = done && measurer->error ? measurer->error->message : NULL;
    return done && !measurer->error ? &measurer->measures : NULL;
}
