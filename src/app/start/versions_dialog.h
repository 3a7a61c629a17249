/* The versions of the design on the bench: those with a name first, then the history, newest first.
 * The chosen one is compared part by part with the one on the bench or with the one it was made
 * from, can be given a name, and can be gone to. What cannot be done is told by the document's
 * "trouble". Thread: the main one. */
#ifndef NW_APP_START_VERSIONS_DIALOG_H
#define NW_APP_START_VERSIONS_DIALOG_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_VERSIONS_DIALOG (nw_versions_dialog_get_type())
G_DECLARE_FINAL_TYPE(NwVersionsDialog, nw_versions_dialog, NW, VERSIONS_DIALOG, GtkWindow)

GtkWidget *nw_versions_dialog_new(GtkWindow *parent, NwViewState *view_state);

G_END_DECLS

#endif
