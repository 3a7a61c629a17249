#include "app/assemblies/state_mark.h"

#include <math.h>

enum { SIZE = 16 };

struct _NwStateMark {
    GtkWidget parent;
    NwAssemblyState state;
    gboolean opens;
};

G_DEFINE_FINAL_TYPE(NwStateMark, nw_state_mark, GTK_TYPE_WIDGET)

static void draw_star(cairo_t *cr, gboolean filled) {
    for (int i = 0; i < 10; i++) {
        double radius = i % 2 ? 2.8 : 6.8, angle = (i * 36 - 90) * G_PI / 180;
        cairo_line_to(cr, radius * cos(angle), 0.5 + radius * sin(angle));
    }
    cairo_close_path(cr);
    if (filled)
        cairo_fill(cr);
    else
        cairo_stroke(cr);
}

static void draw_triangle(cairo_t *cr) {
    cairo_move_to(cr, 0, -6);
    cairo_line_to(cr, 6.2, 5);
    cairo_line_to(cr, -6.2, 5);
    cairo_close_path(cr);
    cairo_fill(cr);
}

static void draw_open_ring(cairo_t *cr) {
    cairo_arc(cr, 0, 0, 5.2, -0.15 * G_PI, 1.45 * G_PI);
    cairo_stroke(cr);
}

static void draw_dots(cairo_t *cr) {
    for (int i = -1; i <= 1; i++) {
        cairo_arc(cr, 4.8 * i, 0, 1.5, 0, 2 * G_PI);
        cairo_fill(cr);
    }
}

static void draw_barred_ring(cairo_t *cr) {
    cairo_arc(cr, 0, 0, 5.2, 0, 2 * G_PI);
    cairo_move_to(cr, -3.7, 3.7);
    cairo_line_to(cr, 3.7, -3.7);
    cairo_stroke(cr);
}

static void draw(NwStateMark *self, cairo_t *cr) {
    switch (self->state) {
    case NW_STATE_INTENDED:
        draw_star(cr, self->opens);
        break;
    case NW_STATE_COOK:
        draw_triangle(cr);
        break;
    case NW_STATE_OPENS:
        draw_open_ring(cr);
        break;
    case NW_STATE_UNDECIDED:
        draw_dots(cr);
        break;
    default:
        draw_barred_ring(cr);
    }
}

static void nw_state_mark_snapshot(GtkWidget *widget, GtkSnapshot *snapshot) {
    int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
    GdkRGBA colour;
    gtk_style_context_get_color(gtk_widget_get_style_context(widget), &colour);
    cairo_t *cr =
        gtk_snapshot_append_cairo(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
    gdk_cairo_set_source_rgba(cr, &colour);
    cairo_translate(cr, width / 2.0, height / 2.0);
    cairo_set_line_width(cr, 1.6);
    draw(NW_STATE_MARK(widget), cr);
    cairo_destroy(cr);
}

static void nw_state_mark_measure(GtkWidget *widget, GtkOrientation orientation, int for_size,
                                  int *minimum, int *natural, int *minimum_baseline,
                                  int *natural_baseline) {
    (void)widget;
    (void)orientation;
    (void)for_size;
    *minimum = *natural = SIZE;
    *minimum_baseline = *natural_baseline = -1;
}

static void nw_state_mark_class_init(NwStateMarkClass *class) {
    GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
    widget_class->snapshot = nw_state_mark_snapshot;
    widget_class->measure = nw_state_mark_measure;
    gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
    gtk_widget_class_set_css_name(widget_class, "statemark");
}

static void nw_state_mark_init(NwStateMark *self) {
    self->state = NW_STATE_UNDECIDED;
}

GtkWidget *nw_state_mark_new(void) {
    return g_object_new(NW_TYPE_STATE_MARK, NULL);
}

void nw_state_mark_set_state(NwStateMark *self, NwAssemblyState state, gboolean opens) {
    if (self->state == state && self->opens == opens)
        return;
    self->state = state;
    self->opens = opens;
    gtk_widget_queue_draw(GTK_WIDGET(self));
}
