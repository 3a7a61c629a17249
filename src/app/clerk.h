/* The clerk of a hunt: a thread between a search and the main loop.
 *
 * It prepares the search (listing the places of a large design takes seconds), is its one client,
 * writes findings and position into the store through a connection of its own, and lays the
 * findings in a tray as rows, for the main loop to take. However many arrive, one wake-up is
 * pending at most. A tray belongs to one search, so whoever drops a clerk drops what it had found.
 *
 *     preparing  ->  ready  ->  running  <->  paused  ->  ended
 *              \->  failed
 *
 * Ownership: `free` stops the search, saves and joins; a clerk that still prepares is left to end
 * by itself. Thread: called from the main one.
 *
 * A clerk may be told all assemblies (job/adopt.h). They then lie in the tray as soon as it is
 * ready, with what is said of them, and come once more, in the same place of the order, as each is
 * examined. */
#ifndef NW_APP_CLERK_H
#define NW_APP_CLERK_H

#include <glib.h>

#include "app/finding_item.h"
#include "job/adopt.h"

typedef struct NwClerk NwClerk;

typedef enum NwClerkState {
    NW_CLERK_PREPARING,
    NW_CLERK_READY, /* or running, or ended: nw_clerk_progress tells */
    NW_CLERK_FAILED,
} NwClerkState;

/* Called in the main loop when there is something to take, or the clerk's state is another. */
typedef void NwClerkCall(gpointer data);

/* Begins to prepare a search of `design`, which is version `version` in the store at `path`; below
 * 0: it could not be saved, and the search is not kept either. What the store has of it already
 * comes into the tray. `anew` forgets that first. `told` is NULL, or taken over and emptied: all
 * assemblies; they are only made use of where the store has none. */
NwClerk *nw_clerk_new(const NwDesign *design, const char *path, gint64 version,
                      const NwSearchOptions *options, gboolean anew, NwFounds *told,
                      NwClerkCall *call, gpointer data);
void nw_clerk_free(NwClerk *clerk); /* NULL is allowed */

/* Starts as soon as it is ready, or goes on after a pause. */
void nw_clerk_go(NwClerk *clerk);
void nw_clerk_pause(NwClerk *clerk);

NwClerkState nw_clerk_get_state(NwClerk *clerk);

/* Once ready: whether the store says that the search was complete, or had begun, before. */
gboolean nw_clerk_was_complete(NwClerk *clerk);
gboolean nw_clerk_was_begun(NwClerk *clerk);

/* How many assemblies the store has of it, as soon as that is known: while it prepares, they are
 * read and come into the tray. 0: none, or not known yet. */
guint64 nw_clerk_has_earlier(NwClerk *clerk);

/* Once ready: whether it took over what it was told. What then is known at once goes into
 * *progress. */
gboolean nw_clerk_has_adopted(NwClerk *clerk, NwSearchProgress *progress);

/* While it prepares all zero, but for `setup`. */
void nw_clerk_progress(NwClerk *clerk, NwSearchProgress *progress);

/* Takes up to `most` rows from the tray: NwFindingItem, an array that unrefs them. If more are
 * left another call is on its way. The caller unrefs. */
GPtrArray *nw_clerk_take(NwClerk *clerk, guint most);

/* Why preparing or saving failed, or else what is to be told of the search, or NULL; the caller
 * frees. */
char *nw_clerk_dup_trouble(NwClerk *clerk);

#endif
