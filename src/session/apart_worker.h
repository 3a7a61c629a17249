/* Taking an assembly apart in the background, the one that a design shows by itself or another
 * (job/apart.h). It can be given up at any time. Ownership: `free` stops and joins. Thread: called
 * from the main one. */
#ifndef NW_SESSION_APART_WORKER_H
#define NW_SESSION_APART_WORKER_H

#include "job/apart.h"

typedef struct NwApartWorker NwApartWorker;

typedef struct NwApartNews {
    gboolean over; /* there will be no more */
    NwShown shown; /* NW_SHOWS_NONE: there is nothing to take apart */
    NwTakeApartProgress progress;
    int at_least; /* while the fewest slides are looked for: it is proved that fewer do not do */
    NwFoundAssembly *finding; /* once it is over, if there is one; unexamined if the time was not
                               * enough. Whoever is called may take it and leave NULL. */
    const char *trouble;      /* why it cannot be taken apart, or NULL; borrowed */
} NwApartNews;

/* Called in the main loop, some times a second and at the end. */
typedef void NwApartCall(NwApartNews *news, gpointer data);

/* `seconds`: stop after so many; 0: no limit. */
NwApartWorker *nw_apart_worker_new(const NwDesign *design, const NwApartOptions *options,
                                   double seconds, NwApartCall *call, gpointer data);
/* The same for `count` placements of an assembly, which are copied. */
NwApartWorker *nw_apart_worker_new_of(const NwDesign *design, const NwPlacement *placements,
                                      size_t count, const NwApartOptions *options,
                                      NwApartCall *call, gpointer data);
void nw_apart_worker_free(NwApartWorker *worker); /* NULL is allowed */

#endif
