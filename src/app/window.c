#include "app/window.h"

#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "app/common/config.h"
#include "app/window_private.h"
#include "design/frame.h"
#include "format/design_json.h"
#include "text/sentence.h"

G_DEFINE_FINAL_TYPE(NwWindow, nw_window, GTK_TYPE_APPLICATION_WINDOW)

/* ---- notices ----------------------------------------------------------------------------- */

void nw_window_notice(NwWindow *self, const char *sentence) {
    char *valid = g_utf8_make_valid(sentence, -1); /* it may name a file */
    char *whole = nw_sentence_of(valid);
    gtk_label_set_text(self->notice_label, whole);
    g_free(whole);
    g_free(valid);
    gtk_info_bar_set_revealed(self->notice, TRUE);
}

void nw_window_take_error(NwWindow *self, GError *error) {
    nw_window_notice(self, error->message);
    g_error_free(error);
}

static void on_notice_response(NwWindow *self) {
    gtk_info_bar_set_revealed(self->notice, FALSE);
}

static void on_trouble(NwWindow *self, const char *message) {
    nw_window_notice(self, message);
}

/* ---- pages ------------------------------------------------------------------------------- */

gboolean nw_window_shows(NwWindow *self, const char *page) {
    return g_strcmp0(gtk_stack_get_visible_child_name(self->pages), page) == 0;
}

void nw_window_update_titles(NwWindow *self) {
    const NwDesign *design = nw_document_get_design(self->document);
    gboolean bench = nw_window_shows(self, "bench");
    gtk_widget_set_visible(self->start_button, bench);
    gtk_widget_set_visible(self->edit_buttons, bench);
#ifdef NW_MAKING
    gtk_widget_set_visible(self->make_button, bench);
    gtk_widget_set_visible(self->back_button, nw_window_shows(self, "make"));
#endif
    if (nw_window_shows(self, "start") || !design) {
        gtk_label_set_text(self->title, "Notchwright");
        gtk_label_set_text(self->subtitle, _("Designs"));
        gtk_window_set_title(GTK_WINDOW(self), "Notchwright");
        return;
    }
    gboolean read_only = nw_library_is_read_only(nw_document_get_library(self->document));
    gtk_label_set_text(self->title, design->name);
    g_autofree char *listed = g_strdup_printf("%s – Notchwright", design->name);
    gtk_window_set_title(GTK_WINDOW(self), listed); /* what the desktop lists */
    char *subtitle = read_only ? g_strdup(_("The library is read-only; changes are not saved"))
                     : nw_document_is_gone(self->document)
                         ? g_strdup(_("Removed from the library; changes are not saved"))
                     : nw_document_get_version(self->document) < 0
                         ? g_strdup(_("The last change could not be saved"))
                         : g_strdup_printf(ngettext("%zu piece", "%zu pieces", design->piece_count),
                                           design->piece_count);
    gtk_label_set_text(self->subtitle, subtitle);
    g_free(subtitle);
}

void nw_window_show_start(NwWindow *self) {
    nw_start_page_refresh(self->start_page);
    gtk_stack_set_visible_child_name(self->pages, "start");
    nw_window_update_titles(self);
    nw_window_update_actions(self);
}

void nw_window_show_bench(NwWindow *self) {
    gtk_stack_set_visible_child_name(self->pages, "bench");
    nw_window_update_titles(self);
    nw_window_update_actions(self);
}

#ifdef NW_MAKING
void nw_window_show_make(NwWindow *self) {
    gtk_stack_set_visible_child_name(self->pages, "make");
    nw_window_update_titles(self);
    nw_window_update_actions(self);
    nw_make_page_enter(self->make_page);
}

void nw_window_leave_make(NwWindow *self) {
    nw_window_show_bench(self);
    gtk_widget_grab_focus(self->make_button);
}
#endif

static void on_version(NwWindow *self) {
    const NwDesign *design = nw_document_get_design(self->document);
    g_autofree char *last = g_settings_get_string(self->settings, "last-design");
    if (design && strcmp(design->name, last) != 0)
        g_settings_set_string(self->settings, "last-design", design->name);
    nw_window_update_titles(self);
    nw_window_update_actions(self);
}

