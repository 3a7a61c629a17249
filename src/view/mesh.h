/* The triangles of a body, cut into convex groups so that they can be drawn from back to front.
 *
 * A cell's parts make convex groups: the core with all corners that are there (a cube without some
 * corners is convex), or else each corner for itself. Faces between parts of the body are left
 * out. Every vertex carries its distances to up to six edges of the solid that lie in or touch its
 * triangle; where a distance, interpolated, is under half a line's width, there is ink:
 *
 *     +-------+-------+     Sides of a triangle that are no edge of the solid (inside a flat
 *     |\      |      /      polygon) have no distance. A triangle that touches an edge with one
 *     |  \    |    /        vertex only still has the distance to its line, or the line would be
 *     |    \  |  /          notched there.
 *
 * Every distance comes with the plane beyond that edge: where the eye sees this face and not that
 * one, the edge is an outline, and this face draws the whole width of its line.
 *     +------\|/=====
 *
 * Coordinates: cells, as the solid stands. Thread: read-only once built. Cost: sorting the
 * surface, and some 20 look-ups of parts for each vertex for the shading of grooves. */
#ifndef NW_VIEW_MESH_H
#define NW_VIEW_MESH_H

#include "lattice/edge.h"
#include "lattice/solid.h"

enum { NW_MESH_AXES = 13, NW_MESH_RIMS = 6 };

#define NW_MESH_FAR 1000.0f /* the distance of an edge that is not there */

typedef struct NwMeshVertex {
    float at[3];
    float rim[NW_MESH_RIMS]; /* distances to edges */
    float
        beyond[NW_MESH_RIMS]; /* planes beyond them: 32 * offset + the normal's digits to base 3, */
                              /* (x + 1) + 3 * (y + 1) + 9 * (z + 1) */
    signed char normal[3];    /* primitive */
    unsigned char open;       /* 255: free outlook, less in grooves */
} NwMeshVertex;

/* A convex group: three vertices for each of its triangles, in a row. */
typedef struct NwMeshGroup {
    size_t first, count; /* of triangles */
    NwVec cell;
    int bit;               /* 0 with the core, or that of its only corner */
    float centre[3];       /* mean of its vertices */
    float radius;          /* about the centre */
    int low[NW_MESH_AXES]; /* extent along each separating axis, for the order of drawing */
    int high[NW_MESH_AXES];
} NwMeshGroup;

typedef struct NwMesh {
    NwMeshVertex *vertices;
    size_t triangle_count;
    NwMeshGroup *groups;
    size_t group_count;
    NwEdge *edges;
    size_t edge_count;
} NwMesh;

/* The axes along which any two groups, however displaced, are separated if they are disjoint: 3 of
 * type (1,0,0), 6 of type (1,1,0), 4 of type (1,1,1). */
NwVec nw_mesh_axis(int index);

NwMesh *nw_mesh_new(const NwSolid *solid);
void nw_mesh_free(NwMesh *mesh); /* NULL is allowed */

#endif
