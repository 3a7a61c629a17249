/* The layer board: all layers of the envelope side by side, to be painted on.
 *
 * A square is a cell, with its core as a diamond and its corners as triangles (board_geometry.h).
 * An upper corner has its outer end filled. A part is filled with the colour of its piece and bears
 * the short form of the piece's name, or a pattern where letters would be too small. What is left
 * over is hatched; where pieces overlap there are bold stripes; what may stay empty bears a ring;
 * what is selected has an inner outline.
 *
 * Painting with the brush: press and drag does what the document's touch says; with Shift, or
 * the secondary button, it takes; with Ctrl it selects, with Ctrl and Shift it unselects. Escape
 * takes the stroke back. With the keyboard: arrows (with Ctrl by cells), Page Up and Page Down by
 * layers, Space or Enter gives, Delete takes, Ctrl+Space selects; plus, minus and 0 zoom.
 *
 * It is scrollable: put it into a GtkScrolledWindow. Thread: the main one. */
#ifndef NW_APP_BENCH_LAYER_BOARD_H
#define NW_APP_BENCH_LAYER_BOARD_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_LAYER_BOARD (nw_layer_board_get_type())
G_DECLARE_FINAL_TYPE(NwLayerBoard, nw_layer_board, NW, LAYER_BOARD, GtkWidget)

void nw_layer_board_set_view_state(NwLayerBoard *self, NwViewState *view_state);

/* Larger or smaller by one step, about the middle of what is seen. */
void nw_layer_board_zoom_by(NwLayerBoard *self, int steps);

/* As large as all layers can be seen; so it is at first, and follows the room there is. */
void nw_layer_board_zoom_to_fit(NwLayerBoard *self);

G_END_DECLS

#endif
