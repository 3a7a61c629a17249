#include "app/assemblies/assembly_panel.h"

#include <glib/gi18n.h>

#include "app/assemblies/assembly_filter.h"
#include "app/assemblies/assembly_list.h"
#include "app/assemblies/search_bar.h"
#include "text/words.h"

struct _NwAssemblyPanel {
    GtkWidget parent;
    NwSearchBar *status; /* of the template, as the rest */
    NwAssemblyFilter *filter;
    GtkStack *pages;
    NwAssemblyList *list;
    GtkLabel *empty_title, *empty_hint;
    GtkWidget *show_all, *acts;
    GtkLabel *difference;
    GtkWidget *adopt_button, *beside_button, *sketch_button;
    GMenuModel *menu;

    GtkWidget *popover; /* the menu of the chosen row */
    NwViewState *view_state;
};

G_DEFINE_FINAL_TYPE(NwAssemblyPanel, nw_assembly_panel, GTK_TYPE_WIDGET)

static NwSearchSession *session_of(NwAssemblyPanel *self) {
    return nw_view_state_get_search_session(self->view_state);
}

static guint count_all(NwAssemblyPanel *self) {
    guint count = 0;
    for (int s = 0; s < NW_STATE_COUNT; s++)
        count += nw_assembly_list_get_count(self->list, (NwAssemblyState)s);
    return count;
}

/* ---- an empty list ----------------------------------------------------------------------- */

static const struct {
    const char *title, *hint;
} empty[] = {
    [NW_SEARCH_SESSION_IDLE] =
        {N_("Not searched yet"),
         N_("Press Search to find every way these pieces fit, and which can be put together.")},
    [NW_SEARCH_SESSION_RUNNING] = {N_("Searching…"),
                                   N_("Assemblies appear here as soon as they are found.")},
    [NW_SEARCH_SESSION_PAUSED] = {N_("Nothing found so far"),
                                  N_("Press Resume to search the rest.")},
    [NW_SEARCH_SESSION_COMPLETE] = {N_("These pieces do not fit"),
                                    N_("These pieces cannot fill the outside shape. Change a piece "
                                       "or the shape, then press Search.")},
    [NW_SEARCH_SESSION_STALE] = {N_("The design has changed"), N_("Press Search Again.")},
    [NW_SEARCH_SESSION_FAILED] = {N_("The search failed"), N_("Press Search Again.")},
    [NW_SEARCH_SESSION_READING] = {N_("Loading assemblies"),
                                   N_("Assemblies appear here as they are read.")},
};

/* Before there is anything to search, the way on is to the left. */
static gboolean has_parts(NwAssemblyPanel *self) {
    const NwDesign *design = nw_document_get_design(nw_view_state_get_document(self->view_state));
    for (size_t i = 0; design && i < design->piece_count; i++)
        if (design->pieces[i].solid->count)
            return TRUE;
    return FALSE;
}

static void show_empty(NwAssemblyPanel *self, gboolean hidden) {
    NwSearchSessionState state = nw_search_session_get_state(session_of(self));
    const char *title = _(empty[state].title), *hint = _(empty[state].hint);
    if (hidden) {
        title = _("No matches");
        hint = _("No assembly matches the filter.");
    } else if (state == NW_SEARCH_SESSION_IDLE && !has_parts(self)) {
        title = _("Add pieces to search");
        hint = _("Add pieces on the left and paint their parts. Then search here for every way "
                 "they fit.");
    }
    gtk_label_set_text(self->empty_title, title);
    gtk_label_set_text(self->empty_hint, hint);
}

static void show_page(NwAssemblyPanel *self) {
    guint all = count_all(self), shown = nw_assembly_list_get_shown(self->list);
    gboolean hidden = all && !shown;
    gtk_stack_set_visible_child_name(self->pages, shown ? "list" : "empty");
    show_empty(self, hidden);
    gtk_widget_set_visible(self->show_all, hidden);
    gtk_widget_set_visible(GTK_WIDGET(self->filter), all > 0);
    gtk_widget_set_visible(self->acts, all > 0);
}

/* ---- what can be done with the chosen one ------------------------------------------------ */

