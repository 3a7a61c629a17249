#include "app/make_page.h"

#include <glib/gi18n.h>

#include "app/column.h"
#include "app/config.h"
#include "app/made_view.h"
#include "app/maker.h"
#include "app/option_list.h"
#include "app/out_dialog.h"
#include "app/product_row.h"
#include "app/sentence.h"
#include "product/option_words.h"

struct _NwMakePage {
    GtkWidget parent;
    GtkWidget *content; /* of the template, as the rest */
    GtkListBox *list;
    GtkScrolledWindow *scroller;
    GtkLabel *title, *about, *target;
    NwMadeView *made_view;
    NwOptionList *options;
    GtkWidget *options_head, *reset_button;
    GtkBox *caution_group, *cautions; /* the second is made anew each time */
    GtkStack *foot;
    GtkWidget *refusal_icon, *make_button, *stop_button;
    GtkLabel *refusal, *doing, *step;
    GtkProgressBar *bar;

    NwStage *stage;
    NwMaker *maker;
    NwMakerState state;       /* of the maker, when it was last looked at */
    const NwProduct *product; /* that is shown */
    GPtrArray *known;         /* its cautions */
    GtkFileChooserNative *dialog;
    char *folder; /* that was written into last */
};

G_DEFINE_FINAL_TYPE(NwMakePage, nw_make_page, GTK_TYPE_WIDGET)

static NwDocument *document_of(NwMakePage *self) {
    return nw_stage_get_document(self->stage);
}

static NwHunt *hunt_of(NwMakePage *self) {
    return nw_stage_get_hunt(self->stage);
}

/* ---- the commission ---------------------------------------------------------------------- */

/* Of the search, a product may take whether pieces slide along diagonals. */
static void fill_search(NwMakePage *self, NwCommission *commission) {
    for (size_t i = 0; i < self->product->option_count; i++) {
        const NwOption *option = &self->product->options[i];
        if (option->search && option->kind == NW_OPTION_SWITCH &&
            g_str_has_prefix(option->name, "diagonal"))
            nw_commission_set_switch(commission, option->name,
                                     nw_hunt_get_diagonals(hunt_of(self)));
    }
}

static gboolean searches(const NwProduct *product) {
    for (size_t i = 0; i < product->option_count; i++)
        if (product->options[i].search)
            return TRUE;
    return FALSE;
}

/* All that is known before it is said where to write. NULL without a product or a design. */
static NwCommission *commission_new(NwMakePage *self) {
    NwDocument *document = document_of(self);
    const NwDesign *design = nw_document_get_design(document);
    if (!self->product || !design)
        return NULL;
    NwCommission *commission = nw_commission_new(self->product, design);
    nw_commission_set_source(commission, nw_library_get_path(nw_document_get_library(document)),
                             nw_document_get_version(document));
    nw_option_list_fill(self->options, commission);
    fill_search(self, commission);
    return commission;
}

/* ---- what is shown of a product ---------------------------------------------------------- */

/* What a product has to say, in the words of the window. */
static char *dup_words(NwMakePage *self, const char *message) {
    g_autofree char *words = nw_option_words_dup_for_window(self->product, message);
    return nw_sentence_dup(words);
}

/* NULL: nothing is known yet that would be in the way. */
static char *dup_refusal(NwMakePage *self, NwCommission *commission) {
    GError *error = NULL;
    char *sentence = NULL;
    const char *ending = nw_option_list_get_ending(self->options);
    nw_commission_set_out(commission, ending ? ending : "."); /* as if it were said */
    if (!nw_commission_check(commission, &error)) {
        sentence = dup_words(self, error->message);
        g_error_free(error);
    }
    nw_commission_set_out(commission, NULL);
    return sentence;
}

static void show_cautions(NwMakePage *self, const NwCommission *commission) {
    NwMade *made = nw_made_new();
    nw_commission_warn(commission, made);
    self->cautions = nw_sentences_anew(self->caution_group, self->cautions);
    gtk_widget_add_css_class(GTK_WIDGET(self->cautions), "cautions");
    nw_sentences_add_all(self->cautions, "dialog-warning-symbolic", made->cautions);
    gtk_widget_set_visible(GTK_WIDGET(self->caution_group), made->cautions->len > 0);
    g_ptr_array_unref(self->known);
    self->known = g_ptr_array_ref(made->cautions);
    nw_made_free(made);
}

/* What depends on the design and the options. */
static void update(NwMakePage *self) {
    NwCommission *commission = commission_new(self);
    if (!commission)
        return;
    char *refusal = dup_refusal(self, commission);
    gtk_label_set_text(self->refusal, refusal ? refusal : "");
    gtk_widget_set_visible(self->refusal_icon, refusal != NULL);
    gtk_widget_set_sensitive(self->make_button, refusal == NULL);
    gtk_widget_set_visible(self->reset_button, nw_option_list_is_changed(self->options));
    show_cautions(self, commission);
    nw_commission_free(commission);
    g_free(refusal);
}

