/* The worker: a thread between an advisor (cook/advisor.h) and the main loop.
 *
 * It makes the advisor, steps it, and lays proposals in a tray as rows; however many arrive, one
 * wake-up is pending at most. After `NW_BLOCK_WORKER_BATCH` proposals it pauses by itself until it
 * is told to go on, so a list of pairs does not grow without end.
 *
 * Where it stands is kept in the store (job/advice_record.h), through a connection of its own:
 * every few seconds, and when it pauses or ends. What an earlier session found for the same
 * question comes first into the tray, all at once, and it goes on from there.
 *
 *     preparing  ->  working <-> paused  ->  done
 *              \->  failed
 *
 * Ownership: `free` stops and joins. Thread: called from the main one. */
#ifndef NW_SESSION_BLOCK_WORKER_H
#define NW_SESSION_BLOCK_WORKER_H

#include <glib.h>

#include "session/proposal_item.h"

enum { NW_BLOCK_WORKER_BATCH = 60 };

typedef struct NwBlockWorker NwBlockWorker;

typedef enum NwBlockWorkerState {
    NW_BLOCK_WORKER_PREPARING,
    NW_BLOCK_WORKER_WORKING,
    NW_BLOCK_WORKER_PAUSED,
    NW_BLOCK_WORKER_DONE, /* nothing within the bounds was left out */
    NW_BLOCK_WORKER_FAILED,
} NwBlockWorkerState;

/* Called in the main loop when there is something to take or another state. */
typedef void NwBlockWorkerCall(gpointer data);

/* Begins at once. The design is version `version` in the store at `path`. `founds` is taken over
 * and emptied: what a complete search knows, or nothing. */
NwBlockWorker *nw_block_worker_new(const NwDesign *design, const char *path, gint64 version,
                                   const NwAdvisorOptions *options, NwFounds *founds,
                                   NwBlockWorkerCall *call, gpointer data);

/* Keeps where it stands first. NULL is allowed. */
void nw_block_worker_free(NwBlockWorker *worker);

void nw_block_worker_go(NwBlockWorker *worker);
void nw_block_worker_pause(NwBlockWorker *worker);

NwBlockWorkerState nw_block_worker_get_state(NwBlockWorker *worker);
NwStatus nw_block_worker_get_status(NwBlockWorker *worker); /* why it failed */
void nw_block_worker_progress(NwBlockWorker *worker, NwAdvisorProgress *progress);

/* Why it cannot be kept, or NULL; the caller frees. */
char *nw_block_worker_dup_trouble(NwBlockWorker *worker);

/* The candidate that is looked into; FALSE if none is. */
gboolean nw_block_worker_get_front(NwBlockWorker *worker, NwFront *front);

/* Takes the rows from the tray: NwProposalItem, an array that unrefs them. */
GPtrArray *nw_block_worker_take(NwBlockWorker *worker);

/* NwMiss, those met so far; the caller unrefs. */
GArray *nw_block_worker_dup_misses(NwBlockWorker *worker);

#endif
