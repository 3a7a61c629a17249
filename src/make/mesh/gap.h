/* How near two meshes come to each other, at rest and along a slide.
 *
 * A triangle that slides by a vector sweeps a prism. The least distance of a resting triangle from
 * it is the least over the prism's two ends and three sides, each of triangles; or 0 where the
 * resting one lies inside. So the answer holds for every moment of the slide and for no sample of
 * them. Triangles are measured corner to face and edge to edge (C. Ericson, "Real-Time Collision
 * Detection", 2005, section 5.1). Doubles: right to about 1e-9 of the size. Thread: any.
 * Cost: pairs of triangles whose boxes come within the bound. */
#ifndef NW_MAKE_MESH_GAP_H
#define NW_MAKE_MESH_GAP_H

#include "make/mesh/facets.h"
#include "make/progress.h"

/* The nearest that was found: how near, and the middles of the two triangles. */
typedef struct NwNear {
    double mm;
    double at[2][3];
    NwProgress *progress; /* may stop it, with an answer that means nothing; NULL is allowed */
} NwNear;

/* The least distance of two triangles; 0 where they meet. */
double nw_triangle_gap(double a[3][3], double b[3][3]);

/* Whether `moving`, displaced by `from` and sliding on by `way`, comes nearer to `resting` than
 * near->mm; *near then tells the nearest, else it stays as it is. */
bool nw_facets_nearer(const NwFacets *moving, const NwFacets *resting, const double from_mm[3],
                      const double way_mm[3], NwNear *near);

/* Whether two facets that share no vertex come nearer than `least_mm`, or two that do meet
 * elsewhere too; near->mm is then how near. */
bool nw_facets_meet_themselves(const NwFacets *facets, double least_mm, NwNear *near);

#endif
