/* A row of controls that goes on in another line where it is too narrow. Each child has its natural
 * width, and those that expand share what is left of their line. So the least width is that of the
 * widest child. Property: "spacing", in pixels, between children and between lines. Owns its
 * children; they are added in a template. Thread: the main one. */
#ifndef NW_APP_COMMON_WRAP_H
#define NW_APP_COMMON_WRAP_H

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define NW_TYPE_WRAP (nw_wrap_get_type())
G_DECLARE_FINAL_TYPE(NwWrap, nw_wrap, NW, WRAP, GtkWidget)

G_END_DECLS

#endif
