/* The adviser of the window: which changes of parts block a cook, as a list that fills.
 *
 * A counsel thread drains the advisor and hands proposals on in batches. It is asked about one
 * version of the design; when the design becomes another, everything is dropped, for proposals of
 * an earlier version cannot be applied. Where it stands is kept in the store, so the same question
 * of the same version goes on from there, also after a restart of the program.
 *
 * Signals:
 *   "changed"  state, list or progress is another (some ten times a second at most)
 * Thread: the main one. */
#ifndef NW_APP_ADVISER_H
#define NW_APP_ADVISER_H

#include <gio/gio.h>

#include "app/counsel.h"
#include "app/hunt.h"

G_BEGIN_DECLS

#define NW_TYPE_ADVISER (nw_adviser_get_type())
G_DECLARE_FINAL_TYPE(NwAdviser, nw_adviser, NW, ADVISER, GObject)

typedef enum NwAdviserState {
    NW_ADVISER_IDLE, /* nothing asked */
    NW_ADVISER_PREPARING,
    NW_ADVISER_WORKING,
    NW_ADVISER_PAUSED,
    NW_ADVISER_STOPPED, /* by the maker: what is found stays */
    NW_ADVISER_DONE,    /* nothing within the bounds was left out */
    NW_ADVISER_FAILED,
} NwAdviserState;

NwAdviser *nw_adviser_new(NwDocument *document, NwHunt *hunt);

/* Asks anew: about the cook with that key, or 0: about all. `pairs`: two changes at once too, even
 * if one does it. */
void nw_adviser_ask(NwAdviser *self, guint64 cook, gboolean pairs);
void nw_adviser_pause(NwAdviser *self);
void nw_adviser_go_on(NwAdviser *self);
void nw_adviser_stop(NwAdviser *self); /* to ask the same again goes on */
void nw_adviser_drop(NwAdviser *self); /* back to idle, with an empty list */

NwAdviserState nw_adviser_get_state(NwAdviser *self);
NwStatus nw_adviser_get_status(NwAdviser *self); /* why it failed */
guint64 nw_adviser_get_cook(NwAdviser *self);
gboolean nw_adviser_get_pairs(NwAdviser *self);
const char *nw_adviser_get_trouble(NwAdviser *self); /* why it cannot be kept, or NULL; borrowed */
void nw_adviser_get_progress(NwAdviser *self, NwAdvisorProgress *progress);

/* The candidate that is being checked, which has not become a proposal yet; FALSE if none is. */
gboolean nw_adviser_get_front(NwAdviser *self, NwFront *front);

/* NwAdvice, best first; borrowed, lives as long as the adviser. */
GListModel *nw_adviser_get_list(NwAdviser *self);

/* NwMiss; borrowed until "changed". */
const GArray *nw_adviser_get_misses(NwAdviser *self);

/* Makes a proposal the design, as a new version: the whole of what was proved, so that the list of
 * its assemblies, as the proof has found them, becomes the list of that version at once. FALSE if
 * it could not be (the document tells why). */
gboolean nw_adviser_apply(NwAdviser *self, NwAdvice *advice);

G_END_DECLS

#endif
