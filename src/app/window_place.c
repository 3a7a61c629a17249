/* Where the window stands and how it is divided, from one run to the next. */
#include "app/window_private.h"

static const struct {
    const char *key;
    gsize paned;
} dividers[] = {{"left-pane", G_STRUCT_OFFSET(NwWindow, left_paned)},
                {"right-pane", G_STRUCT_OFFSET(NwWindow, right_paned)},
                {"middle-pane", G_STRUCT_OFFSET(NwWindow, middle_paned)}};

static GtkPaned *paned(NwWindow *self, gsize i) {
    return G_STRUCT_MEMBER(GtkPaned *, self, dividers[i].paned);
}

/* No window is born larger than the largest screen there is now. */
static void fit_to_screens(GtkWindow *window) {
    GListModel *monitors = gdk_display_get_monitors(gdk_display_get_default());
    int width, height, most_wide = 0, most_high = 0;
    for (guint i = 0; i < g_list_model_get_n_items(monitors); i++) {
        GdkRectangle place;
        GdkMonitor *monitor = g_list_model_get_item(monitors, i);
        gdk_monitor_get_geometry(monitor, &place);
        g_object_unref(monitor);
        if ((gint64)place.width * place.height > (gint64)most_wide * most_high) {
            most_wide = place.width;
            most_high = place.height;
        }
    }
    gtk_window_get_default_size(window, &width, &height);
    if (most_wide && (width > most_wide || height > most_high))
        gtk_window_set_default_size(window, MIN(width, most_wide), MIN(height, most_high));
}

/* On X11, GTK 4.8 forgets about it when a window is presented that the window manager has not told
 * the state of yet: so it is asked for again once the window is there. */
static gboolean maximize_again(gpointer window) {
    gtk_window_maximize(window);
    return G_SOURCE_REMOVE;
}

static void on_map(GtkWidget *window) {
    g_idle_add_full(G_PRIORITY_LOW, maximize_again, g_object_ref(window), g_object_unref);
}

void nw_window_restore_place(NwWindow *self) {
    GtkWindow *window = GTK_WINDOW(self);
    gtk_window_set_default_size(window, g_settings_get_int(self->settings, "width"),
                                g_settings_get_int(self->settings, "height"));
    fit_to_screens(window);
    if (g_settings_get_boolean(self->settings, "maximized")) {
        gtk_window_maximize(window);
        g_signal_connect(window, "map", G_CALLBACK(on_map), NULL);
    }
    for (gsize i = 0; i < G_N_ELEMENTS(dividers); i++)
        gtk_paned_set_position(paned(self, i), g_settings_get_int(self->settings, dividers[i].key));
}

void nw_window_keep_place(NwWindow *self) {
    int width, height;
    gtk_window_get_default_size(GTK_WINDOW(self), &width, &height); /* when it is not maximized */
    if (width > 0 && height > 0) {
        g_settings_set_int(self->settings, "width", MAX(width, 360));
        g_settings_set_int(self->settings, "height", MAX(height, 294));
    }
    g_settings_set_boolean(self->settings, "maximized", gtk_window_is_maximized(GTK_WINDOW(self)));
    for (gsize i = 0; !nw_fold_is_folded(self->fold) && i < G_N_ELEMENTS(dividers); i++)
        g_settings_set_int(self->settings, dividers[i].key, gtk_paned_get_position(paned(self, i)));
}
