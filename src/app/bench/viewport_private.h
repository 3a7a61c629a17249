/* What viewport.c, viewport_camera.c and viewport_input.c share. Places are pixels of the drawing
 * area, from its upper left corner. */
#ifndef NW_APP_BENCH_VIEWPORT_PRIVATE_H
#define NW_APP_BENCH_VIEWPORT_PRIVATE_H

#include "app/bench/viewport.h"
#include "app/bench/viewport_scene.h"
#include "view/painter.h"

/* What the pointer is doing while a button is down. */
typedef enum NwDrag { NW_DRAG_NONE, NW_DRAG_PAINT, NW_DRAG_ORBIT, NW_DRAG_PAN } NwDrag;

struct _NwViewport {
    GtkWidget parent;
    NwViewState *view_state;
    GtkWidget *overlay, *area, *trouble, *tools;
    NwViewportScene scene;
    NwPainter *painter;
    NwCamera camera;
    gboolean follow; /* the camera keeps all in view until it is shifted by hand */
    gboolean turned; /* since it last fitted */
    gboolean adrift; /* the target is nowhere in particular */
    double fitting;  /* the distance at which all fitted last */
    double slack;    /* how many times as far away it stands */
    gboolean stale_scene, stale_place, stale_marks, stale_camera;
    gint64 fitted_design;
    gboolean fine; /* draw with several samples a pixel: only while nothing moves */
    guint refine;  /* the timeout that brings that about, or 0 */
    NwDrag drag;
    double drag_x, drag_y;       /* where the drag has come to */
    double pointer_x, pointer_y; /* where the pointer is */
    gboolean second_press;       /* of a double click: it paints nothing */
    gint64 version_before;       /* of the design, when the last stroke began */
    gint64 stroke_time;          /* of that, in microseconds */
    double zoom_before, angle_before;
};

/* Adds the controllers of mouse, touch pad and keys to the drawing area. */
void nw_viewport_add_input(NwViewport *self);

/* Draws again, plainly first, finely when nothing has moved for a moment. */
void nw_viewport_draw(NwViewport *self);

/* The same where only marks are others: what is in view stays there. */
void nw_viewport_draw_marks(NwViewport *self);

/* ---- the camera (viewport_camera.c) ---- */

void nw_viewport_size(NwViewport *self, int *width, int *height); /* at least 1 */

/* Fits what the scene shows, unless the view was shifted by hand. */
void nw_viewport_follow(NwViewport *self);

/* For a picture of these proportions, which no buttons cover. */
NwCamera nw_viewport_picture_camera(NwViewport *self, double aspect);

/* Tells what is shown, for those who do not see it. */
void nw_viewport_describe(NwViewport *self);

/* By hand: all turn about what is looked at; zooming keeps what is seen at x, y there. */
void nw_viewport_begin_turn(NwViewport *self);
void nw_viewport_turn(NwViewport *self, double dx, double dy);
void nw_viewport_spin(NwViewport *self, double angle);
void nw_viewport_pan(NwViewport *self, double dx, double dy);
void nw_viewport_zoom(NwViewport *self, double factor, double x, double y);
void nw_viewport_zoom_middle(NwViewport *self, double factor);

/* Brings the body seen at x, y to the middle; FALSE if there is none. */
gboolean nw_viewport_look_at(NwViewport *self, double x, double y);

void nw_viewport_show_all(NwViewport *self);
void nw_viewport_set_view(NwViewport *self, const char *viewpoint);

#endif
