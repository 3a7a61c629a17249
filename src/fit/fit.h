/* Fit: every assembly of a design, once each.
 *
 * NwFit is the question, made ready: places, symmetries, pivot, matrix. It is read-only once
 * built, may be shared by threads and must outlive its searches. NwFitSearch is one walk through
 * it (or through one subtree): a pull iterator that knows no thread, clock or callback.
 *
 * Two assemblies are the same when a motion of NwSymmetryGroup carries one to the other. Each class
 * is returned once, as the least of its images, so its key and placements do not depend on the
 * order of the search, on the symmetry breaking or on the number of threads. */
#ifndef NW_FIT_FIT_H
#define NW_FIT_FIT_H

#include "fit/cover.h"
#include "fit/symmetry_group.h"

typedef struct NwFitOptions {
    bool keep_symmetry; /* do not break symmetry before the search, only filter after it */
} NwFitOptions;

typedef struct NwFit {
    NwDesign *design; /* its own frozen copy */
    NwPlacementTable *places;
    NwSymmetryGroup *group;
    bool *disabled; /* places that the pivot spares */
    NwMatrix *matrix;
    int count; /* placements in an assembly */
} NwFit;

/* One way all pieces fit: a placement for each copy of each piece, sorted by piece. */
typedef struct NwAssembly {
    uint64_t key; /* the same for the same assembly of the same design, always */
    int count;
    NwPlacement placements[NW_COPIES_MAX];
} NwAssembly;

/* All at once; fit/setup.h does it step by step. NW_EMPTY: no envelope or no pieces; NW_TOO_MANY:
 * more places or items than supported. On failure *fit is NULL. A design that cannot work (volumes,
 * misfits) is no failure: it has no assembly. */
NwStatus nw_fit_new(const NwDesign *design, NwFitOptions options, NwFit **fit);

void nw_fit_free(NwFit *fit); /* NULL is allowed */

/* The canonical form of the design's intended assembly. NW_NONE if the design has none,
 * NW_DOES_NOT_FIT if its placements are no assembly. */
NwStatus nw_fit_intended(const NwFit *fit, NwAssembly *assembly);

/* The canonical form of `count` placements in any order. NW_DOES_NOT_FIT if they are no assembly,
 * whatever they are. */
NwStatus nw_fit_canonical(const NwFit *fit, const NwPlacement *placements, size_t count,
                          NwAssembly *assembly);

typedef struct NwFitSearch NwFitSearch;

NwFitSearch *nw_fit_search_new(const NwFit *fit);
void nw_fit_search_free(NwFitSearch *search); /* NULL is allowed */

/* Goes on until `effort` is spent (fit/cover.h). NW_OK: *assembly is a new one; NW_NONE: there are
 * no more; NW_STOPPED: the effort is spent. */
NwStatus nw_fit_search_step(NwFitSearch *search, long effort, NwAssembly *assembly);

/* The cover search underneath, for its position and what it has left or gives away. */
NwCover *nw_fit_search_cover(NwFitSearch *search);

/* Covers met so far, before equal ones are dropped. */
unsigned long long nw_fit_search_raw(const NwFitSearch *search);

#endif
