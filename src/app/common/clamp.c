#include "app/common/clamp.h"

#include "app/common/container.h"

struct _NwClamp {
    GtkWidget parent;
};

G_DEFINE_FINAL_TYPE_WITH_CODE(NwClamp, nw_clamp, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(GTK_TYPE_BUILDABLE,
                                                    nw_container_buildable_init))

static GtkSizeRequestMode nw_clamp_get_request_mode(GtkWidget *widget) {
    return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void nw_clamp_measure(GtkWidget *widget, GtkOrientation orientation, int for_size,
                             int *minimum, int *natural, int *minimum_baseline,
                             int *natural_baseline) {
    GtkWidget *child = gtk_widget_get_first_child(widget);
    gboolean across = orientation == GTK_ORIENTATION_HORIZONTAL;
    int size = across || for_size < 0 ? -1 : MIN(for_size, NW_COLUMN_WIDTH);
    gtk_widget_measure(child, orientation, size, minimum, natural, NULL, NULL);
    if (across)
        *natural = MAX(*minimum, NW_COLUMN_WIDTH);
    *minimum_baseline = *natural_baseline = -1;
}

static void nw_clamp_size_allocate(GtkWidget *widget, int width, int height, int baseline) {
    int used = MIN(width, NW_COLUMN_WIDTH);
    GtkAllocation place = {(width - used) / 2, 0, used, height};
    gtk_widget_size_allocate(gtk_widget_get_first_child(widget), &place, -1);
}

static void nw_clamp_dispose(GObject *object) {
    GtkWidget *child = gtk_widget_get_first_child(GTK_WIDGET(object));
    g_clear_pointer(&child, gtk_widget_unparent);
    G_OBJECT_CLASS(nw_clamp_parent_class)->dispose(object);
}

static void nw_clamp_class_init(NwClampClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_clamp_dispose;
    widget->get_request_mode = nw_clamp_get_request_mode;
    widget->measure = nw_clamp_measure;
    widget->size_allocate = nw_clamp_size_allocate;
}

static void nw_clamp_init(NwClamp *self) {
    (void)self;
}
