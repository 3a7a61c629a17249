/* The edges of a surface: where two of its polygons meet, and at what angle.
 *
 * An edge is a straight stretch with the same polygon to its left and the same to its right all
 * along, seen from outside; so a long side of one polygon may meet several others and give several
 * edges. Where more than two polygons meet in one line (a solid that touches itself along an edge)
 * the two that enclose solid between them are paired. Coordinates: cells. Thread: any. */
#ifndef NW_LATTICE_EDGE_H
#define NW_LATTICE_EDGE_H

#include "lattice/surface.h"

typedef struct NwEdge {
    NwVec from, to;     /* from is the lesser end */
    size_t left, right; /* indices of the polygons: `left` runs from -> to, `right` to -> from */
    int dot;            /* the two normals' scalar product: the cosine of the angle inside the */
    int norms2;         /* solid is exactly -dot / sqrt(norms2) */
    bool reflex;        /* that angle is over 180 degrees: the edge lies in a groove */
} NwEdge;

/* All edges, sorted by polygons, then place; the caller frees *edges. Returns their number. */
size_t nw_surface_edges(const NwSurface *surface, NwEdge **edges);

/* The dihedral angle inside the solid, for reports: over 0 and under 360 degrees. */
double nw_edge_degrees(const NwEdge *edge);

#endif
