#include "app/common/container.h"

static GtkBuildableIface *parent_buildable; /* that of GtkWidget */

static void add_child(GtkBuildable *buildable, GtkBuilder *builder, GObject *child,
                      const char *type) {
    if (GTK_IS_WIDGET(child))
        gtk_widget_set_parent(GTK_WIDGET(child), GTK_WIDGET(buildable));
    else
        parent_buildable->add_child(buildable, builder, child, type);
}

void nw_container_buildable_init(GtkBuildableIface *iface) {
    parent_buildable = g_type_interface_peek_parent(iface);
    iface->add_child = add_child;
}
