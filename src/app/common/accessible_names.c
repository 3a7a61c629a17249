#include "app/common/accessible_names.h"

void nw_accessible_name_once(GtkWidget *widget) {
    if (GTK_IS_BUTTON(widget) && gtk_button_get_use_underline(GTK_BUTTON(widget)))
        gtk_accessible_reset_property(GTK_ACCESSIBLE(widget), GTK_ACCESSIBLE_PROPERTY_LABEL);
    for (GtkWidget *child = gtk_widget_get_first_child(widget); child;
         child = gtk_widget_get_next_sibling(child))
        nw_accessible_name_once(child);
}
