/* The gauge for small parts: how far points stick out of it in one orientation, and why.
 *
 * 16 CFR 1501.4: no part may "fit entirely within a cylinder with the dimensions shown in Figure 1
 * ... in any orientation". The figure, from memory: a bore of 1.25 in (31.75 mm), and a slanted
 * floor from 1 in (25.4 mm) deep on one side to 2.25 in (57.15 mm) on the other; the inches count.
 *
 *      |         |  0          That space is convex: a round wall, a floor that slants by 45
 *      |         |             degrees (it falls 31.75 mm over 31.75 mm), and the rim. Let g be
 *      |        /   25.4       the least, over all shifts, of the most by which a point sticks
 *      |      /                out of any of these.
 *      |    /
 *      |  /                    Seen from above, the shift that is wanted is a middle c of the bore:
 *      |/         57.15        every point asks for | p - c | - R of it, and rim and floor together
 *                              ask for (c.x - a) / k, with k = 1 + sqrt(2): let the highest point
 * stand out of the rim by e; then the floor is met first by the point with the least x + z, and
 * both are equal, so that neither is worse, at that e. The largest of all these is convex in c,
 * and its least is that of some two or three of them, the *basis* (M. Sharir, E. Welzl, "A
 * combinatorial bound for linear programming and related problems", 1992): one begins with any,
 * and takes in what asks for most until nothing asks for more.
 *
 * A reason: at the least the basis pulls c evenly. With shares m, and n the directions in which the
 * points of the basis lie from c, sum m n = (share of the floor / k) (1, 0, 0). Then the same sum
 * of what they ask for does not depend on the shift, and is never more than g, however the points
 * are turned (weak duality). It is linear in the rotation's matrix, so quadratic in its quaternion:
 * q' F q / q' q. That form F is the reason; a weighted mean of two reasons is one.
 *
 * Coordinates: millimetres; the gauge's axis is z, its floor deep towards +x. Quaternions
 * (w, x, y, z) of length 1. Thread: any. */
#ifndef NW_MAKE_SAFETY_SMALL_PARTS_CYLINDER_H
#define NW_MAKE_SAFETY_SMALL_PARTS_CYLINDER_H

#include <stddef.h>

#define NW_SMALL_PARTS_CYLINDER_BORE_MM 31.75
#define NW_SMALL_PARTS_CYLINDER_SHALLOW_MM 25.4
#define NW_SMALL_PARTS_CYLINDER_DEEP_MM 57.15

/* Symmetric: turned by q, the points stick out by at least q' F q. */
typedef struct NwSmallPartsCylinderReason {
    double form[4][4];
} NwSmallPartsCylinderReason;

/* By how much turned points stick out with the best shift; below 0: they fit with so much room.
 * `turned` has room for as many points. *reason (NULL allowed) says why it is no less. */
double nw_small_parts_cylinder_try(const double (*points)[3], size_t count, const double turn[4],
                                   double (*turned)[3], NwSmallPartsCylinderReason *reason);

#endif
