/* A design that somebody else has removed from the store: the window has its only copy. */
#include <glib/gi18n.h>

#include "app/common/accessible_names.h"
#include "app/window_private.h"
#include "session/search_import.h"

static void on_gone(NwWindow *self) {
    gboolean gone = nw_document_is_gone(self->document);
    if (gone) {
        char *text =
            g_strdup_printf(_("“%s” was removed from the library by another window or the notch "
                              "command. Keep it to save it again with all your changes."),
                            nw_document_get_design(self->document)->name);
        gtk_label_set_text(self->gone_label, text);
        g_free(text);
    }
    gtk_info_bar_set_revealed(self->gone_bar, gone);
    nw_window_update_titles(self);
    nw_window_update_actions(self);
}

/* With what a finished search of it has found. */
static void keep(NwWindow *self) {
    nw_document_end_stroke(self->document);
    NwFounds founds = nw_search_session_founds(self->session);
    NwDesign *design = nw_design_copy(nw_document_get_design(self->document));
    NwTouch touch = nw_document_get_touch(self->document);
    nw_window_add_now(self, design);
    nw_document_set_touch(self->document, touch); /* it is the same work that goes on */
    if (!nw_document_is_gone(self->document))
        nw_search_session_adopt(self->session, &founds);
    nw_founds_clear(&founds);
    nw_design_free(design);
}

static void on_gone_response(NwWindow *self, int response) {
    if (response == GTK_RESPONSE_ACCEPT) {
        keep(self);
    } else if (response == GTK_RESPONSE_REJECT) {
        nw_document_close(self->document);
        nw_window_show_start(self);
    }
}

/* ---- before it is dropped ------------------------------------------------------------------ */

/* What goes on once it is known what becomes of the copy. */
typedef struct Asked {
    NwWindow *window;
    NwWindowThen *then;
    gpointer data;
    GDestroyNotify free;
} Asked;

static void asked_free(gpointer data, GClosure *closure) {
    Asked *asked = data;
    (void)closure;
    if (asked->free)
        asked->free(asked->data);
    g_object_unref(asked->window);
    g_free(asked);
}

static void on_answer(GtkWindow *dialog, int response, gpointer data) {
    Asked *asked = data;
    NwWindow *self = asked->window;
    self->asking = NULL;
    gtk_widget_set_visible(GTK_WIDGET(dialog), FALSE);
    if (response == GTK_RESPONSE_ACCEPT)
        keep(self);
    else if (response == GTK_RESPONSE_REJECT)
        nw_document_close(self->document);
    if (!nw_document_is_gone(self->document))
        asked->then(self, asked->data);
    gtk_window_destroy(dialog);
}

static void ask(Asked *asked) {
    NwWindow *self = asked->window;
    GtkWidget *dialog = gtk_message_dialog_new(
        GTK_WINDOW(self), GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT, GTK_MESSAGE_QUESTION,
        GTK_BUTTONS_NONE, _("Keep “%s”?"), nw_document_get_design(self->document)->name);
    gtk_message_dialog_format_secondary_text(
        GTK_MESSAGE_DIALOG(dialog), "%s",
        _("It was removed from the library, and this is its only copy. What you discard is lost."));
    gtk_dialog_add_button(GTK_DIALOG(dialog), _("_Cancel"), GTK_RESPONSE_CANCEL);
    gtk_window_set_title(GTK_WINDOW(dialog), _("The Only Copy"));
    GtkWidget *discard =
        gtk_dialog_add_button(GTK_DIALOG(dialog), _("_Discard"), GTK_RESPONSE_REJECT);
    gtk_widget_add_css_class(discard, "destructive-action");
    gtk_dialog_add_button(GTK_DIALOG(dialog), _("_Keep It"), GTK_RESPONSE_ACCEPT);
    gtk_dialog_set_default_response(GTK_DIALOG(dialog), GTK_RESPONSE_ACCEPT);
    g_signal_connect_data(dialog, "response", G_CALLBACK(on_answer), asked, asked_free, 0);
    nw_accessible_name_once(dialog);
    self->asking = GTK_WINDOW(dialog);
    gtk_window_present(self->asking);
}

void nw_window_before_drop(NwWindow *self, NwWindowThen *then, gpointer data, GDestroyNotify free) {
    if (nw_document_is_gone(self->document) && !self->asking) {
        Asked *asked = g_new(Asked, 1);
        *asked = (Asked){g_object_ref(self), then, data, free};
        ask(asked);
        return;
    }
    if (self->asking) /* one question at a time */
        gtk_window_present(self->asking);
    else
        then(self, data);
    if (free)
        free(data);
}

/* ---- watching ------------------------------------------------------------------------------ */

static void on_store_changed(gpointer data) {
    nw_document_look(NW_WINDOW(data)->document);
}

void nw_window_watch_store(NwWindow *self) {
    const char *path = nw_library_get_path(nw_document_get_library(self->document));
    g_signal_connect_swapped(self->gone_bar, "response", G_CALLBACK(on_gone_response), self);
    g_signal_connect_swapped(self->document, "notify::gone", G_CALLBACK(on_gone), self);
    self->watch = nw_store_watch_new(path, on_store_changed, self);
}
