/* The quiet line below the view: how the assembly that the design shows comes apart, without any
 * search for others. It is looked at anew after each edit, for some moments; the button goes on for
 * as long as it takes, and lays the way out on the view state.
 * Thread: the main one. */
#ifndef NW_APP_BENCH_APART_LINE_H
#define NW_APP_BENCH_APART_LINE_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_APART_LINE (nw_apart_line_get_type())
G_DECLARE_FINAL_TYPE(NwApartLine, nw_apart_line, NW, APART_LINE, GtkWidget)

/* Once. */
void nw_apart_line_set_view_state(NwApartLine *self, NwViewState *view_state);

/* What the button does: takes apart, stops, or goes back to the sketch. */
void nw_apart_line_press(NwApartLine *self);

G_END_DECLS

#endif
