/* The search of the window: one button's worth of control, and the list that fills.
 *
 * A clerk thread drains the search (job/search.h), writes what it finds into the store through a
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
#ifndef NW_APP_HUNT_H
#define NW_APP_HUNT_H

#include <gio/gio.h>

#include "app/document.h"
#include "app/finding_item.h"
#include "job/adopt.h"

G_BEGIN_DECLS

#define NW_TYPE_HUNT (nw_hunt_get_type())
G_DECLARE_FINAL_TYPE(NwHunt, nw_hunt, NW, HUNT, GObject)

typedef enum NwHuntState {
    NW_HUNT_IDLE, /* nothing searched yet for this version */
    NW_HUNT_RUNNING,
    NW_HUNT_PAUSED, /* can go on, also after a restart of the program */
    NW_HUNT_COMPLETE,
    NW_HUNT_STALE, /* the findings belong to an earlier version of the design */
    NW_HUNT_FAILED,
    NW_HUNT_READING, /* what the store has of this version is coming into the list */
} NwHuntState;

/* Watches the document; loads what the store has when a design is opened. */
NwHunt *nw_hunt_new(NwDocument *document);

/* Options of the next search. */
void nw_hunt_set_diagonals(NwHunt *self, gboolean diagonals);
gboolean nw_hunt_get_diagonals(NwHunt *self);

/* Starts, or goes on where it was. FALSE with an error if the design cannot be searched. */
gboolean nw_hunt_start(NwHunt *self, GError **error);

/* Does nothing to a list that was adopted, which is complete already. */
void nw_hunt_pause(NwHunt *self);

/* Forgets the findings of this version and starts anew. */
gboolean nw_hunt_start_anew(NwHunt *self, GError **error);

/* Takes over and empties what is known to be all assemblies of the design as it is now
 * (job/adopt.h); nothing happens if it is empty. A search of this version in the store counts. */
void nw_hunt_adopt(NwHunt *self, NwFounds *founds);

/* Leaves the run of this version to somebody who searches it in the store too (a product that needs
 * a complete search), so that it is not searched twice: what runs is saved and rests. Taking it
 * back loads what the store has then, and goes on if it was running; where another version or
 * another search has come about meanwhile, nothing happens. */
void nw_hunt_lend(NwHunt *self);
void nw_hunt_take_back(NwHunt *self);

/* How many assemblies the store has, while they are read; 0 otherwise, and before that is known. */
guint64 nw_hunt_get_reading(NwHunt *self);

/* Whether some rows of an adopted list still wait for their way out. */
gboolean nw_hunt_is_examining(NwHunt *self);

NwHuntState nw_hunt_get_state(NwHunt *self);
void nw_hunt_get_progress(NwHunt *self, NwSearchProgress *progress);

/* NwFindingItem; borrowed, lives as long as the hunt. */
GListModel *nw_hunt_get_findings(NwHunt *self);

/* The design that the findings belong to (a stale list has an older one); borrowed. */
const NwDesign *nw_hunt_get_design(NwHunt *self);

/* Why it failed, or NULL; borrowed. */
const char *nw_hunt_get_message(NwHunt *self);

G_END_DECLS

#endif
