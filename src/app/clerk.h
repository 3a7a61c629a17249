/* The clerk of a hunt: a thread between a search and the main loop.
 *
 * It is the one client of the search: it drains it, writes findings and position into the store
 * through a connection of its own, and lays the findings in a tray as rows, for the main loop to
 * take. However many arrive, one wake-up is pending at most. A tray belongs to one search, so
 * whoever drops a clerk drops what it had found with it.
 * Ownership: `free` stops the search, saves, and joins. Thread: called from the main one. */
#ifndef NW_APP_CLERK_H
#define NW_APP_CLERK_H

#include <glib.h>

#include "app/finding_item.h"
#include "job/search.h"

typedef struct NwClerk NwClerk;

/* Called in the main loop when there is something to take or the search has ended. */
typedef void NwClerkCall(gpointer data);

/* Prepares a search of `design`, which is version `version` in the store at `path`. What the store
 * has of it already is in the tray. `anew` forgets that first. */
NwClerk *nw_clerk_new(const NwDesign *design, const char *path, gint64 version,
                      const NwSearchOptions *options, gboolean anew, NwClerkCall *call,
                      gpointer data, GError **error);
void nw_clerk_free(NwClerk *clerk); /* NULL is allowed */

/* Starts, or goes on after a pause. */
void nw_clerk_go(NwClerk *clerk);
void nw_clerk_pause(NwClerk *clerk);

/* Whether the store says that the search was complete, or had begun, before this clerk. */
gboolean nw_clerk_was_complete(NwClerk *clerk);
gboolean nw_clerk_was_begun(NwClerk *clerk);

void nw_clerk_progress(NwClerk *clerk, NwSearchProgress *progress);

/* Takes up to `most` rows from the tray: NwFindingItem, an array that unrefs them. If more are
 * left another call is on its way. The caller unrefs. */
GPtrArray *nw_clerk_take(NwClerk *clerk, guint most);

/* Why saving failed, or NULL; the caller frees. */
char *nw_clerk_dup_trouble(NwClerk *clerk);

#endif
