/* The search of the window: one button's worth of control, and the list that fills.
 *
 * A worker thread drains the search (job/search.h), writes what it finds into the store through a
 * connection of its own, and hands it on in batches; at most one wake-up of the main loop is
 * pending. When the design changes while a search runs, the search is stopped and its findings are
 * stale: they stay to be looked at, marked, until the next search.
 *
 * Where a version is searched before it comes about (a proof), its list can be adopted. It is there
 * and complete at once, and each of its rows is replaced by itself, with its way out, as the
 * assembly is examined and goes into the store.
 *
 * Signals:
 *   "changed"   state or progress is another (at most some ten times a second)
 *   "numbered"  the list is complete, and its rows have their numbers now
 * Thread: the main one. */
#ifndef NW_SESSION_SEARCH_SESSION_H
#define NW_SESSION_SEARCH_SESSION_H

#include <gio/gio.h>

#include "job/search_seed.h"
#include "session/assembly_item.h"
#include "session/document.h"

G_BEGIN_DECLS

#define NW_TYPE_SEARCH_SESSION (nw_search_session_get_type())
G_DECLARE_FINAL_TYPE(NwSearchSession, nw_search_session, NW, SEARCH_SESSION, GObject)

typedef enum NwSearchSessionState {
    NW_SEARCH_SESSION_IDLE, /* nothing searched yet for this version */
    NW_SEARCH_SESSION_RUNNING,
    NW_SEARCH_SESSION_PAUSED, /* can go on, also after a restart of the program */
    NW_SEARCH_SESSION_COMPLETE,
    NW_SEARCH_SESSION_STALE, /* the findings belong to an earlier version of the design */
    NW_SEARCH_SESSION_FAILED,
    NW_SEARCH_SESSION_READING, /* what the store has of this version is coming into the list */
} NwSearchSessionState;

/* Watches the document; loads what the store has when a design is opened. */
NwSearchSession *nw_search_session_new(NwDocument *document);

/* Options of the next search. */
void nw_search_session_set_diagonals(NwSearchSession *self, gboolean diagonals);
gboolean nw_search_session_get_diagonals(NwSearchSession *self);

/* Starts, or goes on where it was. FALSE with an error if the design cannot be searched. */
gboolean nw_search_session_start(NwSearchSession *self, GError **error);

/* Does nothing to a list that was adopted, which is complete already. */
void nw_search_session_pause(NwSearchSession *self);

/* Forgets the findings of this version and starts anew. */
gboolean nw_search_session_start_anew(NwSearchSession *self, GError **error);

/* What one key and one button do: pauses a search that runs, and starts or goes on with any other;
 * one that has failed from the beginning, since what it would go on from may be what it failed of.
 */
gboolean nw_search_session_toggle(NwSearchSession *self, GError **error);

/* Takes over and empties what is known to be all assemblies of the design as it is now
 * (job/search_seed.h); nothing happens if it is empty. A search of this version in the store
 * counts. */
void nw_search_session_adopt(NwSearchSession *self, NwFounds *founds);

/* Leaves the run of this version to somebody who searches it in the store too (a product that needs
 * a complete search), so that it is not searched twice: what runs is saved and rests. Taking it
 * back loads what the store has then, and goes on if it was running; where another version or
 * another search has come about meanwhile, nothing happens. */
void nw_search_session_lend(NwSearchSession *self);
void nw_search_session_take_back(NwSearchSession *self);

/* How many assemblies the store has, while they are read; 0 otherwise, and before that is known. */
guint64 nw_search_session_get_reading(NwSearchSession *self);

/* Whether some rows of an adopted list still wait for their way out. */
gboolean nw_search_session_is_examining(NwSearchSession *self);

NwSearchSessionState nw_search_session_get_state(NwSearchSession *self);
void nw_search_session_get_progress(NwSearchSession *self, NwSearchProgress *progress);

/* NwAssemblyItem; borrowed, lives as long as the search. */
GListModel *nw_search_session_get_assemblies(NwSearchSession *self);

/* Gives a row a shorter way out of its assembly, or what is proved of it, and keeps that in the
 * store; takes the finding over. Returns the row that stands in the place of `item` now (borrowed),
 * or NULL if that is in the list no longer; an error says that it could not be kept. */
NwAssemblyItem *nw_search_session_improve(NwSearchSession *self, NwAssemblyItem *item,
                                          NwFoundAssembly *finding, GError **error);

/* The design that the findings belong to (a stale list has an older one); borrowed. */
const NwDesign *nw_search_session_get_design(NwSearchSession *self);

/* Why it failed, or NULL; borrowed. */
const char *nw_search_session_get_message(NwSearchSession *self);

G_END_DECLS

#endif
