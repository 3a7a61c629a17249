/* The log of trials of the design on the bench: who tried it, when, and how it ended. Trials are
 * added, edited and removed here, and the log is saved as a table.
 *
 * Signals:
 *   "logged"   the log is another
 *   "trouble"  (message) something could not be done
 * Thread: the main one. */
#ifndef NW_APP_DIFFICULTY_TRIAL_PAGE_H
#define NW_APP_DIFFICULTY_TRIAL_PAGE_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_TRIAL_PAGE (nw_trial_page_get_type())
G_DECLARE_FINAL_TYPE(NwTrialPage, nw_trial_page, NW, TRIAL_PAGE, GtkWidget)

void nw_trial_page_set_view_state(NwTrialPage *self, NwViewState *view_state);

G_END_DECLS

#endif
