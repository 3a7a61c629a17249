/* The block session of the window: which changes of parts block a cook, as a list that fills.
 *
 * A worker thread drains the advisor and hands proposals on in batches. It is asked about one
 * version of the design; when the design becomes another, everything is dropped, for proposals of
 * an earlier version cannot be applied. Where it stands is kept in the store, so the same question
 * of the same version goes on from there, also after a restart of the program.
 *
 * Signals:
 *   "changed"  state, list or progress is another (some ten times a second at most)
 * Thread: the main one. */
#ifndef NW_SESSION_BLOCK_SESSION_H
#define NW_SESSION_BLOCK_SESSION_H

#include <gio/gio.h>

#include "session/block_worker.h"
#include "session/search_session.h"

G_BEGIN_DECLS

#define NW_TYPE_BLOCK_SESSION (nw_block_session_get_type())
G_DECLARE_FINAL_TYPE(NwBlockSession, nw_block_session, NW, BLOCK_SESSION, GObject)

typedef enum NwBlockSessionState {
    NW_BLOCK_SESSION_IDLE, /* nothing asked */
    NW_BLOCK_SESSION_PREPARING,
    NW_BLOCK_SESSION_WORKING,
    NW_BLOCK_SESSION_PAUSED,
    NW_BLOCK_SESSION_STOPPED, /* by the maker: what is found stays */
    NW_BLOCK_SESSION_DONE,    /* nothing within the bounds was left out */
    NW_BLOCK_SESSION_FAILED,
} NwBlockSessionState;

NwBlockSession *nw_block_session_new(NwDocument *document, NwSearchSession *session);

/* Asks anew: about the cook with that key, or 0: about all. `pairs`: two changes at once too, even
 * if one does it. */
void nw_block_session_ask(NwBlockSession *self, guint64 cook, gboolean pairs);
void nw_block_session_pause(NwBlockSession *self);
void nw_block_session_go_on(NwBlockSession *self);
void nw_block_session_stop(NwBlockSession *self); /* to ask the same again goes on */
void nw_block_session_drop(NwBlockSession *self); /* back to idle, with an empty list */

NwBlockSessionState nw_block_session_get_state(NwBlockSession *self);
NwStatus nw_block_session_get_status(NwBlockSession *self); /* why it failed */
guint64 nw_block_session_get_cook(NwBlockSession *self);
gboolean nw_block_session_get_pairs(NwBlockSession *self);
const char *
nw_block_session_get_trouble(NwBlockSession *self); /* why it cannot be kept, or NULL; borrowed */
void nw_block_session_get_progress(NwBlockSession *self, NwAdvisorProgress *progress);

/* The candidate that is being checked, which has not become a proposal yet; FALSE if none is. */
gboolean nw_block_session_get_front(NwBlockSession *self, NwFront *front);

/* NwProposalItem, best first; borrowed, lives as long as the block session. */
GListModel *nw_block_session_get_list(NwBlockSession *self);

/* NwMiss; borrowed until "changed". */
const GArray *nw_block_session_get_misses(NwBlockSession *self);

/* Makes a proposal the design, as a new version: the whole of what was proved, so that the list of
 * its assemblies, as the proof has found them, becomes the list of that version at once. FALSE if
 * it could not be (the document tells why). */
gboolean nw_block_session_apply(NwBlockSession *self, NwProposalItem *advice);

G_END_DECLS

#endif
