/* A column of text and controls: its child is as wide as there is room, up to a width that is good
 * to read, and stands in the middle. Thread: the main one. */
#ifndef NW_APP_COMMON_CLAMP_H
#define NW_APP_COMMON_CLAMP_H

#include <gtk/gtk.h>

G_BEGIN_DECLS

enum { NW_COLUMN_WIDTH = 640 };

#define NW_TYPE_CLAMP (nw_clamp_get_type())
G_DECLARE_FINAL_TYPE(NwClamp, nw_clamp, NW, COLUMN, GtkWidget)

G_END_DECLS

#endif
