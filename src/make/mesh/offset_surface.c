#include "make/mesh/offset_surface.h"

#include <stdlib.h>

void nw_offset_surface_free(NwOffsetSurface *surface) {
    if (!surface)
        return;
    for (size_t f = 0; f < surface->face_count; f++) {
        for (size_t k = 0; k < surface->faces[f].count; k++)
            free(surface->faces[f].rings[k].points);
        free(surface->faces[f].rings);
    }
    free(surface->faces);
    free(surface->points);
    free(surface);
}
