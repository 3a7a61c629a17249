/* A slow, plain answer to "does it come apart in so many slides?", to judge slide/fewest.h by.
 *
 * Depth first through whole configurations: of the first group that still has two pieces or more,
 * every set without its first piece, along every direction, by every whole distance until it is
 * blocked; past everything left of its group it has left for ever. What has failed is remembered as
 * a whole configuration. Nothing is bounded but by this: each group needs a separation fewer than
 * it has pieces. Steps are tested from the vertices (overlap.h), without tables. */
#ifndef NW_TESTS_PLAIN_FEWEST_H
#define NW_TESTS_PLAIN_FEWEST_H

#include "lattice/solid.h"

enum { NW_PLAIN_FEWEST_PIECES_MAX = 8 };

/* Solids at their places, 1 to NW_PLAIN_FEWEST_PIECES_MAX of them. Counts what it tries down from
 * *patience and is undecided (*patience 0, false) when that is used up. */
bool nw_plain_fewest(const NwSolid *const *solids, size_t count, bool diagonals, int slides,
                     long *patience);

#endif
