/* Cutting a flat polygon with holes into triangles; the method is told in facets.h. Thread: any. */
#ifndef NW_MAKE_MESH_EARS_H
#define NW_MAKE_MESH_EARS_H

#include "make/mesh/offset_surface.h"
#include "make/progress.h"

/* Cuts up a face whose points have these places. Writes to *triangles, which the caller frees, and
 * returns how many there are; 0 if it cannot be done. */
size_t nw_ears_cut(const NwOffsetSurfaceFace *face, const double (*points)[3], NwProgress *progress,
                   size_t (**triangles)[3]);

#endif
