/* Convex solids from planes of the lattice's own families.
 *
 * A plane keeps the points p with normal . p <= limit. Its normal is (+-1,0,0) or a permutation,
 * with any whole limit, or (+-1,+-1,+-1) with an even limit: those are the planes that faces of
 * parts lie on, so every part is wholly on one side. Thread: any. */
#ifndef NW_LATTICE_CONVEX_H
#define NW_LATTICE_CONVEX_H

#include "lattice/solid.h"

enum { NW_EXTENT_MAX = 64 }; /* widest solid that is built, in cells along an axis */

typedef struct NwPlane {
    NwVec normal;
    int limit;
} NwPlane;

/* Whether the lattice holds this plane. NW_OFF_LATTICE: the limit is odd where it must be even, so
 * limit - 1 and limit + 1 are the nearest; NW_UNKNOWN_NAME: the normal is of neither family. */
NwStatus nw_plane_check(NwPlane plane);

/* All parts inside every plane; the caller frees *solid. NW_UNBOUNDED, NW_EMPTY, NW_TOO_MANY
 * (wider than NW_EXTENT_MAX or out of coordinate range), or as nw_plane_check for the first plane
 * at fault, whose index goes to *fault (NULL allowed). On failure *solid is NULL.
 * Cost: planes^3 + planes * volume of the bounding box. */
NwStatus nw_solid_from_planes(const NwPlane *planes, size_t count, NwSolid **solid, size_t *fault);

#endif
