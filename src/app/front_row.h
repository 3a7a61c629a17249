/* The last row of the list of proposals: the candidate that is being checked, and what is being
 * found out about it. It cannot be chosen or applied; once it is proved, its proposal stands where
 * it stood. Thread: the main one. */
#ifndef NW_APP_FRONT_ROW_H
#define NW_APP_FRONT_ROW_H

#include "app/adviser.h"
#include "app/stage.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define NW_TYPE_FRONT_ROW (nw_front_row_get_type())
G_DECLARE_FINAL_TYPE(NwFrontRow, nw_front_row, NW, FRONT_ROW, GtkListBoxRow)

/* Follows the adviser, and hides itself while nothing is being checked. */
GtkWidget *nw_front_row_new(NwStage *stage, NwAdviser *adviser);

G_END_DECLS

#endif
