/* The tiles of a face laid in a net, and whether two such faces overlap: exactly.
 *
 * Two convex tiles have disjoint interiors exactly when a side of one has the whole other tile to
 * its right or on its line. All coordinates are exact_plane.h's, so no test is rounded; boxes in
 * rounded numbers, with a margin, only spare tests. Ownership: `clear` frees. Thread: any. */
#ifndef NW_MAKE_CARD_TILES_H
#define NW_MAKE_CARD_TILES_H

#include "make/face.h"
#include "make/region.h"

typedef struct NwPosedTiles {
    NwTile *tiles;
    NwBox *boxes; /* in flat units */
    NwBox box;
    size_t count;
} NwPosedTiles;

/* Lays the tiles of the face by the pose, in place of what was laid before. */
void nw_posed_tiles_set(NwPosedTiles *posed, const NwFace *face, NwPose pose);
void nw_posed_tiles_clear(NwPosedTiles *posed);

/* Adds the number of pairs of tiles that were tested to *effort. */
bool nw_posed_tiles_overlap(const NwPosedTiles *a, const NwPosedTiles *b,
                            unsigned long long *effort);

#endif
