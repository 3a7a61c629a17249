/* Triangles of a skin: what printers and other programs want.
 *
 * Each face is cut into triangles by clipping ears (G. Meisters, "Polygons have ears", 1975), the
 * roundest first, and then flipping diagonals (flips.h). Holes are tied to the outer rim by bridges
 * before. Every vertex of the rims is a corner of triangles on both sides, so that edges match and
 * the triangles are a closed 2-manifold as the shell is. Coordinates in the plane are two of the
 * three in space, which keeps whole numbers whole: without clearance, with whole cell_mm, all
 * decisions are exact.
 *
 * Coordinates: millimetres. Triangles are counter-clockwise seen from outside.
 * Ownership: `new` and `join` return what the caller frees. Thread: any. Cost: corners of a face
 * cubed. */
#ifndef NW_MAKE_MESH_FACETS_H
#define NW_MAKE_MESH_FACETS_H

#include "make/mesh/offset_surface.h"
#include "make/progress.h"

typedef struct NwFacet {
    size_t points[3];
    NwVec normal; /* of the face in the solid's own frame: outward, primitive */
} NwFacet;

typedef struct NwFacets {
    double (*points)[3];
    size_t point_count;
    NwFacet *facets;
    size_t facet_count;
} NwFacets;

/* NULL where a face cannot be cut up: its rims cross, since a feature has vanished; or where the
 * progress, which may be NULL, was stopped. */
NwFacets *nw_facets_new(const NwOffsetSurface *surface, NwProgress *progress);
NwFacets *nw_facets_copy(const NwFacets *facets);
void nw_facets_free(NwFacets *facets); /* NULL is allowed */

/* Turns by the matrix (rows), then shifts. Normals of facets are left as they are. */
void nw_facets_move(NwFacets *facets, double rows[3][3], const double shift_mm[3]);

/* Adds a copy of all facets of `more`. */
void nw_facets_add(NwFacets *facets, const NwFacets *more);

double nw_facets_volume_mm3(const NwFacets *facets);
double nw_facets_area_mm2(const NwFacets *facets);
void nw_facets_bounds(const NwFacets *facets, double low_mm[3], double high_mm[3]);

/* Whether every edge has exactly two facets that run along it in opposite ways. */
bool nw_facets_are_closed(const NwFacets *facets);

#endif
