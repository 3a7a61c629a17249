#include <gdk/gdkkeysyms.h>
#include <glib/gi18n.h>
#include <math.h>

#include "app/bench/brush_gesture.h"
#include "app/bench/layer_board_private.h"

static const double scroll_pixels = 40; /* of one notch of a wheel */

/* ---- strokes ------------------------------------------------------------------------------- */

static void touch(NwLayerBoard *self, NwPart part) {
    nw_brush_gesture_touch_part(self->view_state, part);
    self->stroked = part;
}

static gboolean is_stroked(NwLayerBoard *self, NwPart part) {
    return nw_vec_equal(part.cell, self->stroked.cell) && part.bit == self->stroked.bit;
}

/* A whole stroke of one part, as a key makes it. */
static void dab(NwLayerBoard *self, NwTouch kind) {
    if (!self->has_cursor || !nw_brush_gesture_may_begin(self->view_state, kind))
        return;
    NwDocument *document = nw_view_state_get_document(self->view_state);
    nw_document_begin_stroke(document, kind);
    touch(self, nw_board_cursor_part(&self->plan, self->cursor));
    nw_document_end_stroke(document);
}

void nw_layer_board_cancel(NwLayerBoard *self) {
    if (!self->stroking)
        return;
    self->stroking = FALSE;
    nw_document_cancel_stroke(nw_view_state_get_document(self->view_state));
}

static gboolean part_at(NwLayerBoard *self, double x, double y, NwPart *part) {
    NwBoardPoint origin = nw_layer_board_origin(self);
    NwDocument *document = nw_view_state_get_document(self->view_state);
    const NwDesign *design = nw_document_get_design(document);
    return design && nw_board_hit(&self->plan, (NwBoardPoint){x + origin.x, y + origin.y}, part) &&
           nw_solid_mask(design->envelope, part->cell) >> part->bit & 1;
}

/* Touches what lies between two points too: a quick hand skips none. */
static void stroke_to(NwLayerBoard *self, double x, double y) {
    double length = hypot(x - self->from.x, y - self->from.y);
    int steps = 1 + (int)(length / (self->plan.side / 8));
    for (int i = 1; i <= steps; i++) {
        NwPart part;
        double share = (double)i / steps;
        if (part_at(self, self->from.x + share * (x - self->from.x),
                    self->from.y + share * (y - self->from.y), &part) &&
            !is_stroked(self, part))
            touch(self, part);
    }
    self->from = (NwBoardPoint){x, y};
}

/* ---- the pointer --------------------------------------------------------------------------- */

static void hover(NwLayerBoard *self, double x, double y) {
    NwPart part;
    nw_view_state_set_hover(self->view_state, part_at(self, x, y, &part) ? &part : NULL);
}

/* When the board scrolls under a pointer at rest, that is no wish to point elsewhere. */
static void on_motion(NwLayerBoard *self, double x, double y) {
    gboolean moved = x != self->pointer.x || y != self->pointer.y;
    self->pointer = (NwBoardPoint){x, y};
    if (self->view_state && moved && !self->panning)
        hover(self, x, y);
}

static void on_leave(NwLayerBoard *self) {
    self->pointer = (NwBoardPoint){-1, -1};
    if (self->view_state)
        nw_view_state_set_hover(self->view_state, NULL);
}

static void on_drag_begin(NwLayerBoard *self, double x, double y, GtkGesture *gesture) {
    GtkGestureSingle *single = GTK_GESTURE_SINGLE(gesture);
    GdkModifierType state =
        gtk_event_controller_get_current_event_state(GTK_EVENT_CONTROLLER(gesture));
    guint button = gtk_gesture_single_get_current_button(single);
    NwPart part;
    if (!self->view_state)
        return;
    gtk_widget_grab_focus(GTK_WIDGET(self));
    self->from = (NwBoardPoint){x, y};
    NwTouch kind = nw_brush_gesture_touch(self->view_state, state, button);
    if (button == GDK_BUTTON_MIDDLE || (button == GDK_BUTTON_PRIMARY && kind == NW_TOUCH_LOOK)) {
        self->panning = TRUE;
    } else if (kind != NW_TOUCH_LOOK && part_at(self, x, y, &part) &&
               nw_brush_gesture_may_begin(self->view_state, kind)) {
        self->stroking = TRUE;
        self->cursor = nw_board_cursor_at(&self->plan, part);
        self->has_cursor = TRUE;
        hover(self, x, y);
        nw_document_begin_stroke(nw_view_state_get_document(self->view_state), kind);
        touch(self, part);
    } else {
        gtk_gesture_set_state(gesture, GTK_EVENT_SEQUENCE_DENIED);
        return;
    }
    gtk_gesture_set_state(gesture, GTK_EVENT_SEQUENCE_CLAIMED);
}

