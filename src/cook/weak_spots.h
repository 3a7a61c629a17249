/* What a maker minds in a piece: where something hangs by one face, and where it pricks.
 *
 * A corner on its own core is no hanging place: it sits there with its largest face
 * (design/warnings.h). Only sharp tips that a hand can touch count (design/sharp_vertices.h).
 * Thread: any. */
#ifndef NW_COOK_WEAK_SPOTS_H
#define NW_COOK_WEAK_SPOTS_H

#include "design/design.h"

typedef struct NwWeakSpots {
    size_t hangs, tips;
} NwWeakSpots;

NwWeakSpots nw_weak_spots_of(const NwDesign *design, int piece);

#endif
