/* Widgets of ours that hold others: what a template lists as a child becomes one.
 *
 *     G_IMPLEMENT_INTERFACE(GTK_TYPE_BUILDABLE, nw_container_buildable_init)
 *
 * For classes that derive from GtkWidget itself. Thread: the main one. */
#ifndef NW_APP_COMMON_CONTAINER_H
#define NW_APP_COMMON_CONTAINER_H

#include <gtk/gtk.h>

G_BEGIN_DECLS

void nw_container_buildable_init(GtkBuildableIface *iface);

G_END_DECLS

#endif
