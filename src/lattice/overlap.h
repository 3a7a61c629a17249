/* Exact overlap from vertices, the judge that checks the searches.
 *
 * Two convex solids have disjoint interiors exactly when some direction separates them, and for
 * two tetrahedra it is enough to try the face normals of both and the cross products of their
 * edges (separating axis theorem; S. Gottschalk, M. Lin, D. Manocha, "OBBTree", SIGGRAPH 1996, for
 * the form used here). Nothing of the lattice is assumed: no list of directions, no tables.
 * Touching is no overlap. Coordinates: any one whole unit, up to some 10^4. Thread: any. */
#ifndef NW_LATTICE_OVERLAP_H
#define NW_LATTICE_OVERLAP_H

#include "lattice/solid.h"

/* Whether the interiors of the tetrahedra on these vertices meet. */
bool nw_overlap_tetrahedra(const NwVec a[4], const NwVec b[4]);

/* Whether `a` meets `b` carried by the vector numerator / denominator (denominator > 0). */
bool nw_overlap_solids(const NwSolid *a, const NwSolid *b, NwVec numerator, int denominator);

#endif
