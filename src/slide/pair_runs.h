/* How far each body of a group runs before it meets another, by direction, and so who pushes whom.
 *
 * Bodies are numbered within the group. Where they stand is told pair by pair; what a slide may do
 * is then read off without looking at the bodies again. Owns nothing. Thread: each belongs to one.
 */
#ifndef NW_SLIDE_PAIR_RUNS_H
#define NW_SLIDE_PAIR_RUNS_H

#include "slide/clearance.h"
#include "slide/direction.h"
#include "slide/separation.h"

typedef struct NwPairRuns {
    int directions;                                            /* those that are looked at */
    uint8_t runs[NW_DIRECTIONS][NW_BODIES_MAX][NW_BODIES_MAX]; /* of i past j */
    uint32_t pushes[NW_DIRECTIONS][NW_BODIES_MAX]; /* the bodies that i pushes at once */
} NwPairRuns;

/* Nothing is known of any pair; all pairs must be set before anything is asked. */
void nw_pair_runs_clear(NwPairRuns *pairs);

/* Bodies i < j stand so that j is at R from i, of whose table this is (clearance.h). */
void nw_pair_runs_set(NwPairRuns *pairs, int i, int j, const NwClearance *table, NwVec r);

/* The body, and all that move when it is pushed that way. */
uint32_t nw_pair_runs_pushed(const NwPairRuns *pairs, int direction, int body);

/* Steps that the set, of `count` bodies, goes until one of it meets one of the others. */
int nw_pair_runs_of_set(const NwPairRuns *pairs, uint32_t set, int count, int direction);

#endif
