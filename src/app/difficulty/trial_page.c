#include "app/difficulty/trial_page.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/common/config.h"
#include "app/common/save_chooser.h"
#include "app/difficulty/trial_form.h"
#include "session/trial_item.h"
#include "text/trial_words.h"

struct _NwTrialPage {
    GtkWidget parent;
    NwViewState *view_state;
    GtkWidget *content; /* of the template, as the rest */
    GtkStack *states;
    GtkColumnView *view;
    GtkWidget *add_button, *edit_button, *remove_button, *export_button;
    GtkWidget *read_only;

    GListStore *items;
    GtkSingleSelection *selection;
};

G_DEFINE_FINAL_TYPE(NwTrialPage, nw_trial_page, GTK_TYPE_WIDGET)

enum { LOGGED, TROUBLE, SIGNALS };
static guint signals[SIGNALS];

static NwDocument *document_of(NwTrialPage *self) {
    return nw_view_state_get_document(self->view_state);
}

static NwLibrary *library_of(NwTrialPage *self) {
    return nw_document_get_library(document_of(self));
}

static GtkWindow *window_of(NwTrialPage *self) {
    return GTK_WINDOW(gtk_widget_get_root(GTK_WIDGET(self)));
}

static void take_error(NwTrialPage *self, GError *error) {
    g_signal_emit(self, signals[TROUBLE], 0, error->message);
    g_error_free(error);
}

/* Borrowed, or NULL. */
static const NwStoredTrial *chosen(NwTrialPage *self) {
    NwTrialItem *item = gtk_single_selection_get_selected_item(self->selection);
    return item ? nw_trial_item_get(item) : NULL;
}

/* ---- the list ---------------------------------------------------------------------------- */

static void update_buttons(NwTrialPage *self) {
    gboolean writable = !nw_library_is_read_only(library_of(self));
    gboolean any = g_list_model_get_n_items(G_LIST_MODEL(self->items)) > 0;
    gtk_widget_set_sensitive(self->add_button, writable);
    gtk_widget_set_sensitive(self->edit_button, writable && chosen(self));
    gtk_widget_set_sensitive(self->remove_button, writable && chosen(self));
    gtk_widget_set_sensitive(self->export_button, any);
    gtk_widget_set_visible(self->read_only, !writable);
    gtk_stack_set_visible_child_name(self->states, any ? "log" : "empty");
}

static void choose(NwTrialPage *self, gint64 id) {
    for (guint i = 0; i < g_list_model_get_n_items(G_LIST_MODEL(self->items)); i++) {
        NwTrialItem *item = g_list_model_get_item(G_LIST_MODEL(self->items), i);
        if (nw_trial_item_get(item)->id == id)
            gtk_single_selection_set_selected(self->selection, i);
        g_object_unref(item);
    }
}

static GPtrArray *load(NwTrialPage *self) {
    GError *error = NULL;
    GPtrArray *trials = nw_library_list_trials(
        library_of(self), nw_document_get_design_id(document_of(self)), &error);
    if (error)
        take_error(self, error);
    return trials;
}

/* The chosen one stays chosen. */
static void refresh(NwTrialPage *self) {
    gint64 id = chosen(self) ? chosen(self)->id : 0;
    GPtrArray *trials = load(self);
    GPtrArray *items = g_ptr_array_new_with_free_func(g_object_unref);
    for (guint i = 0; trials && i < trials->len; i++) {
        g_ptr_array_add(items, nw_trial_item_new_take(trials->pdata[i]));
        trials->pdata[i] = NULL;
    }
    g_list_store_splice(self->items, 0, g_list_model_get_n_items(G_LIST_MODEL(self->items)),
                        items->pdata, items->len);
    g_ptr_array_unref(items);
    g_clear_pointer(&trials, g_ptr_array_unref);
    choose(self, id);
    update_buttons(self);
}

static void on_logged(NwTrialPage *self) {
    refresh(self);
    g_signal_emit(self, signals[LOGGED], 0);
}

/* ---- columns ----------------------------------------------------------------------------- */

static char *dup_when(const NwStoredTrial *trial) {
    return nw_trial_words_time(trial->tried);
}

static char *dup_who(const NwStoredTrial *trial) {
    return g_strdup(*trial->who ? trial->who : "–");
}

static char *dup_colours(const NwStoredTrial *trial) {
    return g_strdup(trial->colours ? _("with colours") : _("without colours"));
}

static char *dup_remark(const NwStoredTrial *trial) {
    return g_strdelimit(g_strdup(trial->remark), "\r\n", ' ');
}

