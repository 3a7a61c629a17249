#include "app/making/product_row.h"

#include <glib/gi18n.h>

static GtkWidget *label_new(const char *text, const char *css_class) {
    GtkWidget *label = gtk_label_new(text);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_label_set_wrap(GTK_LABEL(label), TRUE);
    gtk_widget_add_css_class(label, css_class);
    return label;
}

GtkWidget *nw_product_row_new(const NwProduct *product) {
    GtkWidget *row = gtk_list_box_row_new(), *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 3);
    gtk_box_append(GTK_BOX(box), label_new(_(product->title), "heading"));
    gtk_box_append(GTK_BOX(box), label_new(_(product->brief), "product-brief"));
    gtk_list_box_row_set_child(GTK_LIST_BOX_ROW(row), box);
    gtk_accessible_update_property(GTK_ACCESSIBLE(row), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   _(product->title), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                   _(product->brief), -1);
    gtk_widget_add_css_class(row, "product-row");
    g_object_set_data(G_OBJECT(row), "product", (gpointer)product);
    return row;
}

const NwProduct *nw_product_row_get(GtkWidget *row) {
    return g_object_get_data(G_OBJECT(row), "product");
}