static void show_below(NwWindow *self) {
    gboolean asked =
        nw_view_state_get_item(self->view_state) && nw_view_state_get_obstacles(self->view_state);
    gtk_stack_set_visible_child_name(self->below, asked ? "obstacles" : "board");
}

static void on_block_closed(NwWindow *self) {
    gtk_stack_set_visible_child_name(self->side, "list");
}

static void open_now(NwWindow *self, gpointer name) {
    GError *error = NULL;
    if (nw_document_open(self->document, name, &error))
        nw_window_show_bench(self);
    else
        nw_window_take_error(self, error);
}

static void on_open_design(NwWindow *self, const char *name) {
    nw_window_before_drop(self, open_now, g_strdup(name), g_free);
}

/* A name that is not taken: "Six Winds", "Six Winds (2)", … */
static char *dup_free_name(NwLibrary *library, const char *wanted) {
    char *name = g_strdup(wanted);
    NwDesignEntry *taken;
    for (int number = 2; (taken = nw_library_find_design(library, name, NULL)); number++) {
        nw_design_entry_free(taken);
        g_free(name);
        name = g_strdup_printf("%s (%d)", wanted, number);
    }
    return name;
}

void nw_window_add_now(NwWindow *self, const NwDesign *design) {
    GError *error = NULL;
    char *name = dup_free_name(nw_document_get_library(self->document), design->name);
    NwDesign *named = nw_design_copy(design);
    free(named->name);
    named->name = strdup(name);
    if (nw_document_create(self->document, named, &error))
        nw_window_show_bench(self);
    else
        nw_window_take_error(self, error);
    nw_design_free(named);
    g_free(name);
}

static void add_now(NwWindow *self, gpointer design) {
    nw_window_add_now(self, design);
}

static void free_design(gpointer design) {
    nw_design_free(design);
}

void nw_window_add_design(NwWindow *self, const NwDesign *design) {
    nw_window_before_drop(self, add_now, nw_design_copy(design), free_design);
}

/* Whether the store has just this design under its name: then it is opened, not added again. */
static gboolean is_in_store(NwLibrary *library, const NwDesign *design) {
    NwDesignEntry *entry = nw_library_find_design(library, design->name, NULL);
    NwDesign *there = entry ? nw_library_load_design(library, entry->current_version, NULL) : NULL;
    NwDesign *settled = nw_design_copy(design);
    nw_design_settle(settled);
    char *a = nw_design_to_json(settled), *b = there ? nw_design_to_json(there) : NULL;
    gboolean same = g_strcmp0(a, b) == 0;
    g_free(a);
    g_free(b);
    nw_design_free(settled);
    nw_design_free(there);
    if (entry)
        nw_design_entry_free(entry);
    return same;
}

void nw_window_refuse_file(NwWindow *self, const char *sentence) {
    if (!nw_document_get_design(self->document))
        nw_window_show_start(self);
    nw_window_notice(self, sentence);
}

void nw_window_open_file(NwWindow *self, const char *path) {
    GError *error = NULL;
    NwDesign *design = nw_design_load(path, &error);
    if (!design) {
        nw_window_refuse_file(self, error->message);
        g_error_free(error);
        return;
    }
    if (is_in_store(nw_document_get_library(self->document), design))
        on_open_design(self, design->name);
    else
        nw_window_add_design(self, design);
    nw_design_free(design);
}

/* A bundled design that is in the store already is opened there, not added again. */
static void on_open_bundled(NwWindow *self, NwDesign *design) {
    NwLibrary *library = nw_document_get_library(self->document);
    NwDesignEntry *there = nw_library_find_design(library, design->name, NULL);
    if (there) {
        nw_design_entry_free(there);
        on_open_design(self, design->name);
        return;
    }
    nw_window_add_design(self, design);
}

static void on_removed(NwWindow *self, gint64 design) {
    if (design == nw_document_get_design_id(self->document))
        nw_document_close(self->document);
}

static void on_new_design(NwWindow *self) {
    g_action_group_activate_action(G_ACTION_GROUP(self), "new-design", NULL);
}