static const struct {
    const char *head;
    char *(*dup_text)(const NwStoredTrial *trial);
    guint chars;
    gboolean expand;
} columns[] = {
    {N_("When"), dup_when, 16, FALSE},
    {N_("Who"), dup_who, 16, FALSE},
    {N_("How it ended"), nw_trial_words_result, 18, FALSE},
    {N_("Pieces"), dup_colours, 16, FALSE},
    {N_("Remark"), dup_remark, 20, TRUE},
};

static void on_set_up(GtkSignalListItemFactory *factory, GtkListItem *row, gpointer column) {
    GtkWidget *text = gtk_inscription_new(NULL);
    GtkInscription *inscription = GTK_INSCRIPTION(text);
    (void)factory;
    gtk_inscription_set_text_overflow(inscription, GTK_INSCRIPTION_OVERFLOW_ELLIPSIZE_END);
    gtk_inscription_set_min_chars(inscription, 6);
    gtk_inscription_set_nat_chars(inscription, columns[GPOINTER_TO_INT(column)].chars);
    gtk_list_item_set_child(row, text);
}

static void on_bind(GtkSignalListItemFactory *factory, GtkListItem *row, gpointer column) {
    const NwStoredTrial *trial = nw_trial_item_get(gtk_list_item_get_item(row));
    GtkWidget *text = gtk_list_item_get_child(row);
    char *words = columns[GPOINTER_TO_INT(column)].dup_text(trial);
    (void)factory;
    gtk_inscription_set_text(GTK_INSCRIPTION(text), words);
    if (columns[GPOINTER_TO_INT(column)].expand)
        gtk_widget_set_tooltip_text(text, *words ? words : NULL);
    gtk_accessible_update_property(GTK_ACCESSIBLE(text), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
    g_free(words);
}

static void add_columns(NwTrialPage *self) {
    for (gsize i = 0; i < G_N_ELEMENTS(columns); i++) {
        GtkListItemFactory *factory = gtk_signal_list_item_factory_new();
        g_signal_connect(factory, "setup", G_CALLBACK(on_set_up), GINT_TO_POINTER((int)i));
        g_signal_connect(factory, "bind", G_CALLBACK(on_bind), GINT_TO_POINTER((int)i));
        GtkColumnViewColumn *column = gtk_column_view_column_new(_(columns[i].head), factory);
        gtk_column_view_column_set_expand(column, columns[i].expand);
        gtk_column_view_column_set_resizable(column, TRUE);
        gtk_column_view_append_column(self->view, column);
        g_object_unref(column);
    }
}

/* ---- doing ------------------------------------------------------------------------------- */

static void open_form(NwTrialPage *self, const NwStoredTrial *trial) {
    GtkWidget *form = nw_trial_form_new(window_of(self), library_of(self), trial);
    g_signal_connect_object(form, "saved", G_CALLBACK(on_logged), self, G_CONNECT_SWAPPED);
    gtk_window_present(GTK_WINDOW(form));
}

static void on_add(NwTrialPage *self) {
    NwStoredTrial fresh = {.design = nw_document_get_design_id(document_of(self)),
                           .who = (char *)"",
                           .remark = (char *)"",
                           .tried = g_get_real_time() / G_USEC_PER_SEC,
                           .colours = TRUE};
    open_form(self, &fresh);
}

static void on_edit(NwTrialPage *self) {
    if (chosen(self) && gtk_widget_get_sensitive(self->edit_button))
        open_form(self, chosen(self));
}

static void remove_trial(NwTrialPage *self, gint64 id) {
    GError *error = NULL;
    if (!nw_library_remove_trial(library_of(self), id, &error))
        take_error(self, error);
    on_logged(self);
}

static void on_remove_response(NwTrialPage *self, int response, GtkWindow *dialog) {
    gint64 *id = g_object_get_data(G_OBJECT(dialog), "trial");
    if (response == GTK_RESPONSE_OK)
        remove_trial(self, *id);
    gtk_window_destroy(dialog);
}

/* One line about it, so that it is clear which one goes. */
static char *dup_summary(const NwStoredTrial *trial) {
    char *when = nw_trial_words_time(trial->tried), *result = nw_trial_words_result(trial);
    char *summary = *trial->who ? g_strdup_printf("%s, %s: %s", when, trial->who, result)
                                : g_strdup_printf("%s: %s", when, result);
    g_free(when);
    g_free(result);
    return summary;
}

static void on_remove(NwTrialPage *self) {
    const NwStoredTrial *trial = chosen(self);
    if (!trial || !gtk_widget_get_sensitive(self->remove_button))
        return;
    GtkWidget *dialog =
        gtk_message_dialog_new(window_of(self), GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT,
                               GTK_MESSAGE_QUESTION, GTK_BUTTONS_NONE, _("Delete this trial?"));
    char *summary = dup_summary(trial);
    gtk_message_dialog_format_secondary_text(GTK_MESSAGE_DIALOG(dialog), "%s\n%s", summary,
                                             _("This cannot be undone."));
    gtk_dialog_add_button(GTK_DIALOG(dialog), _("_Cancel"), GTK_RESPONSE_CANCEL);
    GtkWidget *remove = gtk_dialog_add_button(GTK_DIALOG(dialog), _("_Remove"), GTK_RESPONSE_OK);
    gtk_widget_add_css_class(remove, "destructive-action");
    g_object_set_data_full(G_OBJECT(dialog), "trial", g_memdup2(&trial->id, sizeof trial->id),
                           g_free);
    g_signal_connect_object(dialog, "response", G_CALLBACK(on_remove_response), self,
                            G_CONNECT_SWAPPED);
    gtk_window_present(GTK_WINDOW(dialog));
    g_free(summary);
}

static gboolean on_delete_key(GtkWidget *widget, GVariant *arguments, gpointer data) {
    (void)arguments;
    (void)data;
    on_remove(NW_TRIAL_PAGE(widget));
    return TRUE;
}

static void export_to(const char *path, gpointer owner) {
    NwTrialPage *self = owner;
    GPtrArray *trials = load(self);
    if (!trials)
        return;
    GError *error = NULL;
    char *csv = nw_stored_trials_to_csv(trials);
    if (!nw_save_chooser_write(path, csv, strlen(csv), &error))
        take_error(self, error);
    g_free(csv);
    g_ptr_array_unref(trials);
}

static void on_export(NwTrialPage *self) {
    const NwDesign *design = nw_document_get_design(document_of(self));
    char *name = g_strdup_printf(_("Trials of %s.csv"), design->name);
    nw_save_chooser_ask(GTK_WIDGET(self), _("Save the trials as a table"), name, export_to);
    g_free(name);
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_trial_page_dispose(GObject *object) {
    NwTrialPage *self = NW_TRIAL_PAGE(object);
    if (self->selection)
        g_signal_handlers_disconnect_by_data(self->selection, self);
    g_clear_pointer(&self->content, gtk_widget_unparent);
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_TRIAL_PAGE);
    g_clear_object(&self->selection);
    g_clear_object(&self->items);
    g_clear_object(&self->view_state);
    G_OBJECT_CLASS(nw_trial_page_parent_class)->dispose(object);
}

#define BIND(name) gtk_widget_class_bind_template_child(widget, NwTrialPage, name)

static void nw_trial_page_class_init(NwTrialPageClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_trial_page_dispose;
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/trial_page.ui");
    BIND(content);
    BIND(states);
    BIND(view);
    BIND(add_button);
    BIND(edit_button);
    BIND(remove_button);
    BIND(export_button);
    BIND(read_only);
    gtk_widget_class_add_binding(widget, GDK_KEY_Delete, 0, on_delete_key, NULL);
    signals[LOGGED] = g_signal_new("logged", NW_TYPE_TRIAL_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
    signals[TROUBLE] = g_signal_new("trouble", NW_TYPE_TRIAL_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void nw_trial_page_init(NwTrialPage *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
    self->items = g_list_store_new(NW_TYPE_TRIAL_ITEM);
    self->selection = gtk_single_selection_new(g_object_ref(G_LIST_MODEL(self->items)));
    gtk_single_selection_set_autoselect(self->selection, FALSE);
    gtk_single_selection_set_can_unselect(self->selection, TRUE);
    add_columns(self);
    gtk_column_view_set_model(self->view, GTK_SELECTION_MODEL(self->selection));
}

void nw_trial_page_set_view_state(NwTrialPage *self, NwViewState *view_state) {
    g_set_object(&self->view_state, view_state);
    g_signal_connect_swapped(self->selection, "notify::selected", G_CALLBACK(update_buttons), self);
    g_signal_connect_swapped(self->view, "activate", G_CALLBACK(on_edit), self);
    g_signal_connect_swapped(self->add_button, "clicked", G_CALLBACK(on_add), self);
    g_signal_connect_swapped(self->edit_button, "clicked", G_CALLBACK(on_edit), self);
    g_signal_connect_swapped(self->remove_button, "clicked", G_CALLBACK(on_remove), self);
    g_signal_connect_swapped(self->export_button, "clicked", G_CALLBACK(on_export), self);
    refresh(self);
}
