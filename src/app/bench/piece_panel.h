/* The list of pieces, at the left of the bench: what each is, and what can be done to it.
 *
 * The chosen row is the document's chosen piece. Keys in the list: F2 renames, Delete deletes,
 * Alt+Up and Alt+Down move the piece in the list, as dragging does. Thread: the main one. */
#ifndef NW_APP_BENCH_PIECE_PANEL_H
#define NW_APP_BENCH_PIECE_PANEL_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_PIECE_PANEL (nw_piece_panel_get_type())
G_DECLARE_FINAL_TYPE(NwPiecePanel, nw_piece_panel, NW, PIECE_PANEL, GtkWidget)

void nw_piece_panel_set_view_state(NwPiecePanel *self, NwViewState *view_state);

G_END_DECLS

#endif
