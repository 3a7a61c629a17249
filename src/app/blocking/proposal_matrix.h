/* The table of which proposal kills which cook: a line for each proposal, a column for each cook.
 * A cell that says "gone" is a button that lights the proposal with that cook.
 *
 * Thread: the main one. */
#ifndef NW_APP_BLOCKING_PROPOSAL_MATRIX_H
#define NW_APP_BLOCKING_PROPOSAL_MATRIX_H

#include <gtk/gtk.h>

#include "session/view_state.h"

enum { NW_PROPOSAL_MATRIX_MAX = 12 }; /* lines and columns */

/* Fills the grid anew; `advices` has NwProposalItem. Returns how many cooks the list of the search
 * has. */
guint nw_proposal_matrix_fill(GtkGrid *grid, NwViewState *view_state, GListModel *advices);

#endif
