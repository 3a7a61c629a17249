#include <glib/gi18n.h>
#include <stdlib.h>

#include "app/bench/viewport_private.h"
#include "view/viewpoint.h"

enum { MARGIN_PERCENT = 8, MARGIN_PIXELS = 12, LEAST_ROOM = 48 };

/* ---- keeping all in view ----------------------------------------------------------------- */

void nw_viewport_size(NwViewport *self, int *width, int *height) {
    *width = MAX(1, gtk_widget_get_width(self->area));
    *height = MAX(1, gtk_widget_get_height(self->area));
}

/* What the buttons leave, in however many rows they are. */
static NwCameraRoom room_of(NwViewport *self) {
    int width, height;
    graphene_rect_t tools;
    nw_viewport_size(self, &width, &height);
    NwCameraRoom room = {.width = width, .height = height};
    if (gtk_widget_compute_bounds(self->tools, self->area, &tools))
        room.top = CLAMP((double)(tools.origin.y + tools.size.height), 0,
                         MAX(height / 2.0, height - LEAST_ROOM));
    return room;
}

/* As a share of the room, which may be small. */
static double margin_of(const NwCameraRoom *room) {
    double least = MIN(room->width, room->height - room->top);
    return MAX(MARGIN_PERCENT / 100.0, MARGIN_PIXELS / least);
}

/* Named views show the solid as large as it can be. Turned by hand from there it would grow and
 * shrink with every step, if it were fitted anew: so the camera only draws back where it must, and
 * what it has drawn back it keeps, as `slack`. */
void nw_viewport_follow(NwViewport *self) {
    double(*points)[3], held = self->camera.distance;
    if (!self->follow)
        return;
    NwCameraRoom room = room_of(self);
    size_t count = nw_scene_points(self->scene.scene, &points);
    if (count) {
        nw_camera_fit_room(&self->camera, (const double(*)[3])points, count, &room,
                           margin_of(&room));
        self->fitting = self->camera.distance;
        if (self->turned)
            self->slack = MAX(1, held / self->fitting);
        self->camera.distance *= self->slack;
    }
    self->turned = FALSE;
    free(points);
}

NwCamera nw_viewport_picture_camera(NwViewport *self, double aspect) {
    NwCamera camera = self->camera;
    double(*points)[3];
    if (!self->follow)
        return camera;
    size_t count = nw_scene_points(self->scene.scene, &points);
    nw_camera_fit_tight(&camera, (const double(*)[3])points, count, aspect, MARGIN_PERCENT / 100.0);
    free(points);
    return camera;
}

/* ---- in words ---------------------------------------------------------------------------- */

static char *dup_shown(NwViewport *self) {
    NwAssemblyItem *item = self->view_state ? nw_view_state_get_item(self->view_state) : NULL;
    gsize kill;
    guint number = item ? nw_assembly_item_get_number(item) : 0;
    if (number)
        return g_strdup_printf(_("Assembly %u, slide %.2f of %d"), number,
                               nw_view_state_get_position(self->view_state),
                               nw_view_state_get_slides(self->view_state));
    if (item)
        return g_strdup_printf(_("An assembly, slide %.2f of %d"),
                               nw_view_state_get_position(self->view_state),
                               nw_view_state_get_slides(self->view_state));
    return self->view_state && nw_view_state_get_proposal(self->view_state, &kill)
               ? g_strdup(_("Sketch with a proposal highlighted, beside the cook"))
               : g_strdup(_("Sketch"));
}

void nw_viewport_describe(NwViewport *self) {
    char *what = dup_shown(self);
    gsize stops = 0;
    if (self->view_state)
        nw_view_state_get_stops(self->view_state, &stops);
    char *text =
        g_strdup_printf(stops ? _("%s, what stops a piece is outlined; turned %.0f°, tilted %.0f°")
                              : _("%s; turned %.0f°, tilted %.0f°"),
                        what, self->camera.yaw * 180 / G_PI, self->camera.pitch * 180 / G_PI);
    if (!self->follow && self->fitting > 0) {
        char *size = g_strdup_printf(_("%s, %.0f %% of the size that fits"), text,
                                     100 * self->fitting / self->camera.distance);
        g_free(text);
        text = size;
    }
    gtk_accessible_update_property(GTK_ACCESSIBLE(self->area), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                   text, -1);
    g_free(text);
    g_free(what);
}

