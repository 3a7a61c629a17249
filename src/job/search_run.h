/* A search that is pursued to its end in the calling thread, and kept in the store where there is
 * one.
 *
 *     begin    nothing is searched yet
 *     step     some moments of setting up, as progress.setup tells, and at its end what the
 *              store has; then of search, a batch of findings, and progress; until it is
 *              over, or
 *     end      the caller has enough: the search stops, and where it stands is saved
 *
 * Whatever was found is handed over once, and if it is kept, after it was saved. A store that can
 * only be read is read, and the search goes on from there without being saved. One that was
 * complete before is not searched again. One that ends before it is set up is left as it was.
 * Ownership: it borrows the design, the library and the results, whose search, progress and
 * from_store it writes. Thread: that of the library. */
#ifndef NW_JOB_SEARCH_RUN_H
#define NW_JOB_SEARCH_RUN_H

#include "job/search_results.h"
#include "store/library.h"

typedef struct NwSearchRun NwSearchRun;

/* What is to be searched, and where it is kept. */
typedef struct NwSearchRunGoal {
    const NwDesign *design;
    NwSearchOptions options;
    NwLibrary *library; /* NULL: not kept */
    gint64 version;     /* of the design in the library */
    gboolean anew;      /* forget what the library has of this search */
} NwSearchRunGoal;

/* `results` was initialised. NULL with an error if it cannot be searched or the store fails. */
NwSearchRun *nw_search_run_begin(const NwSearchRunGoal *goal, NwSearchResults *results,
                                 GError **error);

/* Frees it, without saving what was not saved; NULL is allowed. The results has the search on. */
void nw_search_run_free(NwSearchRun *run);

/* Searches for about 100 milliseconds (without a store less, as soon as something is found). The
 * caller unrefs *batch, which is set in any case. FALSE with an error if it could not be saved. */
gboolean nw_search_run_step(NwSearchRun *run, GPtrArray **batch, GError **error);

/* Whether all that can be found has been. */
gboolean nw_search_run_is_over(const NwSearchRun *run);

/* Stops the search and saves; the last batch as in a step. */
gboolean nw_search_run_end(NwSearchRun *run, GPtrArray **batch, GError **error);

#endif
