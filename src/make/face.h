/* The faces of a piece, each laid flat in a frame of its own.
 *
 * A face is a polygon of the surface. Its rings are the polygon's loops, cut where one edge of the
 * solid ends and the next begins, so that every side belongs to one edge: to the left of it there
 * is this face. Seen from outside, the outer ring (the first) runs counter-clockwise and holes run
 * clockwise, flat as well as in space. Its tiles are convex and cover it once: the face itself
 * where that is convex, else the triangles that faces of parts make.
 *
 * Coordinates: exact_plane.h; the first vertex of the outer ring is the origin. Faces are numbered
 * as the polygons are. Thread: read-only once built. Cost: faces * edges, and a point-in-polygon
 * test for every seen triangle. */
#ifndef NW_MAKE_FACE_H
#define NW_MAKE_FACE_H

#include "lattice/edge.h"
#include "make/exact_plane.h"

/* One side of a ring. A face lies to the left of an edge or to its right; a side always runs with
 * its own face to the left, so it is the edge forwards or backwards. */
typedef struct NwSide {
    NwExactPoint from, to;
    size_t edge;
    bool forward;
} NwSide;

typedef struct NwRing {
    NwSide *sides;
    size_t count;
} NwRing;

typedef struct NwTile {
    NwExactPoint *corners; /* counter-clockwise */
    size_t count;
} NwTile;

typedef struct NwFace {
    NwVec origin, across, up; /* the vectors of space that lie along flat (4,0) and its left */
    bool slanted;             /* the plane is of type (1,1,1) */
    NwRing *rings;
    size_t ring_count;
    NwTile *tiles;
    size_t tile_count;
} NwFace;

typedef struct NwPieceFaces {
    NwSurface *surface;
    NwEdge *edges;
    size_t edge_count;
    NwFace *faces;
    size_t count;
    size_t shells; /* how many closed surfaces: at least one net is needed for each */
} NwPieceFaces;

/* The caller frees it. */
NwPieceFaces *nw_faces_new(const NwSolid *solid);
void nw_faces_free(NwPieceFaces *faces); /* NULL is allowed */

/* Where a vertex of the face lies in its flat frame. */
NwExactPoint nw_face_flat(const NwFace *face, NwVec vertex);

/* The length of an edge, in cells. */
double nw_edge_length(const NwEdge *edge);

/* Of the two faces at an edge, the one that is not `face` (or `face`, if it has both sides). */
static inline size_t nw_edge_other(const NwEdge *edge, size_t face) {
    return edge->left == face ? edge->right : edge->left;
}

#endif
