/* Taking the assembly that a design shows apart in the background (job/apart.h). It can be given up
 * at any time. Ownership: `free` stops and joins; one that still recounts is left to end by itself.
 * Thread: called from the main one. */
#ifndef NW_SESSION_APART_WORKER_H
#define NW_SESSION_APART_WORKER_H

#include "job/apart.h"

typedef struct NwApartWorker NwApartWorker;

typedef struct NwApartNews {
    gboolean over; /* there will be no more */
    NwShown shown; /* NW_SHOWS_NONE: there is nothing to take apart */
    NwTakeApartProgress progress;
    NwFoundAssembly *finding; /* once it is over, if there is one; unexamined if the time was not
                               * enough. Whoever is called may take it and leave NULL. */
    const char *trouble;      /* why it cannot be taken apart, or NULL; borrowed */
} NwApartNews;

/* Called in the main loop, some times a second and at the end. */
typedef void NwApartCall(NwApartNews *news, gpointer data);

/* `seconds`: stop after so many; 0: no limit. */
NwApartWorker *nw_apart_worker_new(const NwDesign *design, const NwApartOptions *options,
                                   double seconds, NwApartCall *call, gpointer data);
void nw_apart_worker_free(NwApartWorker *worker); /* NULL is allowed */

#endif
