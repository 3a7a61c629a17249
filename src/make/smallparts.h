/* Could a piece be swallowed? Each orientation against the small-parts cylinder.
 *
 * 16 CFR 1501.4: no part may "fit entirely within a cylinder with the dimensions shown in Figure 1
 * ... in any orientation". The figure, from memory: a bore of 1.25 in (31.75 mm), and a slanted
 * floor from 1 in (25.4 mm) deep on one side to 2.25 in (57.15 mm) on the other; the inches count.
 *
 *      |         |  0          That space is convex: a round wall, a floor that slants by 45
 * degrees |         |             (it falls 31.75 mm over 31.75 mm), and the rim. A piece fits in
 * one |        /   25.4       orientation if some shift puts all its vertices inside. Let g be the
 *      |      /                least, over all shifts, of the most by which a vertex sticks out.
 *      |    /                  Turning by an angle t moves no vertex by more than 2 sin(t/2) r,
 *      |  /                    with r its farthest from a fixed middle, so neither does g change by
 *      |/         57.15        more: if g > 2 sin(t/2) r, nothing within t of the orientation fits.
 *
 * So the search divides the space of orientations (unit quaternions, on four cubes of a hypercube)
 * until each part is settled: a proof, not a sample. A piece that sticks out by less than
 * NW_SMALL_PARTS_SLACK_MM in its best orientation counts as fitting: that is the error bound, on
 * the safe side. Should the search take more than NW_SMALL_PARTS_STEPS_MAX orientations it is given
 * up, and the piece counts as small too.
 *
 * This is no conformity test: real ones are made with a gauge, after use and abuse, by rules that
 * differ from country to country. Coordinates: millimetres. Thread: any. */
#ifndef NW_MAKE_SMALLPARTS_H
#define NW_MAKE_SMALLPARTS_H

#include "make/facets.h"
#include "make/progress.h"

#define NW_SMALL_PARTS_BORE_MM 31.75
#define NW_SMALL_PARTS_SHALLOW_MM 25.4
#define NW_SMALL_PARTS_DEEP_MM 57.15
#define NW_SMALL_PARTS_SLACK_MM 0.05

enum { NW_SMALL_PARTS_STEPS_MAX = 1000000 };

typedef struct NwSmallPart {
    bool fits;            /* it goes in, or may */
    bool settled;         /* the search came to its end */
    double turn[4];       /* the quaternion (w, x, y, z) of the best orientation met */
    double sticks_out_mm; /* by how much it sticks out there, if more than 0 */
    long steps;           /* orientations tried */
} NwSmallPart;

/* Tries a mesh, of which only the vertices matter. Stopped, it is not settled. */
NwSmallPart nw_small_part_try(const NwFacets *facets, NwProgress *progress);

/* By how much the points stick out in one orientation, with the best shift. For tests. */
double nw_small_part_sticks_out(const double (*points)[3], size_t count, const double turn[4]);

#endif
