/* Could a piece be swallowed? Each orientation against the small-parts cylinder
 * (small_parts_cylinder.h).
 *
 * A piece fits in one orientation if some shift puts all its vertices inside the cylinder. So the
 * search divides the space of orientations (unit quaternions, on four cubes of a hypercube) until
 * each part is settled: a proof, not a sample.
 *
 *     in hand    some reason met before, why vertices stick out, holds for the whole cube
 *     new        that of the cube's middle does
 *     mixed      neither that one nor the one of where it is weakest does, but a mean of both:
 *                where the piece all but fits, turning it either way makes it worse, each way for
 *                another reason
 *     divided    else, into eight
 *
 * A reason is a quadratic form, which is bounded on a cube in a few dozen steps, vertices or not;
 * and a good mean of them is level where the piece fits best, so that a cube may be as large as the
 * root of what sticks out. Where an orientation is better than all before, it is turned a little,
 * this way and that, for as long as that helps: a piece that fits is soon found to.
 *
 * A piece that sticks out by less than NW_SMALL_PARTS_SLACK_MM in its best orientation counts as
 * fitting: that is the error bound, on the safe side. Should the search take more than
 * NW_SMALL_PARTS_WORK_MAX it is given up, and the piece counts as small too.
 *
 * This is no conformity test: real ones are made with a gauge, after use and abuse, by rules that
 * differ from country to country. Coordinates: millimetres. Thread: any. Cost: up to two seconds of
 * a processor of 2020. */
#ifndef NW_MAKE_SAFETY_SMALL_PARTS_H
#define NW_MAKE_SAFETY_SMALL_PARTS_H

#include "make/mesh/facets.h"
#include "make/progress.h"
#include "make/safety/small_parts_cylinder.h"

#define NW_SMALL_PARTS_SLACK_MM 0.05

/* In vertices looked at, and reasons bounded. */
enum { NW_SMALL_PARTS_WORK_MAX = 500000000 };

typedef struct NwSmallPart {
    bool fits;            /* it goes in, or may */
    bool settled;         /* the search came to its end */
    double turn[4];       /* the quaternion (w, x, y, z) of the best orientation met */
    double sticks_out_mm; /* by how much it sticks out there, if more than 0 */
    long cubes;           /* that were looked at */
    long work;
} NwSmallPart;

/* Tries a mesh, of which only the vertices matter. Stopped, it is not settled. */
NwSmallPart nw_small_part_try(const NwFacets *facets, NwProgress *progress);

#endif
