#include <math.h>

#include "app/stroke.h"
#include "app/viewport_private.h"

static void size_of(NwViewport *self, int *width, int *height) {
    *width = MAX(1, gtk_widget_get_width(self->area));
    *height = MAX(1, gtk_widget_get_height(self->area));
}

static gboolean part_at(NwViewport *self, double x, double y, NwPart *part) {
    int width, height;
    size_of(self, &width, &height);
    NwRay ray = nw_camera_ray(&self->camera, x, y, width, height);
    return self->stage && nw_viewport_scene_pick(&self->scene, self->stage, &ray, part);
}

/* ---- painting ---------------------------------------------------------------------------- */

static void paint_at(NwViewport *self, double x, double y) {
    NwPart part;
    if (!part_at(self, x, y, &part))
        return;
    nw_stroke_touch_part(self->stage, part);
}

/* ---- dragging ---------------------------------------------------------------------------- */

static void on_drag_begin(GtkGestureDrag *gesture, double x, double y, NwViewport *self) {
    GdkModifierType state =
        gtk_event_controller_get_current_event_state(GTK_EVENT_CONTROLLER(gesture));
    guint button = gtk_gesture_single_get_current_button(GTK_GESTURE_SINGLE(gesture));
    NwPart part;
    gtk_widget_grab_focus(self->area);
    self->last_x = x;
    self->last_y = y;
    if (button == GDK_BUTTON_MIDDLE || (button == GDK_BUTTON_SECONDARY && state & GDK_SHIFT_MASK)) {
        self->drag = NW_DRAG_PAN;
    } else if (button == GDK_BUTTON_PRIMARY && !(state & GDK_ALT_MASK) &&
               part_at(self, x, y, &part)) {
        NwTouch touch = nw_stroke_touch(self->stage, state, button);
        self->drag = NW_DRAG_NONE;
        if (!nw_stroke_may_begin(self->stage, touch))
            return;
        self->drag = NW_DRAG_PAINT;
        nw_document_begin_stroke(nw_stage_get_document(self->stage), touch);
        paint_at(self, x, y);
    } else {
        self->drag = NW_DRAG_ORBIT;
    }
}

static void on_drag_update(GtkGestureDrag *gesture, double dx, double dy, NwViewport *self) {
    double x, y;
    int width, height;
    gtk_gesture_drag_get_start_point(gesture, &x, &y);
    x += dx;
    y += dy;
    size_of(self, &width, &height);
    switch (self->drag) {
    case NW_DRAG_PAINT:
        paint_at(self, x, y);
        break;
    case NW_DRAG_ORBIT:
        nw_camera_orbit(&self->camera, x - self->last_x, y - self->last_y);
        nw_viewport_moved(self, FALSE);
        break;
    case NW_DRAG_PAN:
        nw_camera_pan(&self->camera, x - self->last_x, y - self->last_y, height);
        nw_viewport_moved(self, TRUE);
        break;
    case NW_DRAG_NONE:
        break;
    }
    self->last_x = x;
    self->last_y = y;
}

static void on_drag_end(NwViewport *self) {
    if (self->drag == NW_DRAG_PAINT)
        nw_document_end_stroke(nw_stage_get_document(self->stage));
    self->drag = NW_DRAG_NONE;
}

static void on_drag_cancel(NwViewport *self) {
    if (self->drag == NW_DRAG_PAINT)
        nw_document_cancel_stroke(nw_stage_get_document(self->stage));
    self->drag = NW_DRAG_NONE;
}

/* ---- pointing and zooming ---------------------------------------------------------------- */

/* When something moves under a pointer at rest, that is no wish to point elsewhere. */
static void on_motion(NwViewport *self, double x, double y) {
    NwPart part;
    gboolean moved = x != self->last_x || y != self->last_y;
    self->last_x = x;
    self->last_y = y;
    if (self->stage && moved && self->drag != NW_DRAG_ORBIT && self->drag != NW_DRAG_PAN)
        nw_stage_set_hover(self->stage, part_at(self, x, y, &part) ? &part : NULL);
}

static void on_leave(NwViewport *self) {
    if (self->stage)
        nw_stage_set_hover(self->stage, NULL);
}

static void zoom(NwViewport *self, double factor, double x, double y) {
    int width, height;
    size_of(self, &width, &height);
    nw_camera_zoom(&self->camera, factor, x, y, width, height);
    nw_viewport_moved(self, TRUE);
}

static gboolean on_scroll(NwViewport *self, double dx, double dy) {
    (void)dx;
    zoom(self, exp(-0.12 * dy), self->last_x, self->last_y);
    return TRUE;
}

static void on_pinch(NwViewport *self, double scale) {
    int width, height;
    size_of(self, &width, &height);
    zoom(self, scale / self->zoom_before, width / 2.0, height / 2.0);
    self->zoom_before = scale;
}

static void on_pinch_begin(NwViewport *self) {
    self->zoom_before = 1;
}

/* ---- keys -------------------------------------------------------------------------------- */

static const struct {
    guint key;
    const char *view;
} views[] = {
    {GDK_KEY_Home, "home"}, {GDK_KEY_1, "+x"},   {GDK_KEY_2, "-x"}, {GDK_KEY_3, "+y"},
    {GDK_KEY_4, "-y"},      {GDK_KEY_5, "+z"},   {GDK_KEY_6, "-z"}, {GDK_KEY_7, "+x+y+z"},
    {GDK_KEY_8, "-x-y-z"},  {GDK_KEY_9, "edge"},
};

static const struct {
    guint key;
    int dx, dy;
} arrows[] = {
    {GDK_KEY_Left, -1, 0}, {GDK_KEY_Right, 1, 0}, {GDK_KEY_Up, 0, -1}, {GDK_KEY_Down, 0, 1}};

static gboolean on_arrow(NwViewport *self, int dx, int dy, GdkModifierType state) {
    enum { STEP = 24 };
    int width, height;
    size_of(self, &width, &height);
    gboolean pan = state & GDK_SHIFT_MASK;
    if (pan)
        nw_camera_pan(&self->camera, STEP * dx, STEP * dy, height);
    else
        nw_camera_orbit(&self->camera, STEP * dx, STEP * dy);
    nw_viewport_moved(self, pan);
    return TRUE;
}

static gboolean on_key(NwViewport *self, guint key, guint code, GdkModifierType state) {
    int width, height;
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
    size_of(self, &width, &height);
    switch (key) {
    case GDK_KEY_plus:
    case GDK_KEY_equal:
    case GDK_KEY_KP_Add:
        zoom(self, 1.15, width / 2.0, height / 2.0);
        return TRUE;
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
        zoom(self, 1 / 1.15, width / 2.0, height / 2.0);
        return TRUE;
    case GDK_KEY_0:
    case GDK_KEY_KP_0:
        nw_viewport_show_all(self);
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

    GtkEventController *keys = gtk_event_controller_key_new();
    g_signal_connect_swapped(keys, "key-pressed", G_CALLBACK(on_key), self);
    add(self, keys);
}
