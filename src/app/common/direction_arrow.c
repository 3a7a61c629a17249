#include "app/common/direction_arrow.h"

#include <math.h>

#include "slide/direction.h"

enum { SIZE = 24 };

struct _NwDirectionArrow {
    GtkWidget parent;
    int direction;
    gboolean out; /* a bar at its tail: away for ever */
};

G_DEFINE_FINAL_TYPE(NwDirectionArrow, nw_direction_arrow, GTK_TYPE_WIDGET)

/* Where one step leads on the screen, y downwards, of length 1. */
static void project(int direction, double *x, double *y) {
    NwVec step = nw_direction_step(direction);
    double right = 0.87 * (step.x + step.y), down = 0.5 * (step.x - step.y) - step.z;
    double length = hypot(right, down);
    *x = right / length;
    *y = down / length;
}

static void nw_direction_arrow_snapshot(GtkWidget *widget, GtkSnapshot *snapshot) {
    NwDirectionArrow *self = NW_DIRECTION_ARROW(widget);
    int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
    double x, y, reach = SIZE / 2.0 - 3;
    GdkRGBA colour;
    project(self->direction, &x, &y);
    gtk_style_context_get_color(gtk_widget_get_style_context(widget), &colour);
    cairo_t *cr =
        gtk_snapshot_append_cairo(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
    gdk_cairo_set_source_rgba(cr, &colour);
    cairo_translate(cr, width / 2.0, height / 2.0);
    cairo_rotate(cr, atan2(y, x));
    cairo_set_line_width(cr, 2);
    cairo_set_line_cap(cr, CAIRO_LINE_CAP_ROUND);
    cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
    cairo_move_to(cr, -reach, 0);
    cairo_line_to(cr, reach, 0);
    cairo_move_to(cr, reach - 5, -4);
    cairo_line_to(cr, reach, 0);
    cairo_line_to(cr, reach - 5, 4);
    if (self->out) {
        cairo_move_to(cr, -reach, -5);
        cairo_line_to(cr, -reach, 5);
    }
    cairo_stroke(cr);
    cairo_destroy(cr);
}

static void nw_direction_arrow_measure(GtkWidget *widget, GtkOrientation orientation, int for_size,
                                       int *minimum, int *natural, int *minimum_baseline,
                                       int *natural_baseline) {
    (void)widget;
    (void)orientation;
    (void)for_size;
    *minimum = *natural = SIZE;
    *minimum_baseline = *natural_baseline = -1;
}

static void nw_direction_arrow_class_init(NwDirectionArrowClass *class) {
    GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
    widget_class->snapshot = nw_direction_arrow_snapshot;
    widget_class->measure = nw_direction_arrow_measure;
    gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void nw_direction_arrow_init(NwDirectionArrow *self) {
    gtk_widget_set_valign(GTK_WIDGET(self), GTK_ALIGN_CENTER);
}

GtkWidget *nw_direction_arrow_new(int direction, gboolean out) {
    NwDirectionArrow *self = g_object_new(NW_TYPE_DIRECTION_ARROW, NULL);
    self->direction = direction;
    self->out = out;
    return GTK_WIDGET(self);
}
