/* The dialog of the outside shape: for a new design, or to change that of the design on the bench.
 *
 * The shape is a named solid with its sizes, or planes; a picture and figures follow what is
 * chosen. For a new design it ends by "design-made". For the design on the bench it shows what
 * would fall out of which piece, and then does it as one edit that can be undone.
 *
 * Signals:
 *   "design-made" (NwDesign, borrowed)   only for a new one; the dialog closes after it
 * Thread: the main one. */
#ifndef NW_APP_START_ENVELOPE_DIALOG_H
#define NW_APP_START_ENVELOPE_DIALOG_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_ENVELOPE_DIALOG (nw_envelope_dialog_get_type())
G_DECLARE_FINAL_TYPE(NwEnvelopeDialog, nw_envelope_dialog, NW, ENVELOPE_DIALOG, GtkWindow)

/* `view state` NULL: a new design; else for the design that it shows. */
GtkWidget *nw_envelope_dialog_new(GtkWindow *parent, NwViewState *view_state);

/* The store that the new design will go to, borrowed: a name that it has already is refused here
 * and now. */
void nw_envelope_dialog_set_library(NwEnvelopeDialog *self, NwLibrary *library);

G_END_DECLS

#endif
