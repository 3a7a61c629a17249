#include <math.h>

#include "app/bench/brush_gesture.h"
#include "app/bench/viewport_private.h"

static gboolean part_at(NwViewport *self, double x, double y, NwPart *part) {
    int width, height;
    nw_viewport_size(self, &width, &height);
    NwRay ray = nw_camera_ray(&self->camera, x, y, width, height);
    return self->view_state && nw_viewport_scene_pick(&self->scene, self->view_state, &ray, part);
}

/* ---- painting ---------------------------------------------------------------------------- */

static void paint_at(NwViewport *self, double x, double y) {
    NwPart part;
    if (!part_at(self, x, y, &part))
        return;
    nw_brush_gesture_touch_part(self->view_state, part);
}

/* ---- dragging ---------------------------------------------------------------------------- */

static void on_drag_begin(GtkGestureDrag *gesture, double x, double y, NwViewport *self) {
    GdkModifierType state =
        gtk_event_controller_get_current_event_state(GTK_EVENT_CONTROLLER(gesture));
    guint button = gtk_gesture_single_get_current_button(GTK_GESTURE_SINGLE(gesture));
    NwPart part;
    gtk_widget_grab_focus(self->area);
    self->drag_x = x;
    self->drag_y = y;
    self->drag = NW_DRAG_NONE;
    if (self->second_press && button == GDK_BUTTON_PRIMARY)
        return;
    if (button == GDK_BUTTON_MIDDLE || (button == GDK_BUTTON_SECONDARY && state & GDK_SHIFT_MASK)) {
        self->drag = NW_DRAG_PAN;
    } else if (button == GDK_BUTTON_PRIMARY && !(state & GDK_ALT_MASK) &&
               part_at(self, x, y, &part)) {
        NwTouch touch = nw_brush_gesture_touch(self->view_state, state, button);
        if (touch == NW_TOUCH_LOOK) {
            self->drag = NW_DRAG_ORBIT;
            return;
        }
        if (!nw_brush_gesture_may_begin(self->view_state, touch))
            return;
        self->drag = NW_DRAG_PAINT;
        self->version_before =
            nw_document_get_version(nw_view_state_get_document(self->view_state));
        self->stroke_time = g_get_monotonic_time();
        nw_document_begin_stroke(nw_view_state_get_document(self->view_state), touch);
        paint_at(self, x, y);
    } else {
        self->drag = NW_DRAG_ORBIT;
    }
}

static void on_drag_update(GtkGestureDrag *gesture, double dx, double dy, NwViewport *self) {
    double x, y;
    gtk_gesture_drag_get_start_point(gesture, &x, &y);
    x += dx;
    y += dy;
    dx = x - self->drag_x;
    dy = y - self->drag_y;
    self->drag_x = x;
    self->drag_y = y;
    switch (self->drag) {
    case NW_DRAG_PAINT:
        paint_at(self, x, y);
        break;
    case NW_DRAG_ORBIT:
        nw_viewport_turn(self, dx, dy);
        break;
    case NW_DRAG_PAN:
        nw_viewport_pan(self, dx, dy);
        break;
    case NW_DRAG_NONE:
        break;
    }
}

static void on_drag_end(NwViewport *self) {
    if (self->drag == NW_DRAG_PAINT)
        nw_document_end_stroke(nw_view_state_get_document(self->view_state));
    self->drag = NW_DRAG_NONE;
}

static void on_drag_cancel(NwViewport *self) {
    if (self->drag == NW_DRAG_PAINT)
        nw_document_cancel_stroke(nw_view_state_get_document(self->view_state));
    self->drag = NW_DRAG_NONE;
}

/* ---- double clicks ----------------------------------------------------------------------- */

/* The first press may have painted: undo has it, while nothing else has been done since. */
static void take_stroke_back(NwViewport *self) {
    NwDocument *document = nw_view_state_get_document(self->view_state);
    gint64 version = nw_document_get_version(document);
    if (self->version_before >= 0 && version >= 0 && version != self->version_before)
        nw_document_undo(document);
    self->version_before = -1;
}

