/* The worker of a search: a thread between a search and the main loop.
 *
 * It prepares the search (listing the places of a large design takes seconds), is its one client,
 * writes findings and position into the store through a connection of its own, and lays the
 * findings in a tray as rows, for the main loop to take. However many arrive, one wake-up is
 * pending at most. A tray belongs to one search, so whoever drops a worker drops what it had found.
 *
 *     preparing  ->  ready  ->  running  <->  paused  ->  ended
 *              \->  failed
 *
 * Ownership: `free` stops the search, joins and saves. Thread: called from the main one.
 *
 * A worker may be told all assemblies (job/search_seed.h). They then lie in the tray as soon as it
 * is ready, with what is said of them, and come once more, in the same place of the order, as each
 * is examined. */
#ifndef NW_SESSION_SEARCH_WORKER_H
#define NW_SESSION_SEARCH_WORKER_H

#include <glib.h>

#include "job/search_seed.h"
#include "session/assembly_item.h"

typedef struct NwSearchWorker NwSearchWorker;

typedef enum NwWorkerState {
    NW_SEARCH_WORKER_PREPARING,
    NW_SEARCH_WORKER_READY, /* or running, or ended: nw_search_worker_progress tells */
    NW_SEARCH_WORKER_FAILED,
} NwWorkerState;

/* Called in the main loop when there is something to take, or the worker's state is another. */
typedef void NwSearchWorkerCall(gpointer data);

/* Begins to prepare a search of `design`, which is version `version` in the store at `path`; below
 * 0: it could not be saved, and the search is not kept either. What the store has of it already
 * comes into the tray. `anew` forgets that first. `told` is NULL, or taken over and emptied: all
 * assemblies; they are only made use of where the store has none. */
NwSearchWorker *nw_search_worker_new(const NwDesign *design, const char *path, gint64 version,
                                     const NwSearchOptions *options, gboolean anew, NwFounds *told,
                                     NwSearchWorkerCall *call, gpointer data);
void nw_search_worker_free(NwSearchWorker *worker); /* NULL is allowed */

/* Starts as soon as it is ready, or goes on after a pause. */
void nw_search_worker_go(NwSearchWorker *worker);
void nw_search_worker_pause(NwSearchWorker *worker);

NwWorkerState nw_search_worker_get_state(NwSearchWorker *worker);

/* Once ready: whether the store says that the search was complete, or had begun, before. */
gboolean nw_search_worker_was_complete(NwSearchWorker *worker);
gboolean nw_search_worker_was_begun(NwSearchWorker *worker);

/* How many assemblies the store has of it, as soon as that is known: while it prepares, they are
 * read and come into the tray. 0: none, or not known yet. */
guint64 nw_search_worker_has_earlier(NwSearchWorker *worker);

/* Once ready: whether it took over what it was told. What then is known at once goes into
 * *progress. */
gboolean nw_search_worker_has_adopted(NwSearchWorker *worker, NwSearchProgress *progress);

/* While it prepares all zero, but for `setup`. */
void nw_search_worker_progress(NwSearchWorker *worker, NwSearchProgress *progress);

/* Takes up to `most` rows from the tray: NwAssemblyItem, an array that unrefs them. If more are
 * left another call is on its way. The caller unrefs. */
GPtrArray *nw_search_worker_take(NwSearchWorker *worker, guint most);

/* Why preparing or saving failed, or else what is to be told of the search, or NULL; the caller
 * frees. */
char *nw_search_worker_dup_trouble(NwSearchWorker *worker);

#endif