/* ---- moving it --------------------------------------------------------------------------- */

static void show(NwViewport *self) {
    nw_viewport_describe(self);
    nw_viewport_draw(self);
}

static void take_in_hand(NwViewport *self) {
    self->follow = FALSE;
    self->adrift = TRUE;
    show(self);
}

static void middle_of_view(NwViewport *self, double *x, double *y) {
    int width, height;
    double seen[2];
    nw_viewport_size(self, &width, &height);
    nw_camera_pixel(&self->camera, self->camera.target, width, height, seen);
    *x = seen[0];
    *y = seen[1];
}

/* What is seen at that place; FALSE for nothing. */
static gboolean get_seen(NwViewport *self, double x, double y, NwScenePick *pick, double point[3]) {
    int width, height;
    nw_viewport_size(self, &width, &height);
    NwRay ray = nw_camera_ray(&self->camera, x, y, width, height);
    if (!nw_scene_pick(self->scene.scene, &ray, pick))
        return FALSE;
    for (int k = 0; k < 3; k++)
        point[k] = ray.origin[k] + pick->pick.distance * ray.way[k];
    return TRUE;
}

/* After the view was shifted the target is nowhere in particular: it goes to what is seen in the
 * middle, or else as deep as the middle of all. */
void nw_viewport_begin_turn(NwViewport *self) {
    double x, y, point[3], radius;
    NwScenePick pick;
    if (!self->adrift)
        return;
    middle_of_view(self, &x, &y);
    if (!get_seen(self, x, y, &pick, point))
        nw_scene_ball(self->scene.scene, point, &radius);
    nw_camera_deepen(&self->camera, point);
    self->adrift = FALSE;
}

void nw_viewport_turn(NwViewport *self, double dx, double dy) {
    nw_viewport_begin_turn(self);
    nw_camera_orbit(&self->camera, dx, dy);
    self->turned = TRUE;
    show(self);
}

void nw_viewport_spin(NwViewport *self, double angle) {
    nw_viewport_begin_turn(self);
    nw_camera_spin(&self->camera, angle);
    self->turned = TRUE;
    show(self);
}

void nw_viewport_pan(NwViewport *self, double dx, double dy) {
    int width, height;
    nw_viewport_size(self, &width, &height);
    nw_camera_pan(&self->camera, dx, dy, height);
    take_in_hand(self);
}

/* It draws near to what is seen there, and so never passes through it. */
void nw_viewport_zoom(NwViewport *self, double factor, double x, double y) {
    int width, height;
    double point[3];
    NwScenePick pick;
    nw_viewport_size(self, &width, &height);
    if (get_seen(self, x, y, &pick, point))
        nw_camera_deepen(&self->camera, point);
    nw_camera_zoom(&self->camera, factor, x, y, width, height);
    take_in_hand(self);
}

void nw_viewport_zoom_middle(NwViewport *self, double factor) {
    double x, y;
    middle_of_view(self, &x, &y);
    nw_viewport_zoom(self, factor, x, y);
}

gboolean nw_viewport_look_at(NwViewport *self, double x, double y) {
    double point[3], middle[3];
    NwScenePick pick;
    if (!get_seen(self, x, y, &pick, point))
        return FALSE;
    nw_scene_middle(self->scene.scene, pick.body, middle);
    nw_camera_deepen(&self->camera, middle);
    nw_camera_look_at(&self->camera, middle);
    take_in_hand(self);
    self->adrift = FALSE;
    return TRUE;
}

void nw_viewport_show_all(NwViewport *self) {
    self->follow = TRUE;
    self->turned = self->adrift = FALSE;
    self->slack = 1;
    show(self);
}

void nw_viewport_set_view(NwViewport *self, const char *viewpoint) {
    nw_viewpoint_set(&self->camera, viewpoint);
    nw_viewport_show_all(self);
}

void nw_viewport_reset(NwViewport *self) {
    self->camera = nw_camera_home();
    nw_viewport_show_all(self);
}
