#include "app/making/make_page.h"

#include <glib/gi18n.h>

#include "app/common/clamp.h"
#include "app/common/config.h"
#include "app/making/export_dialog.h"
#include "app/making/export_result.h"
#include "app/making/message_row.h"
#include "app/making/option_list.h"
#include "app/making/product_row.h"
#include "export/option_words.h"
#include "export/products.h"
#include "session/export_job.h"

struct _NwMakePage {
    GtkWidget parent;
    GtkWidget *content; /* of the template, as the rest */
    GtkListBox *list;
    GtkScrolledWindow *scroller;
    GtkLabel *title, *about, *target;
    NwExportResult *export_result;
    NwOptionList *options;
    GtkWidget *options_head, *reset_button;
    GtkBox *caution_group, *cautions; /* the second is made anew each time */
    GtkStack *foot;
    GtkWidget *refusal_icon, *make_button, *stop_button;
    GtkLabel *refusal, *doing, *step;
    GtkProgressBar *bar;

    NwViewState *view_state;
    NwExportJob *maker;
    NwExportState state;      /* of the maker, when it was last looked at */
    const NwProduct *product; /* that is shown */
    GPtrArray *known;         /* its cautions */
    GtkFileChooserNative *dialog;
    char *folder; /* that was written into last */
};

G_DEFINE_FINAL_TYPE(NwMakePage, nw_make_page, GTK_TYPE_WIDGET)

static NwDocument *document_of(NwMakePage *self) {
    return nw_view_state_get_document(self->view_state);
}

static NwSearchSession *session_of(NwMakePage *self) {
    return nw_view_state_get_search_session(self->view_state);
}

/* ---- the request ---------------------------------------------------------------------- */

/* Of the search, a product may take whether pieces slide along diagonals. */
static void fill_search(NwMakePage *self, NwExportRequest *request) {
    for (size_t i = 0; i < self->product->option_count; i++) {
        const NwOption *option = &self->product->options[i];
        if (option->search && option->kind == NW_OPTION_SWITCH &&
            g_str_has_prefix(option->name, "diagonal"))
            nw_export_request_set_switch(request, option->name,
                                         nw_search_session_get_diagonals(session_of(self)));
    }
}

static gboolean searches(const NwProduct *product) {
    for (size_t i = 0; i < product->option_count; i++)
        if (product->options[i].search)
            return TRUE;
    return FALSE;
}

/* All that is known before it is said where to write. NULL without a product or a design. */
static NwExportRequest *commission_new(NwMakePage *self) {
    NwDocument *document = document_of(self);
    const NwDesign *design = nw_document_get_design(document);
    if (!self->product || !design)
        return NULL;
    NwExportRequest *request = nw_export_request_new(self->product, design);
    nw_export_request_set_source(request, nw_library_get_path(nw_document_get_library(document)),
                                 nw_document_get_version(document));
    nw_option_list_fill(self->options, request);
    fill_search(self, request);
    return request;
}

/* ---- what is shown of a product ---------------------------------------------------------- */

/* What a product has to say, in the words of the window. */
static char *dup_words(NwMakePage *self, const char *message) {
    g_autofree char *words = nw_option_words_dup_for_window(self->product, message);
    return nw_message_row_dup(words);
}

/* NULL: nothing is known yet that would be in the way. */
static char *dup_refusal(NwMakePage *self, NwExportRequest *request) {
    GError *error = NULL;
    char *sentence = NULL;
    const char *ending = nw_option_list_get_ending(self->options);
    nw_export_request_set_out(request, ending ? ending : "."); /* as if it were said */
    if (!nw_export_request_check(request, &error)) {
        sentence = dup_words(self, error->message);
        g_error_free(error);
    }
    nw_export_request_set_out(request, NULL);
    return sentence;
}

static void show_cautions(NwMakePage *self, const NwExportRequest *request) {
    NwExportReport *report = nw_export_report_new();
    nw_export_request_warn(request, report);
    self->cautions = nw_message_rows_replace(self->caution_group, self->cautions);
    gtk_widget_add_css_class(GTK_WIDGET(self->cautions), "cautions");
    nw_message_rows_add_all(self->cautions, "dialog-warning-symbolic", report->cautions);
    gtk_widget_set_visible(GTK_WIDGET(self->caution_group), report->cautions->len > 0);
    g_ptr_array_unref(self->known);
    self->known = g_ptr_array_ref(report->cautions);
    nw_export_report_free(report);
}

