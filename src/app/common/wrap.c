#include "app/common/wrap.h"

#include "app/common/container.h"

struct _NwWrap {
    GtkWidget parent;
    int spacing;
};

/* A child in its place. */
typedef struct Item {
    GtkWidget *child;
    gboolean expands;
    int width, line;
} Item;

G_DEFINE_FINAL_TYPE_WITH_CODE(NwWrap, nw_wrap, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(GTK_TYPE_BUILDABLE,
                                                    nw_container_buildable_init))

/* ---- breaking the row into lines ---------------------------------------------------------- */

static GArray *items_new(NwWrap *self) {
    GArray *items = g_array_new(FALSE, TRUE, sizeof(Item));
    for (GtkWidget *child = gtk_widget_get_first_child(GTK_WIDGET(self)); child;
         child = gtk_widget_get_next_sibling(child)) {
        if (!gtk_widget_should_layout(child))
            continue;
        Item item = {child, gtk_widget_compute_expand(child, GTK_ORIENTATION_HORIZONTAL), 0, 0};
        gtk_widget_measure(child, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &item.width, NULL, NULL);
        g_array_append_val(items, item);
    }
    return items;
}

/* Hands what a line has left to those of it that expand. */
static void share(GArray *items, guint begin, guint end, int left) {
    int takers = 0;
    for (guint i = begin; i < end; i++)
        takers += g_array_index(items, Item, i).expands;
    for (guint i = begin; i < end && takers; i++) {
        Item *item = &g_array_index(items, Item, i);
        if (!item->expands)
            continue;
        int part = left / takers--;
        item->width += part;
        left -= part;
    }
}

/* The children with their lines and widths. No child is wider than the row. */
static GArray *lay_out(NwWrap *self, int width) {
    GArray *items = items_new(self);
    guint begin = 0;
    int used = 0, line = 0;
    for (guint i = 0; i < items->len; i++) {
        Item *item = &g_array_index(items, Item, i);
        item->width = MIN(item->width, width);
        if (i > begin && item->width > width - used - self->spacing) {
            share(items, begin, i, width - used);
            begin = i;
            line++;
        }
        used = i > begin ? used + self->spacing + item->width : item->width;
        item->line = line;
    }
    share(items, begin, items->len, width - used);
    return items;
}

/* The heights of the line that begins there; returns where the next one does. */
static guint measure_line(GArray *items, guint begin, int *minimum, int *natural) {
    guint end = begin;
    *minimum = *natural = 0;
    for (; end < items->len; end++) {
        const Item *item = &g_array_index(items, Item, end);
        if (item->line != g_array_index(items, Item, begin).line)
            break;
        int least, wish;
        gtk_widget_measure(item->child, GTK_ORIENTATION_VERTICAL, item->width, &least, &wish, NULL,
                           NULL);
        *minimum = MAX(*minimum, least);
        *natural = MAX(*natural, wish);
    }
    return end;
}

/* ---- the widget --------------------------------------------------------------------------- */

static GtkSizeRequestMode nw_wrap_get_request_mode(GtkWidget *widget) {
    (void)widget;
    return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void measure_width(NwWrap *self, int *minimum, int *natural) {
    *minimum = *natural = 0;
    for (GtkWidget *child = gtk_widget_get_first_child(GTK_WIDGET(self)); child;
         child = gtk_widget_get_next_sibling(child)) {
        if (!gtk_widget_should_layout(child))
            continue;
        int least, wish;
        gtk_widget_measure(child, GTK_ORIENTATION_HORIZONTAL, -1, &least, &wish, NULL, NULL);
        *minimum = MAX(*minimum, least);
        *natural += wish + (*natural ? self->spacing : 0);
    }
    *natural = MAX(*natural, *minimum);
}

static void nw_wrap_measure(GtkWidget *widget, GtkOrientation orientation, int for_size,
                            int *minimum, int *natural, int *minimum_baseline,
                            int *natural_baseline) {
    NwWrap *self = NW_WRAP(widget);
    *minimum_baseline = *natural_baseline = -1;
    int least, wish;
    measure_width(self, &least, &wish);
    if (orientation == GTK_ORIENTATION_HORIZONTAL) {
        *minimum = least;
        *natural = wish;
        return;
    }
    GArray *items = lay_out(self, for_size < 0 ? wish : MAX(for_size, least));
    *minimum = *natural = 0;
    for (guint i = 0; i < items->len;) {
        int gap = i ? self->spacing : 0, low, high;
        i = measure_line(items, i, &low, &high);
        *minimum += gap + low;
        *natural += gap + high;
    }
    g_array_free(items, TRUE);
}

static void nw_wrap_size_allocate(GtkWidget *widget, int width, int height, int baseline) {
    (void)baseline;
    NwWrap *self = NW_WRAP(widget);
    gboolean from_right = gtk_widget_get_direction(widget) == GTK_TEXT_DIR_RTL;
    GArray *items = lay_out(self, width);
    int top = 0;
    for (guint i = 0; i < items->len;) {
        int minimum, natural, left = 0;
        guint end = measure_line(items, i, &minimum, &natural);
        /* One line has all the height; of several each has what it needs, and the last the rest. */
        int high = end < items->len ? minimum : MAX(minimum, height - top);
        for (; i < end; i++) {
            const Item *item = &g_array_index(items, Item, i);
            GtkAllocation place = {from_right ? width - left - item->width : left, top, item->width,
                                   high};
            gtk_widget_size_allocate(item->child, &place, -1);
            left += item->width + self->spacing;
        }
        top += high + self->spacing;
    }
    g_array_free(items, TRUE);
}

enum { PROP_SPACING = 1, PROP_COUNT };

static void nw_wrap_get_property(GObject *object, guint id, GValue *value, GParamSpec *pspec) {
    (void)id;
    (void)pspec;
    g_value_set_int(value, NW_WRAP(object)->spacing);
}

static void nw_wrap_set_property(GObject *object, guint id, const GValue *value,
                                 GParamSpec *pspec) {
    (void)id;
    (void)pspec;
    NW_WRAP(object)->spacing = g_value_get_int(value);
    gtk_widget_queue_resize(GTK_WIDGET(object));
}

static void nw_wrap_dispose(GObject *object) {
    GtkWidget *child;
    while ((child = gtk_widget_get_first_child(GTK_WIDGET(object))))
        gtk_widget_unparent(child);
    G_OBJECT_CLASS(nw_wrap_parent_class)->dispose(object);
}

static void nw_wrap_class_init(NwWrapClass *class) {
    GObjectClass *object = G_OBJECT_CLASS(class);
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    object->dispose = nw_wrap_dispose;
    object->get_property = nw_wrap_get_property;
    object->set_property = nw_wrap_set_property;
    widget->get_request_mode = nw_wrap_get_request_mode;
    widget->measure = nw_wrap_measure;
    widget->size_allocate = nw_wrap_size_allocate;
    GParamSpec *spacing = g_param_spec_int("spacing", NULL, NULL, 0, 1000, 0,
                                           G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS);
    g_object_class_install_property(object, PROP_SPACING, spacing);
}

static void nw_wrap_init(NwWrap *self) {
    (void)self;
}
