/* The heart of the window: the solid in three dimensions, to turn about and to paint on.
 *
 * Mouse: the primary button paints (Shift takes away, Ctrl selects) where it is pressed on a part
 * of the sketch, and turns the view where it is pressed beside the solid, on an assembly, with Alt
 * held, or everywhere while the maker only looks (NW_TOUCH_LOOK); the secondary button turns, the
 * middle one (or the secondary with Shift) pans, the wheel zooms to the pointer. A double click on
 * a piece brings it to the middle, and what its first press painted is taken back. On a touch pad
 * or screen two fingers zoom to where they are, and turn. Keys: arrows turn, Shift and arrows pan,
 * plus and minus zoom, 0 shows all, Home resets the view, 1 to 9 go to named views. Turning goes
 * about what is looked at, and ends with the movement. If OpenGL cannot start the viewport says
 * why, and everything else of the window goes on. Thread: the main one. */
#ifndef NW_APP_BENCH_VIEWPORT_H
#define NW_APP_BENCH_VIEWPORT_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_VIEWPORT (nw_viewport_get_type())
G_DECLARE_FINAL_TYPE(NwViewport, nw_viewport, NW, VIEWPORT, GtkWidget)

void nw_viewport_set_view_state(NwViewport *self, NwViewState *view_state);

/* The view as it is when a design is opened: all of it, from the home direction. */
void nw_viewport_reset(NwViewport *self);

/* A still picture of what is shown, at twice the size of the viewport. */
gboolean nw_viewport_copy_picture(NwViewport *self, GError **error);
gboolean nw_viewport_save_picture(NwViewport *self, const char *path, GError **error);

G_END_DECLS

#endif