void nw_window_open_last(NwWindow *self) {
    char *name = g_settings_get_string(self->settings, "last-design");
    GError *error = NULL;
    if (*name && nw_document_open(self->document, name, &error))
        nw_window_show_bench(self);
    else
        nw_window_show_start(self);
    g_clear_error(&error); /* it was removed, say: the start page is answer enough */
    g_free(name);
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_window_dispose(GObject *object) {
    NwWindow *self = NW_WINDOW(object);
    g_clear_pointer(&self->watch, nw_store_watch_free);
    if (self->document)
        g_signal_handlers_disconnect_by_data(self->document, self);
    if (self->session)
        g_signal_handlers_disconnect_by_data(self->session, self);
    if (self->view_state)
        g_signal_handlers_disconnect_by_data(self->view_state, self);
    if (self->settings)
        g_signal_handlers_disconnect_by_data(self->settings, self);
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_WINDOW);
    g_clear_object(&self->chooser);
    g_clear_object(&self->view_state);
    if (self->session)
        g_object_run_dispose(
            G_OBJECT(self->session)); /* stops and saves the search before all else */
    g_clear_object(&self->session);
    g_clear_object(&self->document);
    g_clear_object(&self->settings);
    G_OBJECT_CLASS(nw_window_parent_class)->dispose(object);
}

/* While it is still on the screen: a window that goes is not maximized any more. */
static void nw_window_unmap(GtkWidget *widget) {
    nw_window_keep_place(NW_WINDOW(widget));
    GTK_WIDGET_CLASS(nw_window_parent_class)->unmap(widget);
}

static void close_now(NwWindow *self, gpointer unused) {
    (void)unused;
    gtk_window_destroy(GTK_WINDOW(self));
}

static gboolean nw_window_close_request(GtkWindow *window) {
    nw_window_before_drop(NW_WINDOW(window), close_now, NULL, NULL);
    return TRUE; /* by then it is done, or is asked for */
}

static void nw_window_class_init(NwWindowClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_window_dispose;
    widget->unmap = nw_window_unmap;
    GTK_WINDOW_CLASS(class)->close_request = nw_window_close_request;
    g_type_ensure(NW_TYPE_FOLD);
    g_type_ensure(NW_TYPE_START_PAGE);
    g_type_ensure(NW_TYPE_PIECE_PANEL);
    g_type_ensure(NW_TYPE_BOARD_PANEL);
    g_type_ensure(NW_TYPE_OBSTACLE_TABLE);
    g_type_ensure(NW_TYPE_VIEWPORT);
    g_type_ensure(NW_TYPE_APART_LINE);
    g_type_ensure(NW_TYPE_SLIDE_STRIP);
    g_type_ensure(NW_TYPE_ASSEMBLY_PANEL);
    g_type_ensure(NW_TYPE_BLOCK_PANEL);
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/window.ui");
    gtk_widget_class_bind_template_child(widget, NwWindow, title);
    gtk_widget_class_bind_template_child(widget, NwWindow, subtitle);
    gtk_widget_class_bind_template_child(widget, NwWindow, start_button);
    gtk_widget_class_bind_template_child(widget, NwWindow, edit_buttons);
    gtk_widget_class_bind_template_child(widget, NwWindow, undo_button);
    gtk_widget_class_bind_template_child(widget, NwWindow, redo_button);
    gtk_widget_class_bind_template_child(widget, NwWindow, make_button);
    gtk_widget_class_bind_template_child(widget, NwWindow, back_button);
    gtk_widget_class_bind_template_child(widget, NwWindow, notice);
    gtk_widget_class_bind_template_child(widget, NwWindow, notice_label);
    gtk_widget_class_bind_template_child(widget, NwWindow, gone_bar);
    gtk_widget_class_bind_template_child(widget, NwWindow, gone_label);
    gtk_widget_class_bind_template_child(widget, NwWindow, pages);
    gtk_widget_class_bind_template_child(widget, NwWindow, fold);
    gtk_widget_class_bind_template_child(widget, NwWindow, left_paned);
    gtk_widget_class_bind_template_child(widget, NwWindow, right_paned);
    gtk_widget_class_bind_template_child(widget, NwWindow, middle_paned);
    gtk_widget_class_bind_template_child(widget, NwWindow, start_page);
    gtk_widget_class_bind_template_child(widget, NwWindow, piece_panel);
    gtk_widget_class_bind_template_child(widget, NwWindow, below);
    gtk_widget_class_bind_template_child(widget, NwWindow, board_panel);
    gtk_widget_class_bind_template_child(widget, NwWindow, obstacles);
    gtk_widget_class_bind_template_child(widget, NwWindow, viewport);
    gtk_widget_class_bind_template_child(widget, NwWindow, apart_line);
    gtk_widget_class_bind_template_child(widget, NwWindow, slide_strip);
    gtk_widget_class_bind_template_child(widget, NwWindow, side);
    gtk_widget_class_bind_template_child(widget, NwWindow, assembly_panel);
    gtk_widget_class_bind_template_child(widget, NwWindow, block_panel);
}

