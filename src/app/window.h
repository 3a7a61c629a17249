/* The window: it owns the document, the search and the view state, and lays out the panels. Its
 * actions are in window_actions.c. Thread: the main one. */
#ifndef NW_APP_WINDOW_H
#define NW_APP_WINDOW_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_WINDOW (nw_window_get_type())
G_DECLARE_FINAL_TYPE(NwWindow, nw_window, NW, WINDOW, GtkApplicationWindow)

/* The library is borrowed and must outlive the window. */
NwWindow *nw_window_new(GtkApplication *app, NwLibrary *library);

/* Opens the design that was open last, or shows the start page. */
void nw_window_open_last(NwWindow *self);

/* Before anything that lets go of the design on the bench, like quitting: where the window has the
 * only copy of it, asks whether to keep it, and goes on only once that is settled. `data` is freed
 * in any case; `free` may be NULL. */
typedef void NwWindowThen(NwWindow *self, gpointer data);
void nw_window_before_drop(NwWindow *self, NwWindowThen *then, gpointer data, GDestroyNotify free);

/* Reads a design file into the store and opens it. */
void nw_window_open_file(NwWindow *self, const char *path);

/* Says why something that was to be opened is not, on the start page if no design is open. */
void nw_window_refuse_file(NwWindow *self, const char *sentence);

G_END_DECLS

#endif
