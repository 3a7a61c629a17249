/* The way out of an assembly: which slides take it all apart.
 *
 * The first set that comes free divides the bodies into two groups. Each group is then taken apart
 * in turn from where it stands, larger group first. That is enough to settle whether the assembly
 * comes apart at all: a full way out of the whole, with every body but those of one group left
 * out, is a way out of that group; so the first separation found never leads into a dead end, and
 * a group from which nothing comes free proves that the whole cannot be taken apart.
 *
 * A pull iterator; effort is counted in expanded states. Thread: each belongs to one. */
#ifndef NW_SLIDE_WAY_OUT_H
#define NW_SLIDE_WAY_OUT_H

#include "slide/separation.h"

enum { NW_STATES_DEFAULT = 2000000 };

typedef struct NwWayOut {
    int level; /* slides until the first set is free */
    int total; /* slides in all */
    NwSlide *slides;
    uint32_t stuck;            /* after NW_NONE: the group that nothing comes free from */
    unsigned long long states; /* visited, in all groups */
} NwWayOut;

typedef struct NwTakeApart NwTakeApart;

NwTakeApart *nw_take_apart_new(bool diagonals);
void nw_take_apart_free(NwTakeApart *search); /* NULL is allowed */

/* Sets up the search for `count` bodies (1 to NW_BODIES_MAX) standing at their places; they are
 * copied, their solids borrowed. `max_states` limits each group's search. NW_TOO_MANY past
 * NW_BODIES_MAX. */
NwStatus nw_take_apart_start(NwTakeApart *search, const NwBody *bodies, int count,
                             uint32_t max_states);

/* Goes on for at most `expansions` states. NW_OK: it comes apart; NW_NONE: it is proved that it
 * does not; NW_LIMIT: undecided; NW_STOPPED: the expansions are used up. */
NwStatus nw_take_apart_step(NwTakeApart *search, long expansions);

/* What has been found (borrowed until the next start). After NW_NONE and NW_LIMIT it holds the
 * slides up to the group that stayed together. */
const NwWayOut *nw_take_apart_result(const NwTakeApart *search);

/* How far it has come: positions seen, and how many slides deep the group in work is searched. */
typedef struct NwTakeApartProgress {
    unsigned long long states; /* in all groups, the one in work included */
    int separations;           /* made so far */
    int depth;
} NwTakeApartProgress;

NwTakeApartProgress nw_take_apart_progress(const NwTakeApart *search);

/* States expanded since the search was made, and bytes of visited states held now. */
unsigned long long nw_take_apart_expansions(const NwTakeApart *search);
size_t nw_take_apart_state_bytes(const NwTakeApart *search);

#endif
