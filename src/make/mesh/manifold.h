/* The shell of a solid: its surface with every edge shared by exactly two faces.
 *
 * A surface (lattice/surface.h) is a list of polygons; to print or cut it one must also know what
 * meets what. The shell is put together from the seen triangles of parts, edge by edge:
 *
 *  - Where parts meet only along an edge, four triangles or more run together. They are paired so
 *    that each pair encloses solid, and the edge is there once for each pair.
 *  - Pairs that lie flat are one face; all other pairs are edges between faces. So a face is cut in
 *    two where the solid behind it comes to nothing along a line, which a surface does not see.
 *  - The faces round a vertex, crossed edge by edge, make a *fan*. Where parts meet only at a
 *    vertex there are several fans, and each is a vertex of its own at the same place.
 *  - What touches in a vertex may be the inner part of a straight edge or of a face, too, as where
 *    the tip of a pit reaches the far side: such a point has a fan of two faces, or of one.
 *  - Where the long side of one face meets several others, it has vertices in the middle, so that
 *    an edge runs from fan to fan and has one face on each side.
 *
 * So the shell is a closed, oriented 2-manifold, whatever the solid touches. Faces are seen from
 * outside: the first rim of a face is counter-clockwise and all others, its holes, clockwise. A rim
 * may come to one vertex twice, where the face touches itself. A point within a face is a rim of
 * one corner.
 *
 *        F1 | F0       A fan lists its faces counter-clockwise. Edge i leaves the vertex between
 *           |          face i-1 and face i; it is reflex where the angle inside the solid is over
 *     ------*------    180 degrees. A face may come twice in a fan.
 *        F2 | F3
 *
 * Coordinates: cells. Thread: read-only once built. Cost: sorting the sides of the triangles. */
#ifndef NW_MAKE_MESH_MANIFOLD_H
#define NW_MAKE_MESH_MANIFOLD_H

#include "lattice/solid.h"

/* A vertex of a rim: the fan, and which of the fan's places this corner of the face is. */
typedef struct NwManifoldCorner {
    size_t fan, place;
} NwManifoldCorner;

typedef struct NwManifoldRim {
    NwManifoldCorner *corners;
    size_t count;
} NwManifoldRim;

typedef struct NwManifoldFace {
    NwVec normal;
    int offset; /* normal . p of every point p of the face */
    NwManifoldRim *rims;
    size_t count;
} NwManifoldFace;

typedef struct NwFan {
    NwVec at;
    size_t *faces;
    bool *reflex;
    size_t count; /* 3 or more; 2 within an edge and 1 within a face, where another fan is too */
} NwFan;

typedef struct NwManifold {
    NwManifoldFace *faces;
    size_t face_count;
    NwFan *fans;
    size_t fan_count;
} NwManifold;

/* The shell of a solid; without faces for an empty one. The caller frees it. */
NwManifold *nw_manifold_new(const NwSolid *solid);
void nw_manifold_free(NwManifold *manifold); /* NULL is allowed */

#endif
