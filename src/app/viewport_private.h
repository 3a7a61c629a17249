/* What viewport.c and viewport_input.c share. */
#ifndef NW_APP_VIEWPORT_PRIVATE_H
#define NW_APP_VIEWPORT_PRIVATE_H

#include "app/viewport.h"
#include "app/viewport_scene.h"
#include "view/painter.h"

/* What the pointer is doing while a button is down. */
typedef enum NwDrag { NW_DRAG_NONE, NW_DRAG_PAINT, NW_DRAG_ORBIT, NW_DRAG_PAN } NwDrag;

struct _NwViewport {
    GtkWidget parent;
    NwStage *stage;
    GtkWidget *overlay, *area, *trouble, *tools;
    NwViewportScene scene;
    NwPainter *painter;
    NwCamera camera;
    gboolean follow; /* the camera keeps all in view until it is moved by hand */
    gboolean stale_scene, stale_place, stale_marks;
    gint64 fitted_design;
    gboolean fine; /* draw with several samples a pixel: only while nothing moves */
    guint refine;  /* the timeout that brings that about, or 0 */
    NwDrag drag;
    double last_x, last_y;
    double zoom_before;
};

/* Adds the controllers of mouse, touch pad and keys to the drawing area. */
void nw_viewport_add_input(NwViewport *self);

/* Draws again, plainly first, finely when nothing has moved for a moment. */
void nw_viewport_draw(NwViewport *self);

/* The camera moved by hand, or all was asked for: draw again. */
void nw_viewport_moved(NwViewport *self, gboolean by_hand);
void nw_viewport_show_all(NwViewport *self);
void nw_viewport_set_view(NwViewport *self, const char *viewpoint);

#endif