static void on_drag_update(NwLayerBoard *self, double dx, double dy, GtkGestureDrag *gesture) {
    double x, y;
    gtk_gesture_drag_get_start_point(gesture, &x, &y);
    x += dx;
    y += dy;
    if (self->panning) {
        nw_layer_board_scroll_by(self, self->from.x - x, self->from.y - y);
        self->from = (NwBoardPoint){x, y};
    } else if (self->stroking) {
        stroke_to(self, x, y);
        hover(self, x, y);
    }
}

static void on_drag_end(NwLayerBoard *self) {
    self->panning = FALSE;
    if (!self->stroking)
        return;
    self->stroking = FALSE;
    nw_document_end_stroke(nw_view_state_get_document(self->view_state));
}

static void on_cancel(NwLayerBoard *self) {
    self->panning = FALSE;
    nw_layer_board_cancel(self);
}

static gboolean on_scroll(NwLayerBoard *self, double dx, double dy,
                          GtkEventControllerScroll *controller) {
    GdkModifierType state =
        gtk_event_controller_get_current_event_state(GTK_EVENT_CONTROLLER(controller));
    if (state & GDK_CONTROL_MASK) {
        NwPart part;
        NwBoardPoint about = {gtk_widget_get_width(GTK_WIDGET(self)) / 2.0,
                              gtk_widget_get_height(GTK_WIDGET(self)) / 2.0};
        /* The part under the pointer stays there. */
        if (self->view_state && nw_view_state_get_hover(self->view_state, &part)) {
            NwBoardPoint origin = nw_layer_board_origin(self);
            about = nw_board_centre(&self->plan, part);
            about = (NwBoardPoint){about.x - origin.x, about.y - origin.y};
        }
        nw_layer_board_set_side(self, self->plan.side * pow(1.15, -dy), about);
        return GDK_EVENT_STOP;
    }
    /* A wheel goes along the layers when there is nothing below. */
    GtkAdjustment *down = self->adjustments[1];
    if (dx == 0 && down && gtk_adjustment_get_upper(down) <= gtk_adjustment_get_page_size(down)) {
        nw_layer_board_scroll_by(self, dy * scroll_pixels, 0);
        return GDK_EVENT_STOP;
    }
    return GDK_EVENT_PROPAGATE;
}

/* ---- the keyboard -------------------------------------------------------------------------- */

/* Starts on the hovered part, or on the first of the envelope. */
static void place_cursor(NwLayerBoard *self) {
    const NwDesign *design = nw_document_get_design(nw_view_state_get_document(self->view_state));
    NwPart part;
    if (self->has_cursor || design->envelope->count == 0)
        return;
    if (!nw_view_state_get_hover(self->view_state, &part)) {
        part.cell = nw_cell_at(&design->envelope->cells[0]);
        part.bit = 0;
    }
    self->cursor = nw_board_cursor_at(&self->plan, part);
    self->has_cursor = TRUE;
}

