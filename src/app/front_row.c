#include "app/front_row.h"

#include <glib/gi18n.h>

#include "app/advice_words.h"

struct _NwFrontRow {
    GtkListBoxRow parent;
    GtkSpinner *spinner; /* of the template, as the rest */
    GtkLabel *title, *changes, *stage_words;
    NwStage *stage;
    NwAdviser *adviser;
};

G_DEFINE_FINAL_TYPE(NwFrontRow, nw_front_row, GTK_TYPE_LIST_BOX_ROW)

static void take_text(GtkLabel *label, char *text) {
    if (strcmp(gtk_label_get_text(label), text) != 0)
        gtk_label_set_text(label, text);
    g_free(text);
}

static void update(NwFrontRow *self) {
    NwFront front;
    const NwDesign *design = nw_document_get_design(nw_stage_get_document(self->stage));
    gboolean any = design && nw_adviser_get_front(self->adviser, &front);
    gboolean paused = nw_adviser_get_state(self->adviser) == NW_ADVISER_PAUSED;
    gtk_widget_set_visible(GTK_WIDGET(self), any);
    gtk_spinner_set_spinning(self->spinner, any && !paused);
    if (!any)
        return;
    take_text(self->title, g_strdup(paused ? _("Being checked, paused") : _("Being checked")));
    take_text(self->changes, nw_advice_words_changes(design, front.changes, front.count,
                                                     nw_stage_get_board_axis(self->stage)));
    take_text(self->stage_words, nw_advice_words_front(&front));
}

static void nw_front_row_dispose(GObject *object) {
    NwFrontRow *self = NW_FRONT_ROW(object);
    if (self->adviser)
        g_signal_handlers_disconnect_by_data(self->adviser, self);
    g_clear_object(&self->adviser);
    g_clear_object(&self->stage);
    G_OBJECT_CLASS(nw_front_row_parent_class)->dispose(object);
}

static void nw_front_row_class_init(NwFrontRowClass *class) {
    GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_front_row_dispose;
    gtk_widget_class_set_template_from_resource(widget_class,
                                                "/net/notchwright/Notchwright/ui/front_row.ui");
    gtk_widget_class_bind_template_child(widget_class, NwFrontRow, spinner);
    gtk_widget_class_bind_template_child(widget_class, NwFrontRow, title);
    gtk_widget_class_bind_template_child(widget_class, NwFrontRow, changes);
    gtk_widget_class_bind_template_child(widget_class, NwFrontRow, stage_words);
}

static void nw_front_row_init(NwFrontRow *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
}

GtkWidget *nw_front_row_new(NwStage *stage, NwAdviser *adviser) {
    NwFrontRow *self = g_object_new(NW_TYPE_FRONT_ROW, NULL);
    self->stage = g_object_ref(stage);
    self->adviser = g_object_ref(adviser);
    g_signal_connect_swapped(adviser, "changed", G_CALLBACK(update), self);
    update(self);
    return GTK_WIDGET(self);
}
