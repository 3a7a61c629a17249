#include "app/making/export_dialog.h"

#include <glib/gi18n.h>

/* What goes with a dialog. */
typedef struct Asked {
    const NwProduct *product;
    const char *ending;
    NwExportDialogCall *call;
    gpointer data;
} Asked;

static gboolean has_ending(const NwProduct *product, const char *path) {
    for (const char *const *ending = product->endings; *ending; ending++)
        if (g_str_has_suffix(path, *ending))
            return TRUE;
    return FALSE;
}

static void on_response(GtkNativeDialog *dialog, int response, gpointer data) {
    const Asked *asked = data;
    GtkFileChooser *chooser = GTK_FILE_CHOOSER(dialog);
    g_autoptr(GFile) file =
        response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file(chooser) : NULL;
    g_autofree char *path = file ? g_file_get_path(file) : NULL;
    if (!path)
        return;
    if (!asked->ending || has_ending(asked->product, path)) {
        asked->call(path, asked->data);
        return;
    }
    g_autofree char *full = g_strconcat(path, asked->ending, NULL);
    if (!g_file_test(full, G_FILE_TEST_EXISTS)) {
        asked->call(full, asked->data);
        return;
    }
    g_autofree char *name = g_filename_display_basename(full);
    g_autoptr(GFile) folder = g_file_get_parent(file);
    gtk_file_chooser_set_current_folder(chooser, folder, NULL);
    gtk_file_chooser_set_current_name(chooser, name);
    gtk_native_dialog_show(dialog);
}

static void filter_by(GtkFileChooser *chooser, const char *ending) {
    GtkFileFilter *filter = gtk_file_filter_new();
    g_autofree char *pattern = g_strconcat("*", ending, NULL);
    g_autofree char *name = g_ascii_strup(ending + 1, -1);
    gtk_file_filter_set_name(filter, name);
    gtk_file_filter_add_pattern(filter, pattern);
    gtk_file_chooser_add_filter(chooser, filter);
    g_object_unref(filter);
}

GtkFileChooserNative *nw_export_dialog_new(GtkWindow *parent, const NwProduct *product,
                                           const char *name, const char *ending, const char *folder,
                                           NwExportDialogCall *call, gpointer data) {
    GtkFileChooserAction action =
        ending ? GTK_FILE_CHOOSER_ACTION_SAVE : GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER;
    GtkFileChooserNative *dialog =
        gtk_file_chooser_native_new(_(product->title), parent, action, _("_Make"), NULL);
    GtkFileChooser *chooser = GTK_FILE_CHOOSER(dialog);
    Asked *asked = g_new(Asked, 1);
    *asked = (Asked){product, ending, call, data};
    if (folder) {
        g_autoptr(GFile) there = g_file_new_for_path(folder);
        gtk_file_chooser_set_current_folder(chooser, there, NULL);
    }
    if (ending) {
        g_autofree char *full = g_strconcat(name, ending, NULL);
        g_strdelimit(full, "/", '-');
        gtk_file_chooser_set_current_name(chooser, full);
        filter_by(chooser, ending);
    }
    g_signal_connect_data(dialog, "response", G_CALLBACK(on_response), asked,
                          (GClosureNotify)(void (*)(void))g_free, 0);
    gtk_native_dialog_set_modal(GTK_NATIVE_DIALOG(dialog), TRUE);
    gtk_native_dialog_show(GTK_NATIVE_DIALOG(dialog));
    return dialog;
}
