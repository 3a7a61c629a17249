#include "make/skin.h"

#include <stdlib.h>

void nw_skin_free(NwSkin *skin) {
    if (!skin)
        return;
    for (size_t f = 0; f < skin->face_count; f++) {
        for (size_t k = 0; k < skin->faces[f].count; k++)
            free(skin->faces[f].rings[k].points);
        free(skin->faces[f].rings);
    }
    free(skin->faces);
    free(skin->points);
    free(skin);
}
