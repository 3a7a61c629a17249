/* Room for a shape: where a solid goes into what is free.
 *
 * Coordinates: `shape` in any frame, `room` in that of the envelope. Turns are tried in their order
 * from the identity, and for each the cells of the room in theirs, so the answer is the same every
 * time. Shifts are even unless the shape is of whole cells. Thread: any.
 * Cost: 24 * cells of the room, times the cells of the shape where its first cell goes in. */
#ifndef NW_DESIGN_FIT_INTO_H
#define NW_DESIGN_FIT_INTO_H

#include "lattice/solid.h"

/* The first rotation and shift that carry the shape into the room. NW_DOES_NOT_FIT if none do,
 * NW_EMPTY for a shape without parts. */
NwStatus nw_fit_into(const NwSolid *shape, const NwSolid *room, NwMotion *motion);

#endif
