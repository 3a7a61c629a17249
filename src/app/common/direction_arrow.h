/* An arrow for a direction of the lattice, drawn as the axes are seen from the right and above: x
 * to the right and down, y to the right and up, z up. Decoration: the direction's name ("+x")
 * stands beside it. */
#ifndef NW_APP_COMMON_DIRECTION_ARROW_H
#define NW_APP_COMMON_DIRECTION_ARROW_H

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define NW_TYPE_DIRECTION_ARROW (nw_direction_arrow_get_type())
G_DECLARE_FINAL_TYPE(NwDirectionArrow, nw_direction_arrow, NW, DIRECTION_ARROW, GtkWidget)

GtkWidget *nw_direction_arrow_new(int direction, gboolean out);

G_END_DECLS

#endif
