#include "app/blocking/block_panel.h"

#include <glib/gi18n.h>

#include "app/blocking/pending_row.h"
#include "app/blocking/proposal_matrix.h"
#include "app/blocking/proposal_row.h"
#include "session/block_session.h"
#include "session/block_words.h"
#include "session/proposal_words.h"

enum { MISSES_SHOWN = 40 };

struct _NwBlockPanel {
    GtkWidget parent;
    GtkLabel *title, *status, *misses; /* of the template, as the rest */
    GtkButton *run_button;
    GtkWidget *back_button, *stop_button, *pairs_button, *all_cooks, *near, *killing;
    GtkProgressBar *bar;
    GtkListBox *list;
    GtkGrid *table;

    NwViewState *view_state;
    NwBlockSession *session;
    NwAssemblyItem *cook; /* asked about, also while all are; NULL: closed */
    guint rows;           /* made so far for this question */
    guint tabled;         /* proposals in the table */
};

G_DEFINE_FINAL_TYPE(NwBlockPanel, nw_block_panel, GTK_TYPE_WIDGET)

enum { CLOSED, SIGNALS };
static guint signals[SIGNALS];

/* ---- lighting ---------------------------------------------------------------------------- */

static void light(NwBlockPanel *self, GtkWidget *row) {
    if (self->cook)
        nw_view_state_set_proposal(self->view_state, row ? nw_proposal_row_get(row) : NULL, 0);
}

static void on_row_selected(NwBlockPanel *self, GtkListBoxRow *row) {
    if (row)
        light(self, GTK_WIDGET(row));
}

static void on_enter(GtkEventController *controller, double x G_GNUC_UNUSED, double y G_GNUC_UNUSED,
                     NwBlockPanel *self) {
    light(self, gtk_event_controller_get_widget(controller));
}

/* The pointer has left: back to the chosen one. */
static void on_leave(GtkEventController *controller G_GNUC_UNUSED, NwBlockPanel *self) {
    light(self, GTK_WIDGET(gtk_list_box_get_selected_row(self->list)));
}

static GtkWidget *make_row(gpointer item, gpointer data) {
    NwBlockPanel *self = data;
    if (!NW_IS_PROPOSAL_ITEM(item))
        return nw_pending_row_new(self->view_state, self->session);
    GtkWidget *row = nw_proposal_row_new(item, self->view_state, self->rows++);
    GtkEventController *motion = gtk_event_controller_motion_new();
    g_signal_connect(motion, "enter", G_CALLBACK(on_enter), self);
    g_signal_connect(motion, "leave", G_CALLBACK(on_leave), self);
    gtk_widget_add_controller(row, motion);
    return row;
}

/* ---- what is shown ----------------------------------------------------------------------- */

/* Shows the label with the text, or hides what it is in for NULL; frees the text. */
static void take_text(GtkLabel *label, GtkWidget *whole, char *text) {
    gtk_widget_set_visible(whole, text != NULL);
    if (text && strcmp(gtk_label_get_text(label), text) != 0)
        gtk_label_set_text(label, text);
    g_free(text);
}

static void show_misses(NwBlockPanel *self) {
    char *missed = nw_block_words_missed(self->session), *text = NULL;
    if (missed) {
        char *lines = nw_block_words_misses(
            self->session, nw_document_get_design(nw_view_state_get_document(self->view_state)),
            nw_view_state_get_board_axis(self->view_state), MISSES_SHOWN);
        text = g_strdup_printf("%s\n\n%s", missed, lines);
        g_free(lines);
    }
    g_free(missed);
    take_text(self->misses, self->near, text);
}

static void show_buttons(NwBlockPanel *self, NwBlockSessionState state) {
    gboolean paused = state == NW_BLOCK_SESSION_PAUSED, stopped = state == NW_BLOCK_SESSION_STOPPED;
    gboolean running = state == NW_BLOCK_SESSION_WORKING || state == NW_BLOCK_SESSION_PREPARING;
    NwAdvisorProgress progress;
    nw_block_session_get_progress(self->session, &progress);
    gtk_button_set_label(self->run_button, paused || stopped ? _("Resume") : _("Pause"));
    gtk_widget_set_visible(GTK_WIDGET(self->run_button), running || paused || stopped);
    gtk_widget_set_visible(self->stop_button, running || paused);
    double share = CLAMP(progress.share, 0, 1);
    char *percent = g_strdup_printf(_("%.0f %%"), 100 * share);
    gtk_widget_set_visible(GTK_WIDGET(self->bar), running || paused || stopped);
    gtk_progress_bar_set_fraction(self->bar, share);
    gtk_progress_bar_set_text(self->bar, percent);
    g_free(percent);
    gtk_widget_set_visible(self->pairs_button, state == NW_BLOCK_SESSION_DONE &&
                                                   progress.changes == 1 &&
                                                   !nw_block_session_get_pairs(self->session));
}