static char *dup_difference(NwAssemblyPanel *self, NwAssemblyItem *item) {
    guint32 moved = 0;
    int difference = nw_assembly_item_get_difference(item, &moved);
    const NwFoundAssembly *finding = nw_assembly_item_get(item);
    const NwDesign *design = nw_search_session_get_design(session_of(self));
    if (finding->intended)
        return g_strdup(_("This is the intended assembly."));
    if (difference < 0 || !design)
        return g_strdup(_("The design has no intended assembly yet."));
    char *who = nw_words_bodies(design, finding, moved);
    char *text = g_strdup_printf(ngettext("%d piece is in another place than intended: %s.",
                                          "%d pieces are in another place than intended: %s.",
                                          (unsigned long)difference),
                                 difference, who);
    g_free(who);
    return text;
}

/* What to press next while no assembly is chosen. */
static const char *next_step(NwAssemblyPanel *self) {
    if (nw_search_session_get_state(session_of(self)) == NW_SEARCH_SESSION_STALE)
        return _(
            "These are assemblies of an earlier state of the design. Search again to update them.");
    if (!nw_assembly_list_get_intended(self->list))
        return _("Select the assembly you want and make it the intended one.");
    if (nw_assembly_list_get_count(self->list, NW_STATE_COOK))
        return _("Select a cook to see how it differs and comes apart, and to block it.");
    return _("Choose an assembly to see how it comes apart.");
}

static void update_acts(NwAssemblyPanel *self) {
    NwAssemblyItem *item = nw_view_state_get_item(self->view_state);
    gboolean stale = nw_search_session_get_state(session_of(self)) == NW_SEARCH_SESSION_STALE;
    char *difference = item ? dup_difference(self, item) : g_strdup(next_step(self));
    gtk_label_set_text(self->difference, difference);
    gtk_button_set_label(GTK_BUTTON(self->beside_button), nw_view_state_get_beside(self->view_state)
                                                              ? _("Stop Comparing")
                                                              : _("Compare with Intended"));
    gtk_widget_set_tooltip_text(
        self->adopt_button,
        stale ? _("The design has changed since this search; press Search Again first.")
              : _("Make this the answer; every other assembly that comes apart becomes a cook"));
    g_free(difference);
}

static void on_menu(NwAssemblyPanel *self, double x, double y) {
    if (!self->popover) {
        self->popover = gtk_popover_menu_new_from_model(self->menu);
        gtk_popover_set_has_arrow(GTK_POPOVER(self->popover), FALSE);
        gtk_widget_set_halign(self->popover, GTK_ALIGN_START);
        gtk_widget_set_parent(self->popover, GTK_WIDGET(self));
    }
    gtk_widget_translate_coordinates(GTK_WIDGET(self->list), GTK_WIDGET(self), x, y, &x, &y);
    gtk_popover_set_pointing_to(GTK_POPOVER(self->popover), &(GdkRectangle){(int)x, (int)y, 1, 1});
    gtk_popover_popup(GTK_POPOVER(self->popover));
}

/* ---- following ---------------------------------------------------------------------------- */

static void on_chosen(NwAssemblyPanel *self) {
    NwAssemblyItem *item = nw_assembly_list_get_chosen(self->list);
    gboolean beside = nw_view_state_get_beside(self->view_state) != NULL;
    /* Beside itself the intended one would say nothing. */
    if (beside && nw_assembly_item_get(item)->intended)
        nw_view_state_set_beside(self->view_state, NULL);
    nw_view_state_set_item(self->view_state, item);
}

/* Enter on a row: from the beginning. */
static void on_activated(NwAssemblyPanel *self) {
    on_chosen(self);
    nw_view_state_set_position(self->view_state, 0);
}

static void on_tally(NwAssemblyPanel *self) {
    if (!self->view_state)
        return;
    for (int s = 0; s < NW_STATE_COUNT; s++)
        nw_assembly_filter_set_count(self->filter, (NwAssemblyState)s,
                                     nw_assembly_list_get_count(self->list, (NwAssemblyState)s));
    /* A new search begins: what is on the view state belongs to no list any more. */
    if (!count_all(self))
        nw_view_state_set_item(self->view_state, NULL);
    show_page(self);
}

static void on_narrowed(NwAssemblyPanel *self) {
    nw_assembly_list_narrow(self->list, nw_assembly_filter_get_states(self->filter),
                            nw_assembly_filter_get_piece(self->filter));
    on_tally(self);
}

static void on_show_all(NwAssemblyPanel *self) {
    nw_assembly_filter_clear(self->filter);
}

static void on_search_changed(NwAssemblyPanel *self) {
    const NwDesign *design = nw_search_session_get_design(session_of(self));
    nw_assembly_list_set_design(self->list, design);
    nw_assembly_filter_set_design(self->filter, design);
    show_page(self);
    update_acts(self);
}

