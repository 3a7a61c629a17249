/* Setting up a fit step by step: what comes before the search.
 *
 *     listing     every place of every piece                    (fit/placement_table.h)
 *     symmetry    the motions that make assemblies the same,
 *                 and the pivot that breaks them                (fit/symmetry_group.h,
 * fit/symmetry_breaking.h) matrix      the exact cover problem                       (fit/matrix.h)
 *     pruning     rows that can be no part of a cover           (fit/prune.h), by turns with
 *                 a search on trial, as is told below
 *
 * Pruning may cost more than it saves. So a search is tried first, for a few nodes: often they are
 * all there are. Else pruning goes on for twice as long as the search was tried, the search
 * for twice as long as it was, and so on by turns, until either is at its end: so pruning costs a
 * few times as much as the search that it is for, at the worst.
 *
 * For a design of some thousand parts that takes seconds; so it is a pull iterator, like the
 * search, that its caller can stop at any time. The fit that comes of it depends on the design and
 * the options alone. Thread: each belongs to one. */
#ifndef NW_FIT_SETUP_H
#define NW_FIT_SETUP_H

#include "fit/fit.h"

typedef enum NwSetupStage {
    NW_SETUP_DONE,
    NW_SETUP_LISTING,
    NW_SETUP_SYMMETRY,
    NW_SETUP_MATRIX,
    NW_SETUP_PRUNING,
} NwSetupStage;

/* How far the stage is: `done` of `total`, of pieces when listing; each stage begins at 0. */
typedef struct NwSetupProgress {
    NwSetupStage stage;
    int done, total;
} NwSetupProgress;

typedef struct NwFitSetup NwFitSetup;

/* NW_EMPTY and NW_TOO_MANY as nw_fit_new, so far as it can be told; *setup is then NULL. The design
 * is copied. */
NwStatus nw_fit_setup_new(const NwDesign *design, NwFitOptions options, NwFitSetup **setup);

/* For a search that is short: `places`, which it takes over, are all places of the design, and the
 * matrix is not pruned. */
NwFitSetup *nw_fit_setup_new_with(const NwDesign *design, NwPlacementTable *places);
void nw_fit_setup_free(NwFitSetup *setup); /* NULL is allowed */

/* Goes on until `effort` is spent, about a thousandth of a millisecond each: NW_STOPPED. NW_OK:
 * *fit is ready and the caller's. NW_TOO_MANY as nw_fit_new. */
NwStatus nw_fit_setup_step(NwFitSetup *setup, long effort, NwFit **fit);

/* The same through as many stages as *effort is enough for; takes off it what it has spent. */
NwStatus nw_fit_setup_go_on(NwFitSetup *setup, long *effort, NwFit **fit);

NwSetupProgress nw_fit_setup_progress(const NwFitSetup *setup);

#endif
