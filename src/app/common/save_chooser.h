/* Asking where to save a file. Thread: the main one. */
#ifndef NW_APP_COMMON_SAVE_CHOOSER_H
#define NW_APP_COMMON_SAVE_CHOOSER_H

#include <gtk/gtk.h>

/* Called with the file that was chosen, not if none was. */
typedef void NwSaveCall(const char *path, gpointer owner);

/* Asks over the window of `owner`, a widget, in place of what it asks already; what is still asked
 * when the owner goes is dropped. */
void nw_save_chooser_ask(GtkWidget *owner, const char *title, const char *name, NwSaveCall *call);

/* Writes the file. FALSE with an error in one sentence. */
gboolean nw_save_chooser_write(const char *path, const char *bytes, gsize size, GError **error);

#endif
