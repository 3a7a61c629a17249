/* The skin of a piece: its surface in millimetres, as polygons that share their corners.
 *
 * Every edge has exactly two faces, whose rings run along it in opposite ways, and the corners of
 * a face lie in one plane. Made by clearance.h.
 * Coordinates: millimetres, the origin that of the solid. Thread: read-only once built. */
#ifndef NW_MAKE_MESH_OFFSET_SURFACE_H
#define NW_MAKE_MESH_OFFSET_SURFACE_H

#include "lattice/vec.h"

#include <stddef.h>

typedef struct NwOffsetSurfaceRing {
    size_t *points; /* indices, at least three */
    size_t count;
} NwOffsetSurfaceRing;

/* The first ring is the outer one, counter-clockwise seen from outside; all others are holes. */
typedef struct NwOffsetSurfaceFace {
    NwVec normal; /* outward; as the lattice has it, of length 1 or sqrt(3) */
    NwOffsetSurfaceRing *rings;
    size_t count;
} NwOffsetSurfaceFace;

typedef struct NwOffsetSurface {
    double (*points)[3];
    size_t point_count;
    NwOffsetSurfaceFace *faces;
    size_t face_count;
} NwOffsetSurface;

void nw_offset_surface_free(NwOffsetSurface *surface); /* NULL is allowed */

#endif
