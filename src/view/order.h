/* In which order convex groups are drawn, so that what is see-through comes from back to front.
 *
 * Groups of bodies that stand at one offset belong to one lattice, where the order by a key is
 * exact: cells by the distance of their middles (a cell is the Voronoi cell of its middle, so the
 * nearer middle is on the eye's side of the plane between). Within a cell, first the corners whose
 * cut has the eye behind it, then the group with the core, then the other corners; corners among
 * themselves by the distance of their centres, for they too lie on either side of the plane
 * between these.
 *
 * Groups at different offsets are compared pair by pair: if an axis separates A from B and the eye
 * is not beyond A as seen from B, A cannot hide B. A pair of disjoint groups always has such an
 * axis among the 13 of mesh.h, and then one at least of the two cannot hide the other. Pairs that
 * are apart on the screen (by their balls) bind nothing. Groups are taken out one by one, each time
 * the first by the key that hides none of those left. Should there be none (three displaced groups
 * can hide each other in a circle) the first by the key is taken.
 *
 * Cost: n log n where all offsets are equal, else n^2 for n groups; past NW_ORDER_PAIRS_MAX groups
 * the key alone decides, which is then no more than a good guess. Thread: one. */
#ifndef NW_VIEW_ORDER_H
#define NW_VIEW_ORDER_H

#include "view/scene.h"

enum { NW_ORDER_PAIRS_MAX = 640 };

typedef struct NwOrderItem {
    unsigned body, group;
} NwOrderItem;

typedef struct NwOrder NwOrder;

NwOrder *nw_order_new(void);
void nw_order_free(NwOrder *order); /* NULL is allowed */

/* All groups of the bodies that are shown (of the ghosts only, if so wanted), the farthest first;
 * borrowed until the next call. */
const NwOrderItem *nw_order_sort(NwOrder *order, const NwScene *scene, const NwCamera *camera,
                                 bool ghosts_only, size_t *count);

#endif
