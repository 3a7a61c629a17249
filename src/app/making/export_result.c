#include "app/making/export_result.h"

#include <glib/gi18n.h>

#include "app/common/config.h"
#include "app/making/message_row.h"

enum { NAMED_MAX = 8 }; /* files that are named one by one */

struct _NwExportResult {
    GtkWidget parent;
    GtkWidget *content, *folder_button; /* of the template, as the rest */
    GtkImage *icon;
    GtkLabel *heading, *files;
    GtkBox *sentences; /* made anew each time */
    char *folder;
};

G_DEFINE_FINAL_TYPE(NwExportResult, nw_export_result, GTK_TYPE_WIDGET)

enum { CLOSED, SIGNALS };
static guint signals[SIGNALS];

static void on_open(NwExportResult *self) {
    GtkRoot *root = gtk_widget_get_root(GTK_WIDGET(self));
    char *uri = g_filename_to_uri(self->folder, NULL, NULL);
    if (uri)
        gtk_show_uri(root ? GTK_WINDOW(root) : NULL, uri, GDK_CURRENT_TIME);
    g_free(uri);
}

static void on_close(NwExportResult *self) {
    g_signal_emit(self, signals[CLOSED], 0);
}

/* ---- showing ----------------------------------------------------------------------------- */

static void show_sentences(NwExportResult *self) {
    gboolean any = gtk_widget_get_first_child(GTK_WIDGET(self->sentences)) != NULL;
    gtk_widget_set_visible(GTK_WIDGET(self->sentences), any);
}

static void show(NwExportResult *self, const char *icon, const char *heading) {
    gtk_image_set_from_icon_name(self->icon, icon);
    gtk_label_set_text(self->heading, heading);
    self->sentences = nw_message_rows_replace(GTK_BOX(self->content), self->sentences);
    show_sentences(self);
    g_clear_pointer(&self->folder, g_free);
    gtk_widget_set_visible(self->folder_button, FALSE);
    gtk_widget_set_visible(GTK_WIDGET(self->files), FALSE);
    gtk_widget_set_visible(GTK_WIDGET(self), TRUE);
}

/* The names, one a line, then the folder that they are in. */
static void show_files(NwExportResult *self, GPtrArray *paths) {
    GString *lines = g_string_new(NULL);
    for (guint i = 0; i < MIN(paths->len, NAMED_MAX); i++) {
        g_autofree char *name = g_filename_display_basename(paths->pdata[i]);
        g_string_append_printf(lines, "%s%s", i ? "\n" : "", name);
    }
    if (paths->len > NAMED_MAX) {
        guint more = paths->len - NAMED_MAX;
        g_string_append_c(lines, '\n');
        g_string_append_printf(lines, ngettext("and %u more", "and %u more", more), more);
    }
    gtk_label_set_text(self->files, lines->str);
    gtk_widget_set_visible(GTK_WIDGET(self->files), TRUE);
    g_string_free(lines, TRUE);
}

static gboolean stands_in(GPtrArray *texts, const char *text) {
    return g_ptr_array_find_with_equal_func(texts, text, g_str_equal, NULL);
}

void nw_export_result_show_report(NwExportResult *self, const NwExportReport *report,
                                  GPtrArray *known) {
    GPtrArray *paths = report->paths;
    char *folder = paths->len ? g_path_get_dirname(paths->pdata[0]) : g_strdup(".");
    char *shown = g_filename_display_name(folder);
    char *heading = g_strdup_printf(
        ngettext("%u file saved in “%s”", "%u files saved in “%s”", paths->len), paths->len, shown);
    show(self, "emblem-ok-symbolic", heading);
    self->folder = folder;
    gtk_widget_set_visible(self->folder_button, TRUE);
    show_files(self, paths);
    nw_message_rows_add_all(self->sentences, NULL, report->remarks);
    for (guint i = 0; i < report->cautions->len; i++) {
        const char *text = report->cautions->pdata[i];
        if (!stands_in(known, text))
            nw_message_rows_add(self->sentences, "dialog-warning-symbolic", text);
    }
    show_sentences(self);
    g_free(shown);
    g_free(heading);
}

void nw_export_result_show_failure(NwExportResult *self, const char *message) {
    show(self, "dialog-error-symbolic", _("Nothing was saved"));
    char *sentence = nw_message_row_dup(message);
    gtk_label_set_text(self->files, sentence);
    gtk_widget_set_visible(GTK_WIDGET(self->files), TRUE);
    g_free(sentence);
}

void nw_export_result_show_stopped(NwExportResult *self) {
    show(self, "process-stop-symbolic", _("Stopped; nothing was saved"));
}

void nw_export_result_hide(NwExportResult *self) {
    gtk_widget_set_visible(GTK_WIDGET(self), FALSE);
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_export_result_dispose(GObject *object) {
    NwExportResult *self = NW_EXPORT_RESULT(object);
    g_clear_pointer(&self->content, gtk_widget_unparent);
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_EXPORT_RESULT);
    g_clear_pointer(&self->folder, g_free);
    G_OBJECT_CLASS(nw_export_result_parent_class)->dispose(object);
}

static void nw_export_result_class_init(NwExportResultClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_export_result_dispose;
    signals[CLOSED] = g_signal_new("closed", NW_TYPE_EXPORT_RESULT, G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 0);
    gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
    gtk_widget_class_set_css_name(widget, "madeview");
    gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_GROUP);
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/export_result.ui");
    gtk_widget_class_bind_template_child(widget, NwExportResult, content);
    gtk_widget_class_bind_template_child(widget, NwExportResult, folder_button);
    gtk_widget_class_bind_template_child(widget, NwExportResult, icon);
    gtk_widget_class_bind_template_child(widget, NwExportResult, heading);
    gtk_widget_class_bind_template_child(widget, NwExportResult, files);
    gtk_widget_class_bind_template_callback(widget, on_open);
    gtk_widget_class_bind_template_callback(widget, on_close);
}

static void nw_export_result_init(NwExportResult *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
}
