/* The search for the first set of bodies that comes free, from one position of one group.
 *
 * Breadth first over states (slide/states.h). To expand a state is to try every slide: in each
 * direction, look up for each pair how far one can go past the other (slide/clearance.h). A body
 * whose run past another is 0 pushes it, so a set of bodies can slide exactly when it is closed
 * under pushing; how far, is the least run of a member past a non-member. If that is for ever, the
 * set is free, and since states are met in order of slides used, no shorter way exists.
 *
 *      0 <- 1    2 -> 3        pushing in direction +x: the closed sets without body 0
 *           ^         |        are {4}, {3, 4}, {2, 3, 4}; {1} would push body 0,
 *           5    4 <--+        and {5} pushes 1.
 *
 * Sets that hold the first body are left out: to slide one in a direction is, up to a common
 * shift, to slide the rest in the opposite direction, which is tried too. In a state that is not
 * yet free no two bodies are further apart than all the group's extents and one slide together, so
 * there are finitely many states, and an exhausted search proves that nothing comes free.
 *
 * A pull iterator; effort is counted in expansions. Where many bodies are loose, a state has so
 * many sets that a step may end in the midst of it. Thread: each belongs to one. */
#ifndef NW_SLIDE_SEPARATION_H
#define NW_SLIDE_SEPARATION_H

#include "slide/clearance.h"

enum { NW_BODIES_MAX = 32, NW_SLIDE_OUT = 0 };

/* One slide: which bodies (bit b for body b), where to, and how many cells, or NW_SLIDE_OUT. */
typedef struct NwSlide {
    uint32_t bodies;
    int direction;
    int cells;
} NwSlide;

typedef struct NwSeparation NwSeparation;

NwSeparation *nw_separation_new(bool diagonals);
void nw_separation_free(NwSeparation *separation); /* NULL is allowed */

/* Sets up a search. `group` has the bits of the bodies (at least two) that belong to it, `at` the
 * displacement of every body of `bodies` from its place. The bodies are borrowed until the next
 * start. NW_OUT_OF_RANGE if displacements are too large to be held. */
NwStatus nw_separation_start(NwSeparation *separation, const NwBody *bodies, uint32_t group,
                             const NwVec *at, uint32_t max_states);

/* Goes on for at most `expansions` states, or some 64 sets for each. NW_OK: a set comes free;
 * NW_NONE: none ever does; NW_LIMIT: more than max_states would have to be held; NW_STOPPED: call
 * again. */
NwStatus nw_separation_step(NwSeparation *separation, long expansions);

/* After NW_OK: the slides, the last one out. Writes at most `room` of them and returns how many
 * there are. `at` is brought up to where the bodies stand before the last slide. */
int nw_separation_slides(const NwSeparation *separation, NwSlide *slides, int room, NwVec *at);

/* States held now, and states expanded since the search was made. */
uint32_t nw_separation_states(const NwSeparation *separation);
unsigned long long nw_separation_expansions(const NwSeparation *separation);

/* The slides that lead to the state in work: how deep the search has come. */
int nw_separation_depth(const NwSeparation *separation);

/* Bytes of visited states, tables not counted. */
size_t nw_separation_state_bytes(const NwSeparation *separation);

#endif
