/* Which bodies must be held for a slide to be made with certainty.
 *
 * A set of bodies is to travel in one direction, and all of it. Held bodies do; a body that a held
 * one pushes does too, and one that is pushed by that, and so on. Any other may come along by
 * friction or may stay, so it must be held itself. The least number that must be held is the
 * number of sources of the pushing relation within the set:
 *
 *     A -> B -> C       direction +x: A pushes B, B pushes C; D is pushed by no one:
 *     D                 hold A and D
 *
 * The rest, meanwhile, must stay. Seen from the sliding set it travels the other way, so the same
 * rule holds with the direction reversed: what friction would drag along must be held, or be
 * pushed back by something held. Gravity and friction are not otherwise looked at, which makes the
 * number what is enough in any position, not what clever fingers may need.
 *
 * Pushing is read off the free-slide tables where the slide begins. Thread: that of the cache. */
#ifndef NW_SLIDE_GRIPS_H
#define NW_SLIDE_GRIPS_H

#include "slide/group_positions.h"

/* The least set of bodies to hold so that all of `set` goes in `direction`; of bodies that push
 * each other round in a circle, the first. The cache must have been made with diagonals if the
 * direction is one. */
uint32_t nw_grips_needed(NwClearanceCache *cache, const NwBody *bodies,
                         const NwGroupPositions *standing, uint32_t set, int direction);

/* What must be held for one slide of a way out; `standing` is where the bodies stand before it. */
typedef struct NwGrips {
    uint32_t movers; /* held to travel */
    uint32_t rest;   /* held to stay */
} NwGrips;

/* `backwards`: the slide is made the other way, as when putting together. Bodies that have parted
 * from the group before are not counted. */
NwGrips nw_grips_of_slide(NwClearanceCache *cache, const NwBody *bodies,
                          const NwGroupPositions *standing, const NwSlide *slide, bool backwards);

#endif
