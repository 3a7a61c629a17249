#include "app/made_view.h"

#include <glib/gi18n.h>

#include "app/config.h"
#include "app/sentence.h"

enum { NAMED_MAX = 8 }; /* files that are named one by one */

struct _NwMadeView {
    GtkWidget parent;
    GtkWidget *content, *folder_button; /* of the template, as the rest */
    GtkImage *icon;
    GtkLabel *heading, *files;
    GtkBox *sentences; /* made anew each time */
    char *folder;
};

G_DEFINE_FINAL_TYPE(NwMadeView, nw_made_view, GTK_TYPE_WIDGET)

enum { CLOSED, SIGNALS };
static guint signals[SIGNALS];

static void on_open(NwMadeView *self) {
    GtkRoot *root = gtk_widget_get_root(GTK_WIDGET(self));
    char *uri = g_filename_to_uri(self->folder, NULL, NULL);
    if (uri)
        gtk_show_uri(root ? GTK_WINDOW(root) : NULL, uri, GDK_CURRENT_TIME);
    g_free(uri);
}

static void on_close(NwMadeView *self) {
    g_signal_emit(self, signals[CLOSED], 0);
}

/* ---- showing ----------------------------------------------------------------------------- */

static void show_sentences(NwMadeView *self) {
    gboolean any = gtk_widget_get_first_child(GTK_WIDGET(self->sentences)) != NULL;
    gtk_widget_set_visible(GTK_WIDGET(self->sentences), any);
}

static void show(NwMadeView *self, const char *icon, const char *heading) {
    gtk_image_set_from_icon_name(self->icon, icon);
    gtk_label_set_text(self->heading, heading);
    self->sentences = nw_sentences_anew(GTK_BOX(self->content), self->sentences);
    show_sentences(self);
    g_clear_pointer(&self->folder, g_free);
    gtk_widget_set_visible(self->folder_button, FALSE);
    gtk_widget_set_visible(GTK_WIDGET(self->files), FALSE);
    gtk_widget_set_visible(GTK_WIDGET(self), TRUE);
}

/* The names, one a line, then the folder that they are in. */
static void show_files(NwMadeView *self, GPtrArray *paths) {
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

void nw_made_view_show_made(NwMadeView *self, const NwMade *made, GPtrArray *known) {
    GPtrArray *paths = made->paths;
    char *folder = paths->len ? g_path_get_dirname(paths->pdata[0]) : g_strdup(".");
    char *shown = g_filename_display_name(folder);
    char *heading = g_strdup_printf(
        ngettext("%u file is written into “%s”", "%u files are written into “%s”", paths->len),
        paths->len, shown);
    show(self, "emblem-ok-symbolic", heading);
    self->folder = folder;
    gtk_widget_set_visible(self->folder_button, TRUE);
    show_files(self, paths);
    nw_sentences_add_all(self->sentences, NULL, made->remarks);
    for (guint i = 0; i < made->cautions->len; i++) {
        const char *text = made->cautions->pdata[i];
        if (!stands_in(known, text))
            nw_sentences_add(self->sentences, "dialog-warning-symbolic", text);
    }
    show_sentences(self);
    g_free(shown);
    g_free(heading);
}

void nw_made_view_show_failure(NwMadeView *self, const char *message) {
    show(self, "dialog-error-symbolic", _("Nothing is written"));
    char *sentence = nw_sentence_dup(message);
    gtk_label_set_text(self->files, sentence);
    gtk_widget_set_visible(GTK_WIDGET(self->files), TRUE);
    g_free(sentence);
}

void nw_made_view_show_stopped(NwMadeView *self) {
    show(self, "process-stop-symbolic", _("Stopped: nothing is written"));
}

void nw_made_view_hide(NwMadeView *self) {
    gtk_widget_set_visible(GTK_WIDGET(self), FALSE);
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_made_view_dispose(GObject *object) {
    NwMadeView *self = NW_MADE_VIEW(object);
    g_clear_pointer(&self->content, gtk_widget_unparent);
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_MADE_VIEW);
    g_clear_pointer(&self->folder, g_free);
    G_OBJECT_CLASS(nw_made_view_parent_class)->dispose(object);
}

static void nw_made_view_class_init(NwMadeViewClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_made_view_dispose;
    signals[CLOSED] = g_signal_new("closed", NW_TYPE_MADE_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
    gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
    gtk_widget_class_set_css_name(widget, "madeview");
    gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_GROUP);
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/made_view.ui");
    gtk_widget_class_bind_template_child(widget, NwMadeView, content);
    gtk_widget_class_bind_template_child(widget, NwMadeView, folder_button);
    gtk_widget_class_bind_template_child(widget, NwMadeView, icon);
    gtk_widget_class_bind_template_child(widget, NwMadeView, heading);
    gtk_widget_class_bind_template_child(widget, NwMadeView, files);
    gtk_widget_class_bind_template_callback(widget, on_open);
    gtk_widget_class_bind_template_callback(widget, on_close);
}

static void nw_made_view_init(NwMadeView *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
}
