/* How hard the design on the bench is, who tried it, and how the two go together: the pages of
 * measures, trials and, where it was built with the makers' libraries, the plot. Thread: the main
 * one. */
#ifndef NW_APP_DIFFICULTY_DIFFICULTY_DIALOG_H
#define NW_APP_DIFFICULTY_DIFFICULTY_DIALOG_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_DIFFICULTY_DIALOG (nw_difficulty_dialog_get_type())
G_DECLARE_FINAL_TYPE(NwDifficultyDialog, nw_difficulty_dialog, NW, DIFFICULTY_DIALOG, GtkWindow)

/* The parent has the action win.search. */
GtkWidget *nw_difficulty_dialog_new(GtkWindow *parent, NwViewState *view_state);

G_END_DECLS

#endif
