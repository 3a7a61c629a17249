/* The lower part of the bench: the ways to paint, and the layer board to paint on. What is set here
 * (brush, cut, axis) holds for the viewport too, which reads it from the same document and view
 * state. Thread: the main one. */
#ifndef NW_APP_BENCH_BOARD_PANEL_H
#define NW_APP_BENCH_BOARD_PANEL_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_BOARD_PANEL (nw_board_panel_get_type())
G_DECLARE_FINAL_TYPE(NwBoardPanel, nw_board_panel, NW, BOARD_PANEL, GtkWidget)

void nw_board_panel_set_view_state(NwBoardPanel *self, NwViewState *view_state);

G_END_DECLS

#endif