static void show_cursor(NwLayerBoard *self) {
    NwPart part = nw_board_cursor_part(&self->plan, self->cursor);
    nw_view_state_set_hover(self->view_state, &part);
    nw_layer_board_reveal(self, part);
    gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void move(NwLayerBoard *self, int right, int up, int layers, gboolean cells) {
    if (self->has_cursor)
        self->cursor = nw_board_cursor_moved(&self->plan, self->cursor, right, up, layers, cells);
    else
        place_cursor(self);
    if (self->has_cursor)
        show_cursor(self);
}

static gboolean on_zoom_key(NwLayerBoard *self, guint key) {
    switch (key) {
    case GDK_KEY_plus:
    case GDK_KEY_equal:
    case GDK_KEY_KP_Add:
        nw_layer_board_zoom_by(self, 1);
        return TRUE;
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
        nw_layer_board_zoom_by(self, -1);
        return TRUE;
    case GDK_KEY_0:
    case GDK_KEY_KP_0:
        nw_layer_board_zoom_to_fit(self);
        return TRUE;
    default:
        return FALSE;
    }
}

static gboolean on_move_key(NwLayerBoard *self, guint key, gboolean cells) {
    switch (key) {
    case GDK_KEY_Left:
    case GDK_KEY_KP_Left:
        move(self, -1, 0, 0, cells);
        return TRUE;
    case GDK_KEY_Right:
    case GDK_KEY_KP_Right:
        move(self, 1, 0, 0, cells);
        return TRUE;
    case GDK_KEY_Up:
    case GDK_KEY_KP_Up:
        move(self, 0, 1, 0, cells);
        return TRUE;
    case GDK_KEY_Down:
    case GDK_KEY_KP_Down:
        move(self, 0, -1, 0, cells);
        return TRUE;
    case GDK_KEY_Page_Up:
    case GDK_KEY_KP_Page_Up:
        move(self, 0, 0, 1, TRUE);
        return TRUE;
    case GDK_KEY_Page_Down:
    case GDK_KEY_KP_Page_Down:
        move(self, 0, 0, -1, TRUE);
        return TRUE;
    default:
        return FALSE;
    }
}

static gboolean on_paint_key(NwLayerBoard *self, guint key, GdkModifierType state) {
    gboolean control = (state & GDK_CONTROL_MASK) != 0, shift = (state & GDK_SHIFT_MASK) != 0;
    switch (key) {
    case GDK_KEY_space:
    case GDK_KEY_KP_Space:
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
        dab(self, control ? (shift ? NW_TOUCH_UNSELECT : NW_TOUCH_SELECT)
                          : (shift ? NW_TOUCH_TAKE : NW_TOUCH_GIVE));
        return TRUE;
    case GDK_KEY_Delete:
    case GDK_KEY_KP_Delete:
    case GDK_KEY_BackSpace:
        dab(self, NW_TOUCH_TAKE);
        return TRUE;
    default:
        return FALSE;
    }
}

static gboolean on_key(NwLayerBoard *self, guint key, guint code G_GNUC_UNUSED,
                       GdkModifierType state) {
    if (!self->view_state || !nw_document_get_design(nw_view_state_get_document(self->view_state)))
        return FALSE;
    if (key == GDK_KEY_Escape && self->stroking) {
        nw_layer_board_cancel(self);
        return TRUE;
    }
    if (state & GDK_ALT_MASK || self->stroking)
        return FALSE;
    NwDocument *document = nw_view_state_get_document(self->view_state);
    gboolean cells =
        (state & GDK_CONTROL_MASK) != 0 || nw_document_get_brush(document) == NW_BRUSH_CELL;
    return on_move_key(self, key, cells) || on_paint_key(self, key, state) ||
           on_zoom_key(self, key);
}

/* By a key, not by a press of the pointer; the widget itself learns only later that it has it. */
static void on_focus(NwLayerBoard *self) {
    GtkRoot *window = gtk_widget_get_root(GTK_WIDGET(self));
    if (self->view_state && nw_document_get_design(nw_view_state_get_document(self->view_state)) &&
        gtk_window_get_focus_visible(GTK_WINDOW(window))) {
        place_cursor(self);
        if (self->has_cursor)
            show_cursor(self);
    }
}

/* ---- controllers --------------------------------------------------------------------------- */

static void add(NwLayerBoard *self, GtkEventController *controller) {
    gtk_widget_add_controller(GTK_WIDGET(self), controller);
}

void nw_layer_board_add_controllers(NwLayerBoard *self) {
    GtkEventController *motion = gtk_event_controller_motion_new();
    g_signal_connect_swapped(motion, "enter", G_CALLBACK(on_motion), self);
    g_signal_connect_swapped(motion, "motion", G_CALLBACK(on_motion), self);
    g_signal_connect_swapped(motion, "leave", G_CALLBACK(on_leave), self);
    add(self, motion);

    GtkGesture *drag = gtk_gesture_drag_new();
    gtk_gesture_single_set_button(GTK_GESTURE_SINGLE(drag), 0);
    g_signal_connect_swapped(drag, "drag-begin", G_CALLBACK(on_drag_begin), self);
    g_signal_connect_swapped(drag, "drag-update", G_CALLBACK(on_drag_update), self);
    g_signal_connect_swapped(drag, "drag-end", G_CALLBACK(on_drag_end), self);
    g_signal_connect_swapped(drag, "cancel", G_CALLBACK(on_cancel), self);
    add(self, GTK_EVENT_CONTROLLER(drag));

    GtkEventController *scroll =
        gtk_event_controller_scroll_new(GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
    g_signal_connect_swapped(scroll, "scroll", G_CALLBACK(on_scroll), self);
    add(self, scroll);

    GtkEventController *key = gtk_event_controller_key_new();
    g_signal_connect_swapped(key, "key-pressed", G_CALLBACK(on_key), self);
    add(self, key);

    GtkEventController *focus = gtk_event_controller_focus_new();
    g_signal_connect_swapped(focus, "enter", G_CALLBACK(on_focus), self);
    add(self, focus);
}
