/* The skin of a piece: its surface in millimetres, as polygons that share their corners.
 *
 * Every edge has exactly two faces, whose rings run along it in opposite ways, and the corners of
 * a face lie in one plane. Made by clearance.h.
 * Coordinates: millimetres, the origin that of the solid. Thread: read-only once built. */
#ifndef NW_MAKE_SKIN_H
#define NW_MAKE_SKIN_H

#include "lattice/vec.h"

#include <stddef.h>

typedef struct NwSkinRing {
    size_t *points; /* indices, at least three */
    size_t count;
} NwSkinRing;

/* The first ring is the outer one, counter-clockwise seen from outside; all others are holes. */
typedef struct NwSkinFace {
    NwVec normal; /* outward; as the lattice has it, of length 1 or sqrt(3) */
    NwSkinRing *rings;
    size_t count;
} NwSkinFace;

typedef struct NwSkin {
    double (*points)[3];
    size_t point_count;
    NwSkinFace *faces;
    size_t face_count;
} NwSkin;

void nw_skin_free(NwSkin *skin); /* NULL is allowed */

#endif
