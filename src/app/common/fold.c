#include "app/common/fold.h"

#include <glib/gi18n.h>

typedef enum Level { ALL_PANES, TWO_PANES, ONE_PANE } Level;

struct _NwFold {
    GtkWidget parent;
    GtkWidget *bar, *content, *view;
    GtkWidget *buttons[NW_FOLD_PANES];
    GtkWidget *panes[NW_FOLD_PANES];
    Level level;
    NwFoldPane at;    /* gone to last */
    NwFoldPane aside; /* the same, of those at the sides */
    int height;       /* the least, as told */
    guint refolding;  /* idle source */
};

static void nw_fold_buildable(GtkBuildableIface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE(NwFold, nw_fold, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(GTK_TYPE_BUILDABLE, nw_fold_buildable))

static GtkBuildableIface *parent_buildable;

static void add_child(GtkBuildable *buildable, GtkBuilder *builder, GObject *child,
                      const char *type) {
    if (!GTK_IS_WIDGET(child)) {
        parent_buildable->add_child(buildable, builder, child, type);
        return;
    }
    NW_FOLD(buildable)->content = GTK_WIDGET(child);
    gtk_widget_set_parent(GTK_WIDGET(child), GTK_WIDGET(buildable));
}

static void nw_fold_buildable(GtkBuildableIface *iface) {
    parent_buildable = g_type_interface_peek_parent(iface);
    iface->add_child = add_child;
}

/* ---- what is in sight ---------------------------------------------------------------------- */

static gboolean is_shown(NwFold *self, NwFoldPane pane) {
    switch (self->level) {
    case TWO_PANES:
        return pane == NW_FOLD_VIEW || pane == self->aside;
    case ONE_PANE:
        return pane == self->at;
    default:
        return TRUE;
    }
}

/* The boxes, and the inner paned as soon as one of its two is to be seen. */
static void update(NwFold *self) {
    for (int i = 0; i < NW_FOLD_PANES; i++) {
        gboolean can_be_gone_to = i != NW_FOLD_VIEW || self->level == ONE_PANE;
        gtk_widget_set_visible(self->buttons[i], can_be_gone_to);
        gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->buttons[i]), is_shown(self, i));
        gtk_widget_set_visible(gtk_widget_get_parent(self->panes[i]), is_shown(self, i));
    }
    GtkWidget *inner = gtk_widget_get_ancestor(
        gtk_widget_get_parent(gtk_widget_get_parent(self->panes[NW_FOLD_VIEW])), GTK_TYPE_PANED);
    gtk_widget_set_visible(inner,
                           is_shown(self, NW_FOLD_VIEW) || is_shown(self, NW_FOLD_ASSEMBLIES));
    gtk_widget_set_visible(self->bar, self->level != ALL_PANES);
}

gboolean nw_fold_is_folded(NwFold *self) {
    return self->level != ALL_PANES;
}

void nw_fold_go_to(NwFold *self, NwFoldPane pane) {
    self->at = pane;
    if (pane != NW_FOLD_VIEW)
        self->aside = pane;
    update(self);
}

static void on_clicked(NwFold *self, GtkWidget *button) {
    for (int i = 0; i < NW_FOLD_PANES; i++)
        if (button == self->buttons[i])
            nw_fold_go_to(self, i);
}

/* ---- how much room there is ---------------------------------------------------------------- */

/* A pane asks for as much when it is folded away as when it is not. */
static int least(GtkWidget *widget, GtkOrientation orientation, int for_size) {
    int minimum;
    gtk_widget_measure(widget, orientation, for_size, &minimum, NULL, NULL, NULL);
    return minimum;
}

static Level level_for(NwFold *self, int width) {
    int divider = 8, wide[NW_FOLD_PANES];
    for (int i = 0; i < NW_FOLD_PANES; i++)
        wide[i] = least(self->panes[i], GTK_ORIENTATION_HORIZONTAL, -1) + divider;
    int view = MAX(wide[NW_FOLD_VIEW], width / 3);
    if (wide[NW_FOLD_PIECES] + view + wide[NW_FOLD_ASSEMBLIES] <= width)
        return ALL_PANES;
    return MAX(wide[NW_FOLD_PIECES], wide[NW_FOLD_ASSEMBLIES]) + view <= width ? TWO_PANES
                                                                               : ONE_PANE;
}

static int bar_height(NwFold *self) {
    return gtk_widget_get_visible(self->bar) ? least(self->bar, GTK_ORIENTATION_VERTICAL, -1) : 0;
}

/* A third of the bench for the view, unless what stands below it needs more than two. */
static void keep_a_third(NwFold *self, int width, int height) {
    GtkWidget *middle = self->panes[NW_FOLD_VIEW], *box = gtk_widget_get_parent(middle);
    int had, wide = gtk_widget_get_width(middle);
    gtk_widget_get_size_request(self->view, NULL, &had);
    int rest = wide > 0 ? least(middle, GTK_ORIENTATION_VERTICAL, wide) -
                              least(self->view, GTK_ORIENTATION_VERTICAL, wide)
                        : height;
    int keep = MAX(MIN(height / 3, height - rest), -1);
    if (keep != had)
        gtk_widget_set_size_request(self->view, -1, keep);
    int across = self->level == ONE_PANE ? -1 : width / 3;
    gtk_widget_get_size_request(box, &had, NULL);
    if (across != had)
        gtk_widget_set_size_request(box, across, -1);
}

