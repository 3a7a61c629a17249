#include "app/common/save_chooser.h"

#include <glib/gi18n.h>

#include "format/replace_file.h"

/* One question: owned by the owner of the answer, as data of this name. */
static const char key[] = "nw-save-chooser";

typedef struct Asked {
    GtkFileChooserNative *chooser;
    GtkWidget *owner; /* borrowed: it owns this */
    NwSaveCall *call;
} Asked;

static void drop(gpointer data) {
    Asked *asked = data;
    g_signal_handlers_disconnect_by_data(asked->chooser, asked);
    g_object_unref(asked->chooser);
    g_free(asked);
}

static void on_response(Asked *asked, int response) {
    GFile *file = response == GTK_RESPONSE_ACCEPT
                      ? gtk_file_chooser_get_file(GTK_FILE_CHOOSER(asked->chooser))
                      : NULL;
    char *path = file ? g_file_get_path(file) : NULL;
    if (path)
        asked->call(path, asked->owner);
    g_free(path);
    g_clear_object(&file);
    g_object_set_data(G_OBJECT(asked->owner), key, NULL);
}

void nw_save_chooser_ask(GtkWidget *owner, const char *title, const char *name, NwSaveCall *call) {
    Asked *asked = g_new0(Asked, 1);
    asked->chooser = gtk_file_chooser_native_new(title, GTK_WINDOW(gtk_widget_get_root(owner)),
                                                 GTK_FILE_CHOOSER_ACTION_SAVE, NULL, NULL);
    asked->owner = owner;
    asked->call = call;
    char *fitting = g_strdelimit(g_strdup(name), "/", '-');
    gtk_file_chooser_set_current_name(GTK_FILE_CHOOSER(asked->chooser), fitting);
    g_free(fitting);
    gtk_native_dialog_set_modal(GTK_NATIVE_DIALOG(asked->chooser), TRUE);
    g_signal_connect_swapped(asked->chooser, "response", G_CALLBACK(on_response), asked);
    g_object_set_data_full(G_OBJECT(owner), key, asked, drop);
    gtk_native_dialog_show(GTK_NATIVE_DIALOG(asked->chooser));
}

gboolean nw_save_chooser_write(const char *path, const char *bytes, gsize size, GError **error) {
    GError *failure = NULL;
    if (nw_replace_file(path, bytes, size, &failure))
        return TRUE;
    g_set_error(
        error, G_FILE_ERROR, failure->code,
        _("Could not save “%s” (%s): check that the folder exists, is writable and has room."),
        path, failure->message);
    g_error_free(failure);
    return FALSE;
}