static void nw_window_init(NwWindow *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
    g_signal_connect_swapped(self->notice, "response", G_CALLBACK(on_notice_response), self);
    self->settings = g_settings_new(NW_APP_ID);
    GtkWidget *const panes[NW_FOLD_PANES] = {
        [NW_FOLD_PIECES] = GTK_WIDGET(self->piece_panel),
        [NW_FOLD_VIEW] = GTK_WIDGET(self->middle_paned),
        [NW_FOLD_ASSEMBLIES] = GTK_WIDGET(self->side),
    };
    nw_fold_set_panes(self->fold, panes, GTK_WIDGET(self->viewport));
    nw_window_restore_place(self);
}

NwWindow *nw_window_new(GtkApplication *app, NwLibrary *library) {
    NwWindow *self = g_object_new(NW_TYPE_WINDOW, "application", app, NULL);
    self->document = nw_document_new(library);
    self->session = nw_search_session_new(self->document);
    self->view_state = nw_view_state_new(self->document, self->session);
    g_settings_bind(self->settings, "look", self->view_state, "look", G_SETTINGS_BIND_DEFAULT);
    nw_window_add_actions(self);
    nw_start_page_set_view_state(self->start_page, self->view_state);
    nw_piece_panel_set_view_state(self->piece_panel, self->view_state);
    nw_board_panel_set_view_state(self->board_panel, self->view_state);
    nw_obstacle_table_set_view_state(self->obstacles, self->view_state);
    nw_viewport_set_view_state(self->viewport, self->view_state);
    nw_apart_line_set_view_state(self->apart_line, self->view_state);
    nw_slide_strip_set_view_state(self->slide_strip, self->view_state);
    nw_assembly_panel_set_view_state(self->assembly_panel, self->view_state);
    nw_block_panel_set_view_state(self->block_panel, self->view_state);
#ifdef NW_MAKING
    self->make_page = nw_make_page_new(self->view_state);
    gtk_stack_add_named(self->pages, GTK_WIDGET(self->make_page), "make");
#endif
    g_signal_connect_swapped(self->document, "notify::version", G_CALLBACK(on_version), self);
    g_signal_connect_swapped(self->document, "trouble", G_CALLBACK(on_trouble), self);
    nw_window_watch_store(self);
    g_signal_connect_swapped(self->session, "changed", G_CALLBACK(nw_window_update_actions), self);
    g_object_connect(self->view_state,                                 /* */
                     "swapped-signal::notify::item", show_below, self, /* */
                     "swapped-signal::notify::obstacles", show_below, self,
                     "swapped-signal::notify::item", nw_window_update_actions, self, NULL);
    g_signal_connect_swapped(self->block_panel, "closed", G_CALLBACK(on_block_closed), self);
    g_signal_connect_swapped(self->start_page, "open-design", G_CALLBACK(on_open_design), self);
    g_signal_connect_swapped(self->start_page, "open-bundled", G_CALLBACK(on_open_bundled), self);
    g_signal_connect_swapped(self->start_page, "removed", G_CALLBACK(on_removed), self);
    g_signal_connect_swapped(self->start_page, "new-design", G_CALLBACK(on_new_design), self);
    nw_window_update_titles(self);
    nw_window_update_actions(self);
    return self;
}
