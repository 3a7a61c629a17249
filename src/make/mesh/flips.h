/* Rounder triangles: flipping diagonals of a face that is cut up already.
 *
 * Two triangles on one diagonal are a quadrilateral. Where the two angles across from the diagonal
 * come to more than 180 degrees the other diagonal is the better one; once no pair is left that
 * wants it, the triangles have, of all ways to cut the face up, the largest least angle: they are
 * its constrained Delaunay triangulation (C. Lawson, "Software for C1 surface interpolation", 1977;
 * from memory). So a short edge, as vertices get that open into several, is tied to what is near,
 * and no triangle is so thin that a reader who counts in single precision loses its normal, unless
 * the face itself is as thin there.
 *
 * Angles are measured in space, so that slanted faces are treated like others. Triangles that lie
 * on a circle within rounding stay as they are. Thread: any. Cost: triangles squared, a few times.
 */
#ifndef NW_MAKE_MESH_FLIPS_H
#define NW_MAKE_MESH_FLIPS_H

#include "lattice/vec.h"
#include "make/progress.h"

#include <stddef.h>

/* Triangles of one face, counter-clockwise seen from where its normal points. */
void nw_flips_make(const double (*points)[3], NwVec normal, NwProgress *progress,
                   size_t (*triangles)[3], size_t count);

#endif