/* What depends on the design and the options. */
static void update(NwMakePage *self) {
    NwExportRequest *request = commission_new(self);
    if (!request)
        return;
    char *refusal = dup_refusal(self, request);
    gtk_label_set_text(self->refusal, refusal ? refusal : "");
    gtk_widget_set_visible(self->refusal_icon, refusal != NULL);
    gtk_widget_set_sensitive(self->make_button, refusal == NULL);
    gtk_widget_set_visible(self->reset_button, nw_option_list_is_changed(self->options));
    show_cautions(self, request);
    nw_export_request_free(request);
    g_free(refusal);
}

static void forget(NwMakePage *self) {
    if (self->state != NW_EXPORT_JOB_WORKING)
        nw_export_job_forget(self->maker);
}

static void on_row_selected(NwMakePage *self, GtkListBoxRow *row) {
    const NwProduct *product = row ? nw_product_row_get(GTK_WIDGET(row)) : NULL;
    if (!product || product == self->product)
        return;
    gboolean folder = product->target == NW_EXPORT_TARGET_FOLDER;
    self->product = product;
    gtk_label_set_text(self->title, _(product->title));
    gtk_label_set_text(self->about, _(product->brief));
    gtk_label_set_text(
        self->target,
        folder
            ? _("The files are saved in a folder; existing files with the same names are replaced.")
            : "");
    gtk_widget_set_visible(GTK_WIDGET(self->target), folder);
    nw_option_list_show(self->options, product);
    gtk_widget_set_visible(self->options_head, !nw_option_list_is_empty(self->options));
    gtk_widget_set_visible(GTK_WIDGET(self->options), !nw_option_list_is_empty(self->options));
    gtk_adjustment_set_value(gtk_scrolled_window_get_vadjustment(self->scroller), 0);
    forget(self);
    update(self);
}

static void on_reset(NwMakePage *self) {
    nw_option_list_reset(self->options);
    gtk_widget_child_focus(GTK_WIDGET(self->options), GTK_DIR_TAB_FORWARD);
}

/* ---- making ------------------------------------------------------------------------------ */

static void on_out(const char *path, gpointer data) {
    NwMakePage *self = data;
    NwExportRequest *request = commission_new(self);
    g_clear_object(&self->dialog);
    if (!request)
        return;
    g_free(self->folder);
    self->folder = self->product->target == NW_EXPORT_TARGET_FOLDER ? g_strdup(path)
                                                                    : g_path_get_dirname(path);
    nw_export_request_set_out(request, path);
    if (searches(self->product))
        nw_search_session_lend(session_of(self));
    nw_export_job_start(self->maker, request);
    gtk_widget_grab_focus(self->stop_button);
}

static void on_make(NwMakePage *self) {
    GtkRoot *root = gtk_widget_get_root(GTK_WIDGET(self));
    const NwDesign *design = nw_document_get_design(document_of(self));
    g_clear_object(&self->dialog);
    self->dialog =
        nw_export_dialog_new(root ? GTK_WINDOW(root) : NULL, self->product, design->name,
                             nw_option_list_get_ending(self->options), self->folder, on_out, self);
}

static void on_stop(NwMakePage *self) {
    nw_export_job_stop(self->maker);
}

static void show_progress(NwMakePage *self) {
    g_autofree char *step = NULL;
    double share = nw_export_job_get_progress(self->maker, &step);
    gboolean stopping = nw_export_job_is_stopping(self->maker);
    gtk_label_set_text(self->doing, _(nw_export_job_get_request(self->maker)->product->title));
    g_autofree char *sentence = nw_message_row_dup(step);
    gtk_label_set_text(self->step, stopping ? _("Stopping…") : sentence);
    gtk_progress_bar_set_fraction(self->bar, share);
    gtk_widget_set_sensitive(self->stop_button, !stopping);
}

static void show_outcome(NwMakePage *self) {
    g_autofree char *words = NULL;
    switch (self->state) {
    case NW_EXPORT_JOB_DONE:
        nw_export_result_show_report(self->export_result, nw_export_job_get_report(self->maker),
                                     self->known);
        break;
    case NW_EXPORT_JOB_STOPPED:
        nw_export_result_show_stopped(self->export_result);
        break;
    case NW_EXPORT_JOB_FAILED:
        words = dup_words(self, nw_export_job_get_message(self->maker));
        nw_export_result_show_failure(self->export_result, words);
        break;
    default:
        nw_export_result_hide(self->export_result);
        return;
    }
    gtk_adjustment_set_value(gtk_scrolled_window_get_vadjustment(self->scroller), 0);
}

