/* Measuring a design in the background (product/measuring.h).
 *
 * It works on copies of its own, so nothing that happens in the window disturbs it. Ownership:
 * `free` stops it and joins; one that does not hear of it at once (a store that is slow to read) is
 * left to end by itself. Thread: called from the main one. */
#ifndef NW_APP_MEASURER_H
#define NW_APP_MEASURER_H

#include "app/finding_item.h"
#include "product/measuring.h"

typedef struct NwMeasurer NwMeasurer;

/* Called once in the main loop, when it is done. */
typedef void NwMeasurerCall(gpointer data);

/* Of a complete search: what it came to, and its answer, or NULL. */
NwMeasurer *nw_measurer_new(const NwMeasuring *measuring, const NwDesign *design,
                            const NwTally *tally, NwFindingItem *answer, NwMeasurerCall *call,
                            gpointer data);

/* Of a version in the store at `path`. */
NwMeasurer *nw_measurer_new_from_store(const NwMeasuring *measuring, const char *path,
                                       gint64 version, NwMeasurerCall *call, gpointer data);
void nw_measurer_free(NwMeasurer *measurer); /* NULL is allowed */

/* From 0 to 1, and what it is at; the caller frees. */
double nw_measurer_progress(NwMeasurer *measurer, char **what);

/* Once it is done: the measures, or NULL with why there are none. Borrowed. */
const NwMeasures *nw_measurer_get(NwMeasurer *measurer, const char **message);

#endif
