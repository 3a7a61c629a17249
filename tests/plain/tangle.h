/* Arrangements that take more than one slide to come apart, for tests of the slide search.
 *
 * Dividing a solid at random hardly ever needs a second slide to free a piece. So start from a box
 * divided into 3 or 4 pieces of whole cells that are locked, and take random cells away, no piece
 * falling into two, until the plain search gets a set free. Then hand random parts, or cells, from
 * piece to piece or put them back, and keep whatever does not lower the level. Some attempts are
 * made to reach level 2 or more; most seeds do. The same on every machine for the same seed. */
#ifndef NW_TESTS_PLAIN_TANGLE_H
#define NW_TESTS_PLAIN_TANGLE_H

#include "lattice/solid.h"

enum { NW_TANGLE_PIECES_MAX = 6 };

typedef struct NwTangle {
    NwSolid *solids[NW_TANGLE_PIECES_MAX]; /* at their places, disjoint, each face-connected */
    size_t count;
    int level; /* as the plain search found it, without diagonals; 0 if it is locked */
} NwTangle;

/* With `whole_cells` the tangle has no cut cell; else most often some. Free with the next. */
NwTangle nw_random_tangle(uint64_t seed, bool whole_cells);
void nw_tangle_clear(NwTangle *tangle);

#endif
