/* What the files layer_board*.c share: the object, drawing it, and working on it by hand. */
#ifndef NW_APP_BENCH_LAYER_BOARD_PRIVATE_H
#define NW_APP_BENCH_LAYER_BOARD_PRIVATE_H

#include "app/bench/layer_board.h"
#include "session/board_cursor.h"
#include "session/owner_map.h"

struct _NwLayerBoard {
    GtkWidget parent;
    NwViewState *view_state; /* NULL until it is set */

    GtkAdjustment *adjustments[2]; /* horizontal and vertical, NULL outside a scrolled window */
    guint policies[2];             /* GtkScrollablePolicy */

    NwBoardPlan plan; /* `side` 0 while there is nothing to draw */
    gboolean fitted;  /* the side follows the room there is */
    NwOwnerMap *owners;
    NwSolid *touched; /* what the brush would touch at the hovered part, or NULL */
    GPtrArray *sheet; /* of each layer the drawing without what moves, or NULL: to be drawn */

    gboolean stroking;
    NwPart stroked;    /* the last part of the stroke */
    NwBoardPoint from; /* the last point of the stroke, or of a pan */
    gboolean panning;
    NwBoardPoint pointer; /* where it was last seen */
    NwBoardCursor cursor;
    gboolean has_cursor;
};

/* ---- layer_board.c ---- */

/* The point of the plan at the upper left end of the widget. */
NwBoardPoint nw_layer_board_origin(NwLayerBoard *self);

void nw_layer_board_set_side(NwLayerBoard *self, double side, NwBoardPoint about);

/* Scrolls by some pixels, or until a rectangle of the plan is seen. */
void nw_layer_board_scroll_by(NwLayerBoard *self, double right, double down);
void nw_layer_board_reveal(NwLayerBoard *self, NwPart part);

/* ---- layer_board_draw.c ---- */

void nw_layer_board_snapshot(GtkWidget *widget, GtkSnapshot *snapshot);

/* ---- layer_board_input.c ---- */

void nw_layer_board_add_controllers(NwLayerBoard *self);

/* Takes back what is being painted. */
void nw_layer_board_cancel(NwLayerBoard *self);

#endif
