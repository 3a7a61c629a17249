/* From opened vertices to the faces of a skin: following the rims. Of clearance.c only.
 *
 * A rim comes to a vertex, passes the new points there, and goes on along the rim of its own face
 * or of one that this has grown together with (fan.h). So the rims are followed over all faces at
 * once. Each closed one is a ring: an outer one if its area is positive, else a hole of the outer
 * ring round it in the same moved plane. */
#ifndef NW_MAKE_MESH_TRACE_H
#define NW_MAKE_MESH_TRACE_H

#include "make/mesh/fan.h"
#include "make/mesh/manifold.h"
#include "make/mesh/offset_surface.h"
#include "make/mesh/thin.h"

/* An opened fan. Two that were opened together share a way. */
typedef struct NwOpening {
    const NwFanWay *way;
    size_t first_point; /* where the way's points begin in the skin */
    size_t fans[2];     /* of its spot; the same twice if there is one */
    size_t first_count; /* faces of the first */
} NwOpening;

/* Fills in the faces of `skin`, whose points are there; openings are by fan. False with *thin told
 * where an old edge would not run the way it did, or a ring would not close. */
bool nw_trace_faces(const NwManifold *manifold, const NwOpening *openings, NwOffsetSurface *surface,
                    NwThin *thin);

#endif
