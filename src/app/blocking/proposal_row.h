/* A row for one proposal: what changes, how it kills, what is left, and how it was proved. Its
 * button activates "block.apply" with the number of the row. Thread: the main one. */
#ifndef NW_APP_BLOCKING_PROPOSAL_ROW_H
#define NW_APP_BLOCKING_PROPOSAL_ROW_H

#include <gtk/gtk.h>

#include "session/view_state.h"

/* `number` counts from 0. */
GtkWidget *nw_proposal_row_new(NwProposalItem *advice, NwViewState *view_state, guint number);

/* The proposal of a row; borrowed. */
NwProposalItem *nw_proposal_row_get(GtkWidget *row);

#endif
