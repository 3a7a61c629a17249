/* The panel that blocks cooks: proposals as they come, best first, each with how it kills and what
 * is left; the one that is pointed at or chosen is lit on the view state. One press applies it.
 *
 * Signals:
 *   "closed"  the maker goes back, or the design is another one
 * Thread: the main one. */
#ifndef NW_APP_BLOCKING_BLOCK_PANEL_H
#define NW_APP_BLOCKING_BLOCK_PANEL_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_BLOCK_PANEL (nw_block_panel_get_type())
G_DECLARE_FINAL_TYPE(NwBlockPanel, nw_block_panel, NW, BLOCK_PANEL, GtkWidget)

void nw_block_panel_set_view_state(NwBlockPanel *self, NwViewState *view_state);

/* Asks how to block this cook of the search. */
void nw_block_panel_ask(NwBlockPanel *self, NwAssemblyItem *cook);

G_END_DECLS

#endif
