/* Where the bodies stand after some slides of a way out, and which of them are still together.
 *
 * An out slide parts its set from the rest of their group for ever; after that the two never meet
 * again, so only bodies of one group stand in each other's way. The set that left stays, for
 * whatever follows, where it was before it left: that is how a way out goes on (way_out.h).
 * Thread: any. */
#ifndef NW_SLIDE_GROUP_POSITIONS_H
#define NW_SLIDE_GROUP_POSITIONS_H

#include "slide/separation.h"

typedef struct NwGroupPositions {
    int count;
    NwVec at[NW_BODIES_MAX];       /* displacement of each body from its place */
    uint32_t group[NW_BODIES_MAX]; /* the bodies that it has not parted from, itself included */
} NwGroupPositions;

/* After the first `slide_count` slides. `count` is 1 to NW_BODIES_MAX. */
void nw_group_positions_after(int count, const NwSlide *slides, int slide_count,
                              NwGroupPositions *standing);

#endif
