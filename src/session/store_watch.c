#include "session/store_watch.h"

enum { PAUSE_MILLISECONDS = 200 };

struct NwStoreWatch {
    char *name; /* of the file, without its folder */
    GFileMonitor *monitor;
    guint pending;
    NwStoreWatchCall *call;
    gpointer data;
};

static gboolean tell(gpointer data) {
    NwStoreWatch *watch = data;
    watch->pending = 0;
    watch->call(watch->data);
    return G_SOURCE_REMOVE;
}

static void on_changed(NwStoreWatch *watch, GFile *file) {
    char *name = g_file_get_basename(file);
    if (!watch->pending && g_str_has_prefix(name, watch->name))
        watch->pending = g_timeout_add(PAUSE_MILLISECONDS, tell, watch);
    g_free(name);
}

NwStoreWatch *nw_store_watch_new(const char *path, NwStoreWatchCall *call, gpointer data) {
    NwStoreWatch *watch = g_new0(NwStoreWatch, 1);
    GFile *file = g_file_new_for_path(path), *folder = g_file_get_parent(file);
    watch->name = g_file_get_basename(file);
    watch->call = call;
    watch->data = data;
    watch->monitor = g_file_monitor_directory(folder, G_FILE_MONITOR_NONE, NULL, NULL);
    if (watch->monitor)
        g_signal_connect_swapped(watch->monitor, "changed", G_CALLBACK(on_changed), watch);
    g_object_unref(folder);
    g_object_unref(file);
    return watch;
}

void nw_store_watch_free(NwStoreWatch *watch) {
    if (!watch)
        return;
    g_clear_handle_id(&watch->pending, g_source_remove);
    if (watch->monitor) {
        g_signal_handlers_disconnect_by_data(watch->monitor, watch);
        g_file_monitor_cancel(watch->monitor);
    }
    g_clear_object(&watch->monitor);
    g_free(watch->name);
    g_free(watch);
}
