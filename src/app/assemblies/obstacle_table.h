/* A table of what stops each piece in each of the six directions, for one position on the way out
 * of an assembly. A row for each piece that is still together with another. A cell that is pointed
 * at, or reached by keys, lights the parts that do the stopping on the view state; below the table
 * stands in words which they are and what would have to go along. A pressed cell stays so. */
#ifndef NW_APP_ASSEMBLIES_OBSTACLE_TABLE_H
#define NW_APP_ASSEMBLIES_OBSTACLE_TABLE_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_OBSTACLE_TABLE (nw_obstacle_table_get_type())
G_DECLARE_FINAL_TYPE(NwObstacleTable, nw_obstacle_table, NW, OBSTACLE_TABLE, GtkWidget)

/* It follows the view state while that wants it (nw_view_state_get_obstacles). */
void nw_obstacle_table_set_view_state(NwObstacleTable *self, NwViewState *view_state);

G_END_DECLS

#endif
