/* The work that one thing may still take, and whether it is wanted at all.
 *
 * A search whose cost cannot be foretold spends its steps here and ends where they are used up, so
 * that it ends at the same place on every machine, however loaded. Whoever waits can stop it at
 * any time. Thread: that of the search; the progress is any thread's. */
#ifndef NW_MAKE_EFFORT_H
#define NW_MAKE_EFFORT_H

#include <stdbool.h>

#include "make/progress.h"

typedef struct NwEffort {
    NwProgress *progress; /* NULL: nobody can stop it */
    long left;            /* steps that may still be spent */
    long until_look;      /* steps until the progress is looked at again; 0 at first */
} NwEffort;

/* Spends steps, of some tens of nanoseconds each. False: no more, since they are used up or since
 * it was stopped; it stays false from then on. */
bool nw_effort_spend(NwEffort *effort, long steps);

#endif
