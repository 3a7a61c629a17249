/* Times of trials against a measure of what was tried: which trials make a dot, and which cannot.
 *
 * A trial has a dot if it has minutes and the measure of its design is known. Ownership: `clear`
 * frees the dots; the names in them belong to the trials. Thread: any. */
#ifndef NW_MEASURE_TIMES_H
#define NW_MEASURE_TIMES_H

#include "measure/chart_dot.h"
#include "measure/measures.h"
#include "store/trials.h"

typedef struct NwTimes {
    GArray *dots;             /* NwChartDot */
    guint untimed;            /* trials without minutes */
    guint unmeasured;         /* trials with minutes whose design has no such measure */
    guint unmeasured_designs; /* how many designs those are of */
} NwTimes;

/* The measures of the design that was tried; NULL: not known. Borrowed. */
typedef const NwMeasures *NwTimesMeasures(const NwStoredTrial *trial, gpointer data);

/* `trials` is an array of NwStoredTrial. */
void nw_times_init(NwTimes *times, const GPtrArray *trials, NwMeasure measure,
                   NwTimesMeasures *measures_of, gpointer data);
void nw_times_clear(NwTimes *times);

/* For who cannot see the chart: how many dots there are, and where those of each design stand. The
 * caller frees. */
char *nw_times_dup_words(const NwTimes *times);

#endif