static void on_view_state_changed(NwAssemblyPanel *self) {
    nw_assembly_list_choose(self->list, nw_view_state_get_item(self->view_state));
    update_acts(self);
}

void nw_assembly_panel_set_view_state(NwAssemblyPanel *self, NwViewState *view_state) {
    g_return_if_fail(!self->view_state);
    self->view_state = g_object_ref(view_state);
    nw_search_bar_set_session(self->status, session_of(self));
    nw_assembly_list_set_design(self->list, nw_search_session_get_design(session_of(self)));
    nw_assembly_list_set_assemblies(self->list, nw_search_session_get_assemblies(session_of(self)));
    g_signal_connect_swapped(view_state, "notify::item", G_CALLBACK(on_view_state_changed), self);
    g_signal_connect_swapped(view_state, "notify::beside", G_CALLBACK(update_acts), self);
    g_signal_connect_object(nw_view_state_get_document(view_state), "notify::version",
                            G_CALLBACK(show_page), self, G_CONNECT_SWAPPED);
    g_signal_connect_swapped(session_of(self), "changed", G_CALLBACK(on_search_changed), self);
    g_signal_connect_swapped(session_of(self), "numbered", G_CALLBACK(nw_assembly_list_renumber),
                             self->list);
    on_search_changed(self);
    on_view_state_changed(self);
}

NwAssemblyItem *nw_assembly_panel_get_intended(NwAssemblyPanel *self) {
    return nw_assembly_list_get_intended(self->list);
}

/* ---- the widget -------------------------------------------------------------------------- */

static void nw_assembly_panel_dispose(GObject *object) {
    NwAssemblyPanel *self = NW_ASSEMBLY_PANEL(object);
    if (self->view_state) {
        g_signal_handlers_disconnect_by_data(session_of(self), self);
        g_signal_handlers_disconnect_by_data(session_of(self), self->list);
        g_signal_handlers_disconnect_by_data(self->view_state, self);
    }
    g_clear_object(&self->view_state);
    g_clear_pointer(&self->popover, gtk_widget_unparent);
    GtkWidget *child = gtk_widget_get_first_child(GTK_WIDGET(self));
    g_clear_pointer(&child, gtk_widget_unparent);
    G_OBJECT_CLASS(nw_assembly_panel_parent_class)->dispose(object);
}

static void nw_assembly_panel_class_init(NwAssemblyPanelClass *class) {
    GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_assembly_panel_dispose;
    g_type_ensure(NW_TYPE_SEARCH_BAR);
    g_type_ensure(NW_TYPE_ASSEMBLY_FILTER);
    g_type_ensure(NW_TYPE_ASSEMBLY_LIST);
    gtk_widget_class_set_layout_manager_type(widget_class, GTK_TYPE_BIN_LAYOUT);
    gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
    gtk_widget_class_set_template_from_resource(
        widget_class, "/net/notchwright/Notchwright/ui/assembly_panel.ui");
#define CHILD(name) gtk_widget_class_bind_template_child(widget_class, NwAssemblyPanel, name)
    CHILD(status);
    CHILD(filter);
    CHILD(pages);
    CHILD(list);
    CHILD(empty_title);
    CHILD(empty_hint);
    CHILD(show_all);
    CHILD(acts);
    CHILD(difference);
    CHILD(adopt_button);
    CHILD(beside_button);
    CHILD(sketch_button);
    CHILD(menu);
#undef CHILD
#define CALLBACK(name) gtk_widget_class_bind_template_callback(widget_class, name)
    CALLBACK(on_chosen);
    CALLBACK(on_activated);
    CALLBACK(on_tally);
    CALLBACK(on_menu);
    CALLBACK(on_narrowed);
    CALLBACK(on_show_all);
#undef CALLBACK
}

/* In a long language a button has two lines, rather than that the window is wider than the screen.
 */
static void let_wrap(GtkWidget *button) {
    GtkLabel *label = GTK_LABEL(gtk_button_get_child(GTK_BUTTON(button)));
    gtk_label_set_wrap(label, TRUE);
    gtk_label_set_justify(label, GTK_JUSTIFY_CENTER);
}

static void nw_assembly_panel_init(NwAssemblyPanel *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
    let_wrap(self->adopt_button);
    let_wrap(self->beside_button);
    let_wrap(self->sketch_button);
}
