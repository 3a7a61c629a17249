/* The rim of each polygon of a surface, step by step, to be looked up from triangles. Inner part
 * of mesh.h. A step leads from one vertex of the lattice to the next, with the polygon to its left
 * as seen from outside, and knows the polygon beyond it. Thread: read-only once built. */
#ifndef NW_VIEW_EDGE_LINES_H
#define NW_VIEW_EDGE_LINES_H

#include "lattice/edge.h"

typedef struct NwEdgeLines NwEdgeLines;

/* A line of ink on a triangle: its distance from each vertex, and the plane of the face beyond. */
typedef struct NwEdgeLine {
    float distance[3];
    NwVec beyond;
    int offset; /* beyond . p of that plane's points p */
} NwEdgeLine;

NwEdgeLines *nw_edge_lines_new(const NwSurface *surface, const NwEdge *edges, size_t edge_count);
void nw_edge_lines_free(NwEdgeLines *rim);

/* For a triangle of the surface (counter-clockwise seen from outside, with its normal) writes the
 * lines of up to `most` edges: in the first three places its sides, then lines that it touches
 * with one vertex. Distances of what is not there are `none`. */
void nw_edge_lines_get(const NwEdgeLines *rim, NwVec normal, const NwVec triangle[3], int most,
                       float none, NwEdgeLine *lines);

#endif
