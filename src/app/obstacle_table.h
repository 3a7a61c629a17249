/* A table of what stops each piece in each of the six directions, for one position on the way out
 * of an assembly. A row for each piece that is still together with another; a press on a cell
 * tells, below the table, which parts do it and what would have to go along. */
#ifndef NW_APP_OBSTACLE_TABLE_H
#define NW_APP_OBSTACLE_TABLE_H

#include <gtk/gtk.h>

#include "job/finding.h"

G_BEGIN_DECLS

#define NW_TYPE_OBSTACLE_TABLE (nw_obstacle_table_get_type())
G_DECLARE_FINAL_TYPE(NwObstacleTable, nw_obstacle_table, NW, OBSTACLE_TABLE, GtkWidget)

/* Design and finding are borrowed for the call. */
void nw_obstacle_table_show(NwObstacleTable *self, const NwDesign *design, const NwFinding *finding,
                            int slides_done);

G_END_DECLS

#endif
