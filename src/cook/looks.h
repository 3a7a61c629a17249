/* What a maker minds in a piece: where something hangs by one face, and where it pricks.
 *
 * A corner on its own core is no hanging place: it sits there with its largest face
 * (design/marks.h). Only sharp tips that a hand can touch count (design/tips.h). Thread: any. */
#ifndef NW_COOK_LOOKS_H
#define NW_COOK_LOOKS_H

#include "design/design.h"

typedef struct NwLooks {
    size_t hangs, tips;
} NwLooks;

NwLooks nw_looks_of(const NwDesign *design, int piece);

#endif