static void show_title(NwBlockPanel *self) {
    guint64 cook = nw_block_session_get_cook(self->session);
    char *name =
        cook ? nw_proposal_words_cook(nw_view_state_get_search_session(self->view_state), cook)
             : g_strdup(_("All Cooks"));
    /* Translators: "Block Cook 3" */
    char *title = g_strdup_printf(_("Block %s"), name);
    gtk_label_set_text(self->title, title);
    g_free(name);
    g_free(title);
}

static void show_table(NwBlockPanel *self) {
    GListModel *list = nw_block_session_get_list(self->session);
    guint count = g_list_model_get_n_items(list);
    if (count == self->tabled && count)
        return;
    guint cooks = nw_proposal_matrix_fill(self->table, self->view_state, list);
    self->tabled = count;
    gtk_widget_set_visible(self->killing, cooks > 1 && count);
    gtk_widget_set_visible(self->all_cooks, cooks > 1);
}

/* The row behind the last proposal is that of the candidate, so the first is one only if there are
 * some. If the focus is in the panel it goes there too, but not before: it would be pushed down. */
static void choose_first(NwBlockPanel *self) {
    guint proposals = g_list_model_get_n_items(nw_block_session_get_list(self->session));
    if (!proposals || gtk_list_box_get_selected_row(self->list))
        return;
    GtkListBoxRow *first = gtk_list_box_get_row_at_index(self->list, 0);
    gtk_list_box_select_row(self->list, first);
    if (gtk_widget_get_focus_child(GTK_WIDGET(self)))
        gtk_widget_grab_focus(GTK_WIDGET(first));
}

static void close_panel(NwBlockPanel *self) {
    if (!self->cook)
        return;
    g_clear_object(&self->cook);
    nw_block_session_drop(self->session);
    nw_view_state_set_proposal(self->view_state, NULL, 0);
    g_signal_emit(self, signals[CLOSED], 0);
}

static void on_session_changed(NwBlockPanel *self) {
    NwBlockSessionState state = nw_block_session_get_state(self->session);
    if (!self->cook)
        return;
    if (state == NW_BLOCK_SESSION_IDLE) { /* the design is another */
        close_panel(self);
        return;
    }
    show_table(self);
    show_buttons(self, state);
    show_misses(self);
    char *status = nw_block_words_status(self->session);
    gtk_label_set_text(self->status, status);
    g_free(status);
    choose_first(self);
}

/* ---- asking ------------------------------------------------------------------------------ */

static void ask(NwBlockPanel *self, gboolean pairs) {
    gboolean all = gtk_check_button_get_active(GTK_CHECK_BUTTON(self->all_cooks));
    self->rows = self->tabled = 0;
    nw_view_state_set_proposal(self->view_state, NULL, 0);
    nw_block_session_ask(self->session, all ? 0 : nw_assembly_item_get(self->cook)->key, pairs);
    show_title(self);
}

void nw_block_panel_ask(NwBlockPanel *self, NwAssemblyItem *cook) {
    g_clear_object(&self->cook); /* so that the switch asks nothing */
    gtk_check_button_set_active(GTK_CHECK_BUTTON(self->all_cooks), FALSE);
    self->cook = g_object_ref(cook);
    ask(self, FALSE);
    gtk_widget_grab_focus(self->back_button);
}

static void on_all_cooks(NwBlockPanel *self) {
    if (self->cook)
        ask(self, nw_block_session_get_pairs(self->session));
}

static void on_pairs(NwBlockPanel *self) {
    ask(self, TRUE);
}

static void on_run(NwBlockPanel *self) {
    NwBlockSessionState state = nw_block_session_get_state(self->session);
    if (state == NW_BLOCK_SESSION_STOPPED)
        ask(self, nw_block_session_get_pairs(self->session)); /* which takes it up again */
    else if (state == NW_BLOCK_SESSION_PAUSED)
        nw_block_session_go_on(self->session);
    else
        nw_block_session_pause(self->session);
}

static void on_stop(NwBlockPanel *self) {
    nw_block_session_stop(self->session);
}

/* ---- leaving ----------------------------------------------------------------------------- */

