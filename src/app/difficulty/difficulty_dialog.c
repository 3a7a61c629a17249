#include "app/difficulty/difficulty_dialog.h"

#include <glib/gi18n.h>

#include "app/common/config.h"
#include "app/difficulty/measure_page.h"
#include "app/difficulty/trial_page.h"
#ifdef NW_MAKING
#include "app/difficulty/plot_page.h"
#endif

struct _NwDifficultyDialog {
    GtkWindow parent;
    GtkInfoBar *notice; /* of the template, as the rest up to the plot */
    GtkLabel *notice_label;
    GtkStack *pages;
    NwMeasurePage *measure_page;
    NwTrialPage *trial_page;
#ifdef NW_MAKING
    NwPlotPage *plot_page;
#endif
};

G_DEFINE_FINAL_TYPE(NwDifficultyDialog, nw_difficulty_dialog, GTK_TYPE_WINDOW)

static void on_trouble(NwDifficultyDialog *self, const char *message) {
    gtk_label_set_text(self->notice_label, message);
    gtk_info_bar_set_revealed(self->notice, TRUE);
}

static void on_notice_response(NwDifficultyDialog *self) {
    gtk_info_bar_set_revealed(self->notice, FALSE);
}

#ifdef NW_MAKING
static void on_measured(NwDifficultyDialog *self) {
    nw_plot_page_set_measures(self->plot_page, nw_measure_page_get(self->measure_page));
}

static void add_plot(NwDifficultyDialog *self, NwViewState *view_state) {
    GtkWidget *page = g_object_new(NW_TYPE_PLOT_PAGE, NULL);
    self->plot_page = NW_PLOT_PAGE(page);
    gtk_stack_add_titled(self->pages, page, "plot", _("Plot"));
    g_signal_connect_object(page, "trouble", G_CALLBACK(on_trouble), self, G_CONNECT_SWAPPED);
    g_signal_connect_object(self->trial_page, "logged", G_CALLBACK(nw_plot_page_refresh), page,
                            G_CONNECT_SWAPPED);
    g_signal_connect_object(self->measure_page, "measured", G_CALLBACK(on_measured), self,
                            G_CONNECT_SWAPPED);
    nw_plot_page_set_view_state(self->plot_page, view_state);
}
#endif

static void nw_difficulty_dialog_dispose(GObject *object) {
    gtk_widget_dispose_template(GTK_WIDGET(object), NW_TYPE_DIFFICULTY_DIALOG);
    G_OBJECT_CLASS(nw_difficulty_dialog_parent_class)->dispose(object);
}

#define BIND(name) gtk_widget_class_bind_template_child(widget, NwDifficultyDialog, name)

static void nw_difficulty_dialog_class_init(NwDifficultyDialogClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_difficulty_dialog_dispose;
    g_type_ensure(NW_TYPE_MEASURE_PAGE);
    g_type_ensure(NW_TYPE_TRIAL_PAGE);
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/difficulty_dialog.ui");
    BIND(notice);
    BIND(notice_label);
    BIND(pages);
    BIND(measure_page);
    BIND(trial_page);
    gtk_widget_class_add_binding_action(widget, GDK_KEY_Escape, 0, "window.close", NULL);
    gtk_widget_class_add_binding_action(widget, GDK_KEY_F5, 0, "win.search", NULL);
}

static void nw_difficulty_dialog_init(NwDifficultyDialog *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
    g_signal_connect_swapped(self->notice, "response", G_CALLBACK(on_notice_response), self);
    g_signal_connect_swapped(self->trial_page, "trouble", G_CALLBACK(on_trouble), self);
}

GtkWidget *nw_difficulty_dialog_new(GtkWindow *parent, NwViewState *view_state) {
    NwDifficultyDialog *self =
        g_object_new(NW_TYPE_DIFFICULTY_DIALOG, "transient-for", parent, NULL);
    const NwDesign *design = nw_document_get_design(nw_view_state_get_document(view_state));
    char *title = g_strdup_printf(_("Difficulty and Trials of “%s”"), design ? design->name : "");
    gtk_window_set_title(GTK_WINDOW(self), title);
    g_free(title);
    gtk_widget_insert_action_group(GTK_WIDGET(self), "win", G_ACTION_GROUP(parent));
    nw_trial_page_set_view_state(self->trial_page, view_state);
#ifdef NW_MAKING
    add_plot(self, view_state);
#endif
    nw_measure_page_set_view_state(self->measure_page, view_state);
    return GTK_WIDGET(self);
}