/* Where presses take parts away a second one takes what lies behind. */
static void on_pressed(NwViewport *self, int presses, double x, double y, GtkGesture *gesture) {
    GdkModifierType state =
        gtk_event_controller_get_current_event_state(GTK_EVENT_CONTROLLER(gesture));
    gboolean plain = !(state & (GDK_SHIFT_MASK | GDK_CONTROL_MASK));
    self->second_press = FALSE;
    if (presses < 2)
        self->version_before = -1; /* on_drag_begin knows better if it paints */
    if (presses != 2 || !plain || !self->view_state ||
        nw_document_get_touch(nw_view_state_get_document(self->view_state)) == NW_TOUCH_TAKE)
        return;
    take_stroke_back(self);
    self->second_press = nw_viewport_look_at(self, x, y);
}

/* ---- pointing and zooming ---------------------------------------------------------------- */

/* When something moves under a pointer at rest, that is no wish to point elsewhere. */
static void on_motion(NwViewport *self, double x, double y) {
    NwPart part;
    gboolean moved = x != self->pointer_x || y != self->pointer_y;
    self->pointer_x = x;
    self->pointer_y = y;
    if (self->view_state && moved && self->drag != NW_DRAG_ORBIT && self->drag != NW_DRAG_PAN)
        nw_view_state_set_hover(self->view_state, part_at(self, x, y, &part) ? &part : NULL);
}

static void on_leave(NwViewport *self) {
    if (self->view_state)
        nw_view_state_set_hover(self->view_state, NULL);
}

/* A wheel's event does not say where the pointer is, and the pointer may not have moved since the
 * view came under it. */
static void find_pointer(NwViewport *self) {
    GtkNative *native = gtk_widget_get_native(self->area);
    GdkSeat *seat = gdk_display_get_default_seat(gtk_widget_get_display(self->area));
    GdkDevice *pointer = seat ? gdk_seat_get_pointer(seat) : NULL;
    graphene_point_t at;
    double x, y, left, top;
    if (!pointer ||
        !gdk_surface_get_device_position(gtk_native_get_surface(native), pointer, &x, &y, NULL))
        return;
    gtk_native_get_surface_transform(native, &left, &top);
    at = GRAPHENE_POINT_INIT((float)(x - left), (float)(y - top));
    if (!gtk_widget_compute_point(GTK_WIDGET(native), self->area, &at, &at))
        return;
    self->pointer_x = (double)at.x;
    self->pointer_y = (double)at.y;
}

static gboolean on_scroll(NwViewport *self, double dx, double dy) {
    (void)dx;
    find_pointer(self);
    nw_viewport_zoom(self, exp(-0.12 * dy), self->pointer_x, self->pointer_y);
    return TRUE;
}

/* ---- two fingers ------------------------------------------------------------------------- */

static void on_pinch(NwViewport *self, double scale, GtkGesture *gesture) {
    double x, y;
    if (!gtk_gesture_get_bounding_box_center(gesture, &x, &y) || scale <= 0)
        return;
    nw_viewport_zoom(self, scale / self->zoom_before, x, y);
    self->zoom_before = scale;
}

/* The first of two fingers on a screen is a press, until the second is there. */
static void on_pinch_begin(NwViewport *self) {
    enum { FINGERS_APART_MICROSECONDS = 400000 };
    self->zoom_before = 1;
    on_drag_cancel(self);
    if (self->view_state && g_get_monotonic_time() - self->stroke_time < FINGERS_APART_MICROSECONDS)
        take_stroke_back(self);
}

static void on_twist(NwViewport *self, double angle, double turned) {
    (void)angle;
    nw_viewport_spin(self, turned - self->angle_before);
    self->angle_before = turned;
}

static void on_twist_begin(NwViewport *self) {
    self->angle_before = 0;
}

/* ---- keys -------------------------------------------------------------------------------- */

static const struct {
    guint key;
    const char *view;
} views[] = {
    {GDK_KEY_1, "+x"},     {GDK_KEY_2, "-x"},     {GDK_KEY_3, "+y"},
    {GDK_KEY_4, "-y"},     {GDK_KEY_5, "+z"},     {GDK_KEY_6, "-z"},
    {GDK_KEY_7, "+x+y+z"}, {GDK_KEY_8, "-x-y-z"}, {GDK_KEY_9, "edge"},
};

static const struct {
    guint key;
    int dx, dy;
} arrows[] = {
    {GDK_KEY_Left, -1, 0}, {GDK_KEY_Right, 1, 0}, {GDK_KEY_Up, 0, -1}, {GDK_KEY_Down, 0, 1}};