static void on_back(GtkWidget *widget, const char *action G_GNUC_UNUSED,
                    GVariant *parameter G_GNUC_UNUSED) {
    NwBlockPanel *self = NW_BLOCK_PANEL(widget);
    NwAssemblyItem *cook = self->cook ? g_object_ref(self->cook) : NULL;
    close_panel(self);
    if (cook)
        nw_view_state_set_item(self->view_state, cook);
    g_clear_object(&cook);
}

static void on_apply(GtkWidget *widget, const char *action G_GNUC_UNUSED, GVariant *parameter) {
    NwBlockPanel *self = NW_BLOCK_PANEL(widget);
    GListModel *list = nw_block_session_get_list(self->session);
    NwProposalItem *advice = g_list_model_get_item(list, g_variant_get_uint32(parameter));
    gboolean applied = advice && nw_block_session_apply(self->session, advice);
    g_clear_object(&advice);
    if (applied)
        close_panel(self);
}

/* ---- the widget -------------------------------------------------------------------------- */

/* The proposals, and an item that stands for the candidate behind them. */
static GListModel *rows_of(NwBlockSession *session) {
    GListStore *lists = g_list_store_new(G_TYPE_LIST_MODEL);
    GListStore *last = g_list_store_new(NW_TYPE_BLOCK_SESSION);
    g_list_store_append(last, session);
    g_list_store_append(lists, nw_block_session_get_list(session));
    g_list_store_append(lists, last);
    g_object_unref(last);
    return G_LIST_MODEL(gtk_flatten_list_model_new(G_LIST_MODEL(lists)));
}

void nw_block_panel_set_view_state(NwBlockPanel *self, NwViewState *view_state) {
    g_return_if_fail(!self->view_state);
    NwDocument *document = nw_view_state_get_document(view_state);
    self->view_state = g_object_ref(view_state);
    self->session = nw_block_session_new(document, nw_view_state_get_search_session(view_state));
    g_signal_connect_swapped(self->session, "changed", G_CALLBACK(on_session_changed), self);
    GListModel *rows = rows_of(self->session);
    gtk_list_box_bind_model(self->list, rows, make_row, self, NULL);
    g_object_unref(rows);
}

static void nw_block_panel_dispose(GObject *object) {
    NwBlockPanel *self = NW_BLOCK_PANEL(object);
    g_clear_object(&self->cook);
    if (self->view_state) {
        g_signal_handlers_disconnect_by_data(self->session, self);
        gtk_list_box_bind_model(self->list, NULL, NULL, NULL, NULL);
        g_object_run_dispose(G_OBJECT(self->session)); /* ends the thread */
    }
    g_clear_object(&self->session);
    g_clear_object(&self->view_state);
    GtkWidget *child = gtk_widget_get_first_child(GTK_WIDGET(self));
    g_clear_pointer(&child, gtk_widget_unparent);
    G_OBJECT_CLASS(nw_block_panel_parent_class)->dispose(object);
}

static void nw_block_panel_class_init(NwBlockPanelClass *class) {
    GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_block_panel_dispose;
    signals[CLOSED] = g_signal_new("closed", NW_TYPE_BLOCK_PANEL, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
    gtk_widget_class_set_layout_manager_type(widget_class, GTK_TYPE_BIN_LAYOUT);
    gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
    gtk_widget_class_set_template_from_resource(widget_class,
                                                "/net/notchwright/Notchwright/ui/block_panel.ui");
#define CHILD(name) gtk_widget_class_bind_template_child(widget_class, NwBlockPanel, name)
    CHILD(title);
    CHILD(status);
    CHILD(misses);
    CHILD(run_button);
    CHILD(back_button);
    CHILD(stop_button);
    CHILD(pairs_button);
    CHILD(all_cooks);
    CHILD(near);
    CHILD(killing);
    CHILD(bar);
    CHILD(list);
    CHILD(table);
#undef CHILD
#define CALLBACK(name) gtk_widget_class_bind_template_callback(widget_class, name)
    CALLBACK(on_row_selected);
    CALLBACK(on_all_cooks);
    CALLBACK(on_pairs);
    CALLBACK(on_run);
    CALLBACK(on_stop);
#undef CALLBACK
    gtk_widget_class_install_action(widget_class, "block.back", NULL, on_back);
    gtk_widget_class_install_action(widget_class, "block.apply", "u", on_apply);
    gtk_widget_class_add_binding_action(widget_class, GDK_KEY_Escape, 0, "block.back", NULL);
}

static void nw_block_panel_init(NwBlockPanel *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
}
