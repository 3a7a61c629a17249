/* Small random designs for tests, the same on every machine for the same seed.
 *
 * The envelope is a named solid, or grown at random; it is divided into 2 to 5 face-connected
 * pieces, each turned and shifted to a frame of its own, with the way back as the intended
 * assembly. By chance of the seed: whole cells only, cut cells, or whole cells with one piece cut;
 * either parity; parts that may stay empty; congruent pieces as copies of one; a wrong number of
 * copies (then there is no intended assembly, and most often none at all); mirrors together. At
 * most NW_RANDOM_PARTS_MAX parts. The caller frees the design. */
#ifndef NW_TESTS_PLAIN_RANDOM_DESIGN_H
#define NW_TESTS_PLAIN_RANDOM_DESIGN_H

#include "design/design.h"

enum { NW_RANDOM_PARTS_MAX = 60 };

/* The generator behind it: SplitMix64 (Steele, Lea, Flood, OOPSLA 2014). */
typedef struct NwRandom {
    uint64_t state;
} NwRandom;

uint64_t nw_random_next(NwRandom *random);
int nw_random_below(NwRandom *random, int bound); /* 0 to bound - 1; bound at least 1 */

NwDesign *nw_random_design(uint64_t seed);

/* The solid cut at random into that many face-connected pieces (or fewer, if it has fewer parts or
 * cells), each drawn where it goes, A, B, C, ... or P1, P2, ... past 26. No assembly is intended.
 */
NwDesign *nw_random_dissection(uint64_t seed, const NwSolid *solid, bool whole_cells, int pieces);

/* A face-connected solid of that many parts, or whole cells, grown near the origin. */
NwSolid *nw_random_solid(NwRandom *random, int size, bool whole_cells);

/* Divides a face-connected solid into `wanted` face-connected regions of parts, or whole cells;
 * fewer if it has fewer. Returns how many; the caller frees them. */
size_t nw_random_divide(NwRandom *random, const NwSolid *solid, bool whole_cells, NwSolid **regions,
                        size_t wanted);

#endif
