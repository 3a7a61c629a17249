/* The form for one trial, new or noted before. It stays open, with all that was typed, until the
 * store has it.
 *
 * Signal "saved": the log is another.
 * Thread: the main one. */
#ifndef NW_APP_DIFFICULTY_TRIAL_FORM_H
#define NW_APP_DIFFICULTY_TRIAL_FORM_H

#include <gtk/gtk.h>

#include "store/trials.h"

G_BEGIN_DECLS

#define NW_TYPE_TRIAL_FORM (nw_trial_form_get_type())
G_DECLARE_FINAL_TYPE(NwTrialForm, nw_trial_form, NW, TRIAL_FORM, GtkWindow)

/* The trial is looked at, not kept; with id 0 it is a new one of its design. The library is
 * borrowed and must outlive the form. */
GtkWidget *nw_trial_form_new(GtkWindow *parent, NwLibrary *library, const NwStoredTrial *trial);

G_END_DECLS

#endif