static gboolean on_arrow(NwViewport *self, int dx, int dy, GdkModifierType state) {
    enum { STEP = 24 };
    if (state & GDK_SHIFT_MASK)
        nw_viewport_pan(self, STEP * dx, STEP * dy);
    else
        nw_viewport_turn(self, STEP * dx, STEP * dy);
    return TRUE;
}

static gboolean on_key(NwViewport *self, guint key, guint code, GdkModifierType state) {
    (void)code;
    if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
        return FALSE;
    for (gsize i = 0; i < G_N_ELEMENTS(views); i++)
        if (views[i].key == key) {
            nw_viewport_set_view(self, views[i].view);
            return TRUE;
        }
    for (gsize i = 0; i < G_N_ELEMENTS(arrows); i++)
        if (arrows[i].key == key)
            return on_arrow(self, arrows[i].dx, arrows[i].dy, state);
    switch (key) {
    case GDK_KEY_plus:
    case GDK_KEY_equal:
    case GDK_KEY_KP_Add:
        nw_viewport_zoom_middle(self, 1.15);
        return TRUE;
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
        nw_viewport_zoom_middle(self, 1 / 1.15);
        return TRUE;
    case GDK_KEY_0:
    case GDK_KEY_KP_0:
        nw_viewport_show_all(self);
        return TRUE;
    case GDK_KEY_Home:
    case GDK_KEY_KP_Home:
        nw_viewport_reset(self);
        return TRUE;
    case GDK_KEY_Escape:
        if (self->drag != NW_DRAG_PAINT)
            return FALSE;
        on_drag_cancel(self);
        return TRUE;
    default:
        return FALSE;
    }
}

static void add(NwViewport *self, GtkEventController *controller) {
    gtk_widget_add_controller(self->area, controller);
}

void nw_viewport_add_input(NwViewport *self) {
    GtkGesture *drag = gtk_gesture_drag_new();
    gtk_gesture_single_set_button(GTK_GESTURE_SINGLE(drag), 0);
    g_signal_connect(drag, "drag-begin", G_CALLBACK(on_drag_begin), self);
    g_signal_connect(drag, "drag-update", G_CALLBACK(on_drag_update), self);
    g_signal_connect_swapped(drag, "drag-end", G_CALLBACK(on_drag_end), self);
    g_signal_connect_swapped(drag, "cancel", G_CALLBACK(on_drag_cancel), self);
    add(self, GTK_EVENT_CONTROLLER(drag));

    /* Before the drag, which asks whether a second press is for it. */
    GtkGesture *click = gtk_gesture_click_new();
    gtk_event_controller_set_propagation_phase(GTK_EVENT_CONTROLLER(click), GTK_PHASE_CAPTURE);
    g_signal_connect_swapped(click, "pressed", G_CALLBACK(on_pressed), self);
    add(self, GTK_EVENT_CONTROLLER(click));

    GtkEventController *motion = gtk_event_controller_motion_new();
    g_signal_connect_swapped(motion, "motion", G_CALLBACK(on_motion), self);
    g_signal_connect_swapped(motion, "leave", G_CALLBACK(on_leave), self);
    add(self, motion);

    GtkEventController *scroll =
        gtk_event_controller_scroll_new(GTK_EVENT_CONTROLLER_SCROLL_VERTICAL);
    g_signal_connect_swapped(scroll, "scroll", G_CALLBACK(on_scroll), self);
    add(self, scroll);

    GtkGesture *pinch = gtk_gesture_zoom_new();
    g_signal_connect_swapped(pinch, "begin", G_CALLBACK(on_pinch_begin), self);
    g_signal_connect_swapped(pinch, "scale-changed", G_CALLBACK(on_pinch), self);
    add(self, GTK_EVENT_CONTROLLER(pinch));

    GtkGesture *twist = gtk_gesture_rotate_new();
    g_signal_connect_swapped(twist, "begin", G_CALLBACK(on_twist_begin), self);
    g_signal_connect_swapped(twist, "angle-changed", G_CALLBACK(on_twist), self);
    add(self, GTK_EVENT_CONTROLLER(twist));
    gtk_gesture_group(pinch, twist);

    GtkEventController *keys = gtk_event_controller_key_new();
    g_signal_connect_swapped(keys, "key-pressed", G_CALLBACK(on_key), self);
    add(self, keys);
}