static void forget(NwMakePage *self) {
    if (self->state != NW_MAKER_WORKING)
        nw_maker_forget(self->maker);
}

static void on_row_selected(NwMakePage *self, GtkListBoxRow *row) {
    const NwProduct *product = row ? nw_product_row_get(GTK_WIDGET(row)) : NULL;
    if (!product || product == self->product)
        return;
    gboolean folder = product->target == NW_TARGET_FOLDER;
    self->product = product;
    gtk_label_set_text(self->title, _(product->title));
    gtk_label_set_text(self->about, _(product->brief));
    gtk_label_set_text(self->target, folder ? _("Several files are written into a folder; files of "
                                                "the same names there are replaced.")
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
    NwCommission *commission = commission_new(self);
    g_clear_object(&self->dialog);
    if (!commission)
        return;
    g_free(self->folder);
    self->folder =
        self->product->target == NW_TARGET_FOLDER ? g_strdup(path) : g_path_get_dirname(path);
    nw_commission_set_out(commission, path);
    if (searches(self->product))
        nw_hunt_lend(hunt_of(self));
    nw_maker_start(self->maker, commission);
    gtk_widget_grab_focus(self->stop_button);
}

static void on_make(NwMakePage *self) {
    GtkRoot *root = gtk_widget_get_root(GTK_WIDGET(self));
    const NwDesign *design = nw_document_get_design(document_of(self));
    g_clear_object(&self->dialog);
    self->dialog =
        nw_out_dialog_new(root ? GTK_WINDOW(root) : NULL, self->product, design->name,
                          nw_option_list_get_ending(self->options), self->folder, on_out, self);
}

static void on_stop(NwMakePage *self) {
    nw_maker_stop(self->maker);
}

static void show_progress(NwMakePage *self) {
    g_autofree char *step = NULL;
    double share = nw_maker_get_progress(self->maker, &step);
    gboolean stopping = nw_maker_is_stopping(self->maker);
    gtk_label_set_text(self->doing, _(nw_maker_get_commission(self->maker)->product->title));
    g_autofree char *sentence = nw_sentence_dup(step);
    gtk_label_set_text(self->step, stopping ? _("Stopping…") : sentence);
    gtk_progress_bar_set_fraction(self->bar, share);
    gtk_widget_set_sensitive(self->stop_button, !stopping);
}

static void show_outcome(NwMakePage *self) {
    g_autofree char *words = NULL;
    switch (self->state) {
    case NW_MAKER_DONE:
        nw_made_view_show_made(self->made_view, nw_maker_get_made(self->maker), self->known);
        break;
    case NW_MAKER_STOPPED:
        nw_made_view_show_stopped(self->made_view);
        break;
    case NW_MAKER_FAILED:
        words = dup_words(self, nw_maker_get_message(self->maker));
        nw_made_view_show_failure(self->made_view, words);
        break;
    default:
        nw_made_view_hide(self->made_view);
        return;
    }
    gtk_adjustment_set_value(gtk_scrolled_window_get_vadjustment(self->scroller), 0);
}

static void on_maker_changed(NwMakePage *self) {
    NwMakerState before = self->state;
    self->state = nw_maker_get_state(self->maker);
    gboolean works = self->state == NW_MAKER_WORKING;
    if (works)
        show_progress(self);
    if (self->state == before)
        return;
    if (before == NW_MAKER_WORKING)
        nw_hunt_take_back(hunt_of(self));
    gtk_stack_set_visible_child_name(self->foot, works ? "busy" : "ready");
    show_outcome(self);
    if (before == NW_MAKER_WORKING && gtk_widget_get_mapped(GTK_WIDGET(self)))
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
    const NwCommission *commission = nw_maker_get_commission(self->maker);
    if (commission && commission->version != nw_document_get_version(document_of(self)))
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
    g_clear_object(&self->stage);
    g_clear_pointer(&self->content, gtk_widget_unparent);
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_MAKE_PAGE);
    g_clear_pointer(&self->known, g_ptr_array_unref);
    g_clear_pointer(&self->folder, g_free);
    G_OBJECT_CLASS(nw_make_page_parent_class)->dispose(object);
}

static void nw_make_page_class_init(NwMakePageClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_make_page_dispose;
    g_type_ensure(NW_TYPE_COLUMN);
    g_type_ensure(NW_TYPE_MADE_VIEW);
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
    CHILD(made_view);
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
    self->maker = nw_maker_new();
    g_signal_connect_swapped(self->maker, "changed", G_CALLBACK(on_maker_changed), self);
    gtk_widget_init_template(GTK_WIDGET(self));
}

NwMakePage *nw_make_page_new(NwStage *stage) {
    NwMakePage *self = g_object_new(NW_TYPE_MAKE_PAGE, NULL);
    self->stage = g_object_ref(stage);
    fill_list(self);
    return self;
}