static void on_maker_changed(NwMakePage *self) {
    NwExportState before = self->state;
    self->state = nw_export_job_get_state(self->maker);
    gboolean works = self->state == NW_EXPORT_JOB_WORKING;
    if (works)
        show_progress(self);
    if (self->state == before)
        return;
    if (before == NW_EXPORT_JOB_WORKING)
        nw_search_session_take_back(session_of(self));
    gtk_stack_set_visible_child_name(self->foot, works ? "busy" : "ready");
    show_outcome(self);
    if (before == NW_EXPORT_JOB_WORKING && gtk_widget_get_mapped(GTK_WIDGET(self)))
        gtk_widget_grab_focus(self->make_button);
}

static void on_made_closed(NwMakePage *self) {
    forget(self);
    gtk_widget_grab_focus(self->make_button);
}

/* ---- the object -------------------------------------------------------------------------- */

static void fill_list(NwMakePage *self) {
    const NwProduct *product;
    for (size_t i = 0; (product = nw_product(i)); i++)
        gtk_list_box_append(self->list, nw_product_row_new(product));
    gtk_list_box_select_row(self->list, gtk_list_box_get_row_at_index(self->list, 0));
}

void nw_make_page_enter(NwMakePage *self) {
    nw_document_end_stroke(document_of(self)); /* what is made is a version */
    const NwExportRequest *request = nw_export_job_get_request(self->maker);
    if (request && request->version != nw_document_get_version(document_of(self)))
        forget(self);
    update(self);
    GtkListBoxRow *row = gtk_list_box_get_selected_row(self->list);
    if (row)
        gtk_widget_grab_focus(GTK_WIDGET(row));
}

static void nw_make_page_dispose(GObject *object) {
    NwMakePage *self = NW_MAKE_PAGE(object);
    if (self->maker) {
        g_signal_handlers_disconnect_by_data(self->maker, self);
        g_object_run_dispose(G_OBJECT(self->maker)); /* ends the thread */
    }
    g_clear_object(&self->maker);
    g_clear_object(&self->dialog);
    g_clear_object(&self->view_state);
    g_clear_pointer(&self->content, gtk_widget_unparent);
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_MAKE_PAGE);
    g_clear_pointer(&self->known, g_ptr_array_unref);
    g_clear_pointer(&self->folder, g_free);
    G_OBJECT_CLASS(nw_make_page_parent_class)->dispose(object);
}

static void nw_make_page_class_init(NwMakePageClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_make_page_dispose;
    g_type_ensure(NW_TYPE_CLAMP);
    g_type_ensure(NW_TYPE_EXPORT_RESULT);
    g_type_ensure(NW_TYPE_OPTION_LIST);
    gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
    gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_GROUP);
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/make_page.ui");
#define CHILD(name) gtk_widget_class_bind_template_child(widget, NwMakePage, name)
    CHILD(content);
    CHILD(list);
    CHILD(scroller);
    CHILD(title);
    CHILD(about);
    CHILD(target);
    CHILD(export_result);
    CHILD(options);
    CHILD(options_head);
    CHILD(reset_button);
    CHILD(caution_group);
    CHILD(foot);
    CHILD(refusal_icon);
    CHILD(make_button);
    CHILD(stop_button);
    CHILD(refusal);
    CHILD(doing);
    CHILD(step);
    CHILD(bar);
#undef CHILD
#define CALLBACK(name) gtk_widget_class_bind_template_callback(widget, name)
    CALLBACK(on_row_selected);
    CALLBACK(on_reset);
    CALLBACK(on_make);
    CALLBACK(on_stop);
    CALLBACK(on_made_closed);
    CALLBACK(update);
#undef CALLBACK
    gtk_widget_class_add_binding_action(widget, GDK_KEY_Escape, 0, "win.back", NULL);
}

static void nw_make_page_init(NwMakePage *self) {
    self->known = g_ptr_array_new();
    self->maker = nw_export_job_new();
    g_signal_connect_swapped(self->maker, "changed", G_CALLBACK(on_maker_changed), self);
    gtk_widget_init_template(GTK_WIDGET(self));
}

NwMakePage *nw_make_page_new(NwViewState *view_state) {
    NwMakePage *self = g_object_new(NW_TYPE_MAKE_PAGE, NULL);
    self->view_state = g_object_ref(view_state);
    fill_list(self);
    return self;
}
