/* The list of levels: how many slides there are to each separation of a way out, in order.
 *
 * A separation is an out slide: a set leaves what it stood with for ever. A way out of n bodies has
 * n - 1 of them. They are taken in the order in which the way out lists its slides, and each counts
 * the slides since the separation before, itself included; so the numbers add up to all slides.
 * That order is: first what takes the whole apart into two groups, then all that takes apart the
 * larger of the two (of two groups of equal size, the one that stayed), then the other one, and so
 * on within each (slide/way_out.h).
 *
 *     A 2 cells +x; B out +y; A out -z; ...      2·1·...: the level is 2, the first number
 *
 * A convex envelope filled to the last part always has level 1 (look ahead from any moving point:
 * the first foreign thing blocks at once), so it is the whole list that tells such solids apart.
 * It is read off the slides, so nothing more need be stored. Thread: any. */
#ifndef NW_SLIDE_LEVELS_H
#define NW_SLIDE_LEVELS_H

#include "slide/separation.h"

typedef struct NwLevels {
    int count;                 /* separations; 0 for a single body */
    int slides[NW_BODIES_MAX]; /* to each of them */
} NwLevels;

enum { NW_LEVELS_TEXT_SIZE = NW_BODIES_MAX * 13 + 1 };

/* Slides after the last separation are not counted. */
NwLevels nw_levels_of(const NwSlide *slides, int slide_count);

/* Below 0, 0 or above 0: number by number from the first, 1·4 before 1·10, then the shorter list
 * before the longer. */
int nw_levels_compare(const NwLevels *a, const NwLevels *b);

/* "1·4·1·5" in UTF-8; "0" where there is no separation. */
void nw_levels_text(const NwLevels *levels, char text[NW_LEVELS_TEXT_SIZE]);

#endif
