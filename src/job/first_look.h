/* The first look of a search: the assembly that the design shows by itself (design/shown.h) is
 * examined before all others, so that a search that takes days says at once how the answer comes
 * apart. Private to src/job.
 *
 * It counts as found when the search begins, and the tree does not count it again. One worker
 * looks: for a head start nothing else is done; after that it goes by turns with the search, so
 * that the slides of one assembly do not keep the others from being found. Until it has its verdict
 * it is saved among those that wait for theirs. All functions: under the lock, or before the start.
 */
#ifndef NW_JOB_FIRST_LOOK_H
#define NW_JOB_FIRST_LOOK_H

#include "job/search_private.h"

/* Which assembly it is, once the fit is there. */
void nw_first_look_find(NwSearch *search);

/* Begins it, or goes on with it where a saved position was restored. */
void nw_first_look_begin(NwSearch *search);

/* Leaves it out: its assembly is known in another way. */
void nw_first_look_drop(NwSearch *search);

typedef enum NwFirstLookTurn {
    NW_FIRST_LOOK_NONE,  /* do something else */
    NW_FIRST_LOOK_LOOK,  /* it is for this worker to look */
    NW_FIRST_LOOK_AWAIT, /* another has its head start */
} NwFirstLookTurn;

/* What is the turn of this worker. */
NwFirstLookTurn nw_first_look_turn(NwSearch *search, const NwWorker *worker);

/* Whether this worker is the one that looks, and has not done. */
bool nw_first_look_is_with(const NwSearch *search, const NwWorker *worker);

/* One slice is done. Wakes those who wait, when the head start is over. */
void nw_first_look_note_slice(NwSearch *search);

/* Whether the tree has come to the assembly that is counted already. */
bool nw_first_look_has(const NwSearch *search, uint64_t key);

#endif
