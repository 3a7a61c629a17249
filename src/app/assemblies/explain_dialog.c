#include "app/assemblies/explain_dialog.h"

#include <glib/gi18n.h>

#include "app/common/config.h"
#include "session/explain_words.h"
#include "session/search_import.h"
#include "text/part_words.h"
#include "text/sentence.h"

struct _NwExplainDialog {
    GtkWindow parent;
    GtkLabel *place, *words; /* of the template, as the rest */
    GtkSpinner *spinner;
    GtkButton *close_button;
    NwViewState *view_state;
    NwExplainJob *job;
};

G_DEFINE_FINAL_TYPE(NwExplainDialog, nw_explain_dialog, GTK_TYPE_WINDOW)

static void on_known(const NwPartRole *role, gpointer data) {
    NwExplainDialog *self = data;
    char *words =
        nw_explain_words(nw_document_get_design(nw_view_state_get_document(self->view_state)),
                         nw_view_state_get_search_session(self->view_state), role);
    gtk_label_set_text(self->words, words);
    gtk_spinner_stop(self->spinner);
    gtk_widget_set_visible(GTK_WIDGET(self->spinner), FALSE);
    gtk_button_set_label(self->close_button, _("Close"));
    g_free(words);
}

static void nw_explain_dialog_dispose(GObject *object) {
    NwExplainDialog *self = NW_EXPLAIN_DIALOG(object);
    g_clear_pointer(&self->job, nw_explain_job_free);
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_EXPLAIN_DIALOG);
    g_clear_object(&self->view_state);
    G_OBJECT_CLASS(nw_explain_dialog_parent_class)->dispose(object);
}

static void nw_explain_dialog_class_init(NwExplainDialogClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_explain_dialog_dispose;
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/explain_dialog.ui");
    gtk_widget_class_bind_template_child(widget, NwExplainDialog, place);
    gtk_widget_class_bind_template_child(widget, NwExplainDialog, words);
    gtk_widget_class_bind_template_child(widget, NwExplainDialog, spinner);
    gtk_widget_class_bind_template_child(widget, NwExplainDialog, close_button);
    gtk_widget_class_add_binding_action(widget, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void nw_explain_dialog_init(NwExplainDialog *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
}

GtkWidget *nw_explain_dialog_new(GtkWindow *parent, NwViewState *view_state, NwPart part) {
    NwExplainDialog *self = g_object_new(NW_TYPE_EXPLAIN_DIALOG, "transient-for", parent, NULL);
    const NwDesign *design = nw_document_get_design(nw_view_state_get_document(view_state));
    NwSearchSession *session = nw_view_state_get_search_session(view_state);
    NwBaselineOptions options = {.diagonals = nw_search_session_get_diagonals(session)};
    NwFounds founds = nw_search_session_founds(session);
    char *place = nw_part_words(design, NULL, nw_view_state_get_board_axis(view_state), part);
    self->view_state = g_object_ref(view_state);
    char *heading = nw_sentence_of(place);
    gtk_label_set_text(self->place, heading);
    g_free(heading);
    gtk_label_set_text(self->words, _("The design is being searched without this part…"));
    self->job = nw_explain_job_new(design, options, &founds, part, on_known, self);
    g_free(place);
    return GTK_WIDGET(self);
}