/* The least height, for the panes as wide as they are: GTK has no way to ask for more than that
 * without an answer that differs from width to width, of which it would complain. The view gives
 * back what it was promised, if the window is made lower. */
static int least_height(NwFold *self) {
    int promised, height = 0;
    gtk_widget_get_size_request(self->view, NULL, &promised);
    for (int i = 0; i < NW_FOLD_PANES; i++) {
        int wide = gtk_widget_get_width(self->panes[i]);
        wide = wide > 0 ? MAX(wide, least(self->panes[i], GTK_ORIENTATION_HORIZONTAL, -1)) : -1;
        int high = least(self->panes[i], GTK_ORIENTATION_VERTICAL, wide);
        height = MAX(height, i == NW_FOLD_VIEW && promised > 0 ? high - promised : high);
    }
    return height + bar_height(self);
}

/* Not within an allocation, which is no time to ask for another one. */
static gboolean refold(gpointer data) {
    NwFold *self = data;
    self->refolding = 0;
    int width = gtk_widget_get_width(GTK_WIDGET(self));
    self->level = level_for(self, width);
    update(self);
    keep_a_third(self, width, gtk_widget_get_height(GTK_WIDGET(self)) - bar_height(self));
    if (least_height(self) != self->height)
        gtk_widget_queue_resize(GTK_WIDGET(self));
    return G_SOURCE_REMOVE;
}

/* ---- the widget ---------------------------------------------------------------------------- */

static GtkSizeRequestMode nw_fold_get_request_mode(GtkWidget *widget) {
    (void)widget;
    return GTK_SIZE_REQUEST_CONSTANT_SIZE;
}

static void nw_fold_measure(GtkWidget *widget, GtkOrientation orientation, int for_size,
                            int *minimum, int *natural, int *minimum_baseline,
                            int *natural_baseline) {
    NwFold *self = NW_FOLD(widget);
    *minimum_baseline = *natural_baseline = -1;
    *minimum = 0;
    if (orientation == GTK_ORIENTATION_HORIZONTAL) {
        *minimum = least(self->bar, orientation, -1);
        for (int i = 0; i < NW_FOLD_PANES; i++)
            *minimum = MAX(*minimum, least(self->panes[i], orientation, -1));
        gtk_widget_measure(self->content, orientation, -1, NULL, natural, NULL, NULL);
    } else {
        *minimum = self->height = least_height(self);
        gtk_widget_measure(self->content, orientation, -1, NULL, natural, NULL, NULL);
    }
    *natural = MAX(*natural, *minimum);
}

static void nw_fold_size_allocate(GtkWidget *widget, int width, int height, int baseline) {
    (void)baseline;
    NwFold *self = NW_FOLD(widget);
    int top = bar_height(self);
    if (top) {
        GtkAllocation above = {0, 0, width, top};
        gtk_widget_size_allocate(self->bar, &above, -1);
    }
    int wide = MAX(width, least(self->content, GTK_ORIENTATION_HORIZONTAL, -1));
    int high = MAX(height - top, least(self->content, GTK_ORIENTATION_VERTICAL, wide));
    GtkAllocation below = {0, top, wide, high};
    gtk_widget_size_allocate(self->content, &below, -1);
    if (!self->refolding)
        self->refolding = g_idle_add_full(GTK_PRIORITY_RESIZE, refold, self, NULL);
}

static void nw_fold_dispose(GObject *object) {
    NwFold *self = NW_FOLD(object);
    g_clear_handle_id(&self->refolding, g_source_remove);
    g_clear_pointer(&self->bar, gtk_widget_unparent);
    g_clear_pointer(&self->content, gtk_widget_unparent);
    G_OBJECT_CLASS(nw_fold_parent_class)->dispose(object);
}

static void nw_fold_class_init(NwFoldClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_fold_dispose;
    widget->get_request_mode = nw_fold_get_request_mode;
    widget->measure = nw_fold_measure;
    widget->size_allocate = nw_fold_size_allocate;
    gtk_widget_class_set_css_name(widget, "fold");
}

static void nw_fold_init(NwFold *self) {
    static const char *const names[NW_FOLD_PANES] = {N_("Pieces"), N_("View"), N_("Assemblies")};
    GtkWidget *linked = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0);
    gtk_widget_add_css_class(linked, "linked");
    gtk_widget_set_hexpand(linked, TRUE);
    gtk_widget_set_halign(linked, GTK_ALIGN_CENTER);
    for (int i = 0; i < NW_FOLD_PANES; i++) {
        self->buttons[i] = gtk_toggle_button_new_with_label(_(names[i]));
        g_signal_connect_swapped(self->buttons[i], "clicked", G_CALLBACK(on_clicked), self);
        gtk_box_append(GTK_BOX(linked), self->buttons[i]);
    }
    self->bar = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0);
    gtk_widget_add_css_class(self->bar, "fold-bar");
    gtk_widget_set_visible(self->bar, FALSE);
    gtk_box_append(GTK_BOX(self->bar), linked);
    gtk_widget_set_parent(self->bar, GTK_WIDGET(self));
    gtk_widget_set_overflow(GTK_WIDGET(self), GTK_OVERFLOW_HIDDEN);
}

void nw_fold_set_panes(NwFold *self, GtkWidget *const panes[NW_FOLD_PANES], GtkWidget *view) {
    for (int i = 0; i < NW_FOLD_PANES; i++)
        self->panes[i] = panes[i];
    self->view = view;
    nw_fold_go_to(self, NW_FOLD_PIECES);
}
