/* The maker: makes one product at a time on a thread of its own.
 *
 *     idle -> working -> done      files are written
 *                    \-> stopped   as asked; nothing is written
 *                    \-> failed    with a sentence; nothing is written
 *
 * The commission holds a copy of the design, so the bench is free while the thread works. The main
 * loop looks at it some times a second, so no wake-up is ever pending. Disposing of the maker stops
 * the thread and waits for it.
 *
 * Signals:
 *   "changed"  state or progress is another
 * Thread: called from the main one. */
#ifndef NW_APP_MAKER_H
#define NW_APP_MAKER_H

#include <glib-object.h>

#include "product/commission.h"

G_BEGIN_DECLS

#define NW_TYPE_MAKER (nw_maker_get_type())
G_DECLARE_FINAL_TYPE(NwMaker, nw_maker, NW, MAKER, GObject)

typedef enum NwMakerState {
    NW_MAKER_IDLE,
    NW_MAKER_WORKING,
    NW_MAKER_DONE,
    NW_MAKER_STOPPED,
    NW_MAKER_FAILED,
} NwMakerState;

NwMaker *nw_maker_new(void);

/* Begins; the commission is taken over. Not while it works. */
void nw_maker_start(NwMaker *self, NwCommission *commission);

/* Asks the thread to end; it does so at its next look. */
void nw_maker_stop(NwMaker *self);

/* Forgets what came of the last commission. Not while it works. */
void nw_maker_forget(NwMaker *self);

NwMakerState nw_maker_get_state(NwMaker *self);
gboolean nw_maker_is_stopping(NwMaker *self);

/* The share that is done, 0 to 1, and what is being done, which the caller frees. While it works.
 */
double nw_maker_get_progress(NwMaker *self, char **what);

/* What it works at or worked at last; borrowed, NULL while idle. */
const NwCommission *nw_maker_get_commission(NwMaker *self);

const NwMade *nw_maker_get_made(NwMaker *self);  /* once it is done; borrowed */
const char *nw_maker_get_message(NwMaker *self); /* why it failed; borrowed */

G_END_DECLS

#endif
