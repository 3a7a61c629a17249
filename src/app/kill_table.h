/* The table of which proposal kills which cook: a line for each proposal, a column for each cook.
 * A cell that says "gone" is a button that lights the proposal with that cook.
 *
 * Thread: the main one. */
#ifndef NW_APP_KILL_TABLE_H
#define NW_APP_KILL_TABLE_H

#include <gtk/gtk.h>

#include "app/stage.h"

enum { NW_KILL_TABLE_MAX = 12 }; /* lines and columns */

/* Fills the grid anew; `advices` has NwAdvice. Returns how many cooks the list of the hunt has. */
guint nw_kill_table_fill(GtkGrid *grid, NwStage *stage, GListModel *advices);

#endif
