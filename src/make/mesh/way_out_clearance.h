/* How near the pieces come to each other on the whole way out.
 *
 * The pieces are taken as they are made, at their places; then every slide is swept (gap.h): no
 * moment is left out, and nothing of the argument in clearance.h is used. An out slide is swept
 * until every point that moves is past every point that stays, after which they only part further.
 * Pieces that have parted never meet again (slide/group_positions.h) and are not measured.
 *
 * Coordinates: millimetres. Thread: any. Cost: for each slide and pair, as nw_facets_nearer. */
#ifndef NW_MAKE_MESH_WAY_OUT_CLEARANCE_H
#define NW_MAKE_MESH_WAY_OUT_CLEARANCE_H

#include "make/mesh/gap.h"
#include "make/progress.h"
#include "slide/separation.h"

typedef struct NwWayOutClearance {
    double
        least_mm; /* the nearest that two pieces come, or `bound_mm` if they stay farther apart */
    int slide;    /* in which slide; -1: at rest, before the first; -2: nowhere under the bound */
    size_t moving, resting; /* which two */
} NwWayOutClearance;

/* Measures; stopped, it has measured only some of it. `bodies` stand at their places in the
 * assembly; `cell_mm` is what a cell of a slide measures. Distances of `bound_mm` or more are not
 * told apart. */
NwWayOutClearance nw_way_out_clearance_measure(const NwFacets *const *bodies, size_t count,
                                               const NwSlide *slides, size_t slide_count,
                                               double cell_mm, double bound_mm,
                                               NwProgress *progress);

#endif
