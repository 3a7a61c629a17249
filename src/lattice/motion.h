/* A turn about the origin vertex, then a shift: how a piece comes to its place.
 * Thread: any; nothing to own. */
#ifndef NW_LATTICE_MOTION_H
#define NW_LATTICE_MOTION_H

#include "lattice/turn.h"

typedef struct NwMotion {
    NwTurn turn;
    NwVec shift;
} NwMotion;

/* First `first`, then `second`. */
NwMotion nw_motion_then(NwMotion first, NwMotion second);

NwMotion nw_motion_inverse(NwMotion motion);

static inline bool nw_motion_equal(NwMotion a, NwMotion b) {
    return a.turn == b.turn && nw_vec_equal(a.shift, b.shift);
}

#endif
