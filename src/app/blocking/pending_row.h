/* The last row of the list of proposals: the candidate that is being checked, and what is being
 * found out about it. It cannot be chosen or applied; once it is proved, its proposal stands where
 * it stood. Thread: the main one. */
#ifndef NW_APP_BLOCKING_PENDING_ROW_H
#define NW_APP_BLOCKING_PENDING_ROW_H

#include "session/block_session.h"
#include "session/view_state.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define NW_TYPE_PENDING_ROW (nw_pending_row_get_type())
G_DECLARE_FINAL_TYPE(NwPendingRow, nw_pending_row, NW, PENDING_ROW, GtkListBoxRow)

/* Follows the block session, and hides itself while nothing is being checked. */
GtkWidget *nw_pending_row_new(NwViewState *view_state, NwBlockSession *session);

G_END_DECLS

#endif
