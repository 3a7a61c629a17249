/* The window that tells what one part does. Closing it gives the search up.
 *
 * Thread: the main one. */
#ifndef NW_APP_ASSEMBLIES_EXPLAIN_DIALOG_H
#define NW_APP_ASSEMBLIES_EXPLAIN_DIALOG_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_EXPLAIN_DIALOG (nw_explain_dialog_get_type())
G_DECLARE_FINAL_TYPE(NwExplainDialog, nw_explain_dialog, NW, EXPLAIN_DIALOG, GtkWindow)

/* The design has an intended assembly. */
GtkWidget *nw_explain_dialog_new(GtkWindow *parent, NwViewState *view_state, NwPart part);

G_END_DECLS

#endif
