/* Measuring a design in the background (measure/measuring.h).
 *
 * It works on copies of its own, so nothing that happens in the window disturbs it. Ownership:
 * `free` stops it and joins. Thread: called from the main one. */
#ifndef NW_SESSION_MEASURE_JOB_H
#define NW_SESSION_MEASURE_JOB_H

#include "measure/measuring.h"
#include "session/assembly_item.h"

typedef struct NwMeasureJob NwMeasureJob;

/* Called once in the main loop, when it is done. */
typedef void NwMeasureCall(gpointer data);

/* Of a complete search: what it came to, and its answer, or NULL. */
NwMeasureJob *nw_measure_job_new(const NwMeasuring *measuring, const NwDesign *design,
                                 const NwTally *tally, NwAssemblyItem *answer, NwMeasureCall *call,
                                 gpointer data);

/* Of a version in the store at `path`. */
NwMeasureJob *nw_measure_job_new_from_store(const NwMeasuring *measuring, const char *path,
                                            gint64 version, NwMeasureCall *call, gpointer data);
void nw_measure_job_free(NwMeasureJob *job); /* NULL is allowed */

/* From 0 to 1, and what it is at; the caller frees. */
double nw_measure_job_progress(NwMeasureJob *job, char **what);

/* Once it is done: the measures, or NULL with why there are none. Borrowed. */
const NwMeasures *nw_measure_job_get(NwMeasureJob *job, const char **message);

#endif
