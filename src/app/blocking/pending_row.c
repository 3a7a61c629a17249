#include "app/blocking/pending_row.h"

#include <glib/gi18n.h>

#include "session/proposal_words.h"

struct _NwPendingRow {
    GtkListBoxRow parent;
    GtkSpinner *spinner; /* of the template, as the rest */
    GtkLabel *title, *changes, *stage_words;
    NwViewState *view_state;
    NwBlockSession *session;
};

G_DEFINE_FINAL_TYPE(NwPendingRow, nw_pending_row, GTK_TYPE_LIST_BOX_ROW)

static void take_text(GtkLabel *label, char *text) {
    if (strcmp(gtk_label_get_text(label), text) != 0)
        gtk_label_set_text(label, text);
    g_free(text);
}

static void update(NwPendingRow *self) {
    NwFront front;
    const NwDesign *design = nw_document_get_design(nw_view_state_get_document(self->view_state));
    gboolean any = design && nw_block_session_get_front(self->session, &front);
    gboolean paused = nw_block_session_get_state(self->session) == NW_BLOCK_SESSION_PAUSED;
    gtk_widget_set_visible(GTK_WIDGET(self), any);
    gtk_spinner_set_spinning(self->spinner, any && !paused);
    if (!any)
        return;
    take_text(self->title, g_strdup(paused ? _("Checking (paused)") : _("Checking")));
    take_text(self->changes,
              nw_proposal_words_changes(design, front.changes, front.count,
                                        nw_view_state_get_board_axis(self->view_state)));
    take_text(self->stage_words, nw_proposal_words_front(&front));
}

static void nw_pending_row_dispose(GObject *object) {
    NwPendingRow *self = NW_PENDING_ROW(object);
    if (self->session)
        g_signal_handlers_disconnect_by_data(self->session, self);
    g_clear_object(&self->session);
    g_clear_object(&self->view_state);
    G_OBJECT_CLASS(nw_pending_row_parent_class)->dispose(object);
}

static void nw_pending_row_class_init(NwPendingRowClass *class) {
    GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_pending_row_dispose;
    gtk_widget_class_set_template_from_resource(widget_class,
                                                "/net/notchwright/Notchwright/ui/pending_row.ui");
    gtk_widget_class_bind_template_child(widget_class, NwPendingRow, spinner);
    gtk_widget_class_bind_template_child(widget_class, NwPendingRow, title);
    gtk_widget_class_bind_template_child(widget_class, NwPendingRow, changes);
    gtk_widget_class_bind_template_child(widget_class, NwPendingRow, stage_words);
}

static void nw_pending_row_init(NwPendingRow *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
}

GtkWidget *nw_pending_row_new(NwViewState *view_state, NwBlockSession *session) {
    NwPendingRow *self = g_object_new(NW_TYPE_PENDING_ROW, NULL);
    self->view_state = g_object_ref(view_state);
    self->session = g_object_ref(session);
    g_signal_connect_swapped(session, "changed", G_CALLBACK(update), self);
    update(self);
    return GTK_WIDGET(self);
}
