/* The surface of a solid: its faces as exact polygons.
 *
 * Two parts that share a face hide it; every other face of a part is seen. Seen triangles of one
 * plane that share an edge make one polygon, whose rim is what is left of their edges when those
 * that two triangles share have cancelled. The rim falls into loops:
 *
 *     +-----------+     The first loop is the outer one, counter-clockwise seen from outside the
 *     |   +---+   |     solid. All others are holes, clockwise. Each is simple: where four rim
 *     |   |   |   |     edges meet at a vertex the trace goes round what is *not* the polygon, so
 *     |   +---+---+     a hole that touches the outer loop, or another hole, at a vertex stays a
 *     |       |         loop of its own. Triangles that touch only at a vertex make two polygons.
 *     +-------+         Vertices in the middle of a straight stretch are left out.
 *
 * Normals are outward and primitive: (+-1,0,0) or a permutation, or (+-1,+-1,+-1).
 * The order is fixed by the solid alone: polygons by normal, then offset; a loop starts at its
 * least vertex. Coordinates: cells. Thread: read-only once built. Cost: sorting the triangles. */
#ifndef NW_LATTICE_SURFACE_H
#define NW_LATTICE_SURFACE_H

#include "lattice/solid.h"

typedef struct NwLoop {
    NwVec *vertices;
    size_t count;
} NwLoop;

typedef struct NwPolygon {
    NwVec normal;
    int offset; /* normal . p of every point p of the polygon */
    NwLoop *loops;
    size_t count;
} NwPolygon;

typedef struct NwSurface {
    NwPolygon *polygons;
    size_t count;
} NwSurface;

/* The surface of the solid, without polygons for an empty one. The caller frees it. */
NwSurface *nw_surface_new(const NwSolid *solid);
void nw_surface_free(NwSurface *surface); /* NULL is allowed */

/* Twice the signed area of a loop, as a multiple of the length of the normal: the area of a polygon
 * is nw_polygon_area2 * |normal| / 2, and nw_polygon_area2 * normal is its vector, doubled. */
long nw_loop_area2(const NwLoop *loop, NwVec normal);

/* The same for the whole polygon; positive. */
long nw_polygon_area2(const NwPolygon *polygon);

/* The enclosed volume in sixths of a cell, by the divergence theorem: the sum of offset * area2. */
long nw_surface_volume6(const NwSurface *surface);

#endif
