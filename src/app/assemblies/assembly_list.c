#include "app/assemblies/assembly_list.h"

#include "app/assemblies/assembly_columns.h"
#include "app/assemblies/item_selection.h"

enum {
    ALL_COLUMNS_WIDTH = 350, /* pixels that they need to be legible */
    SPARED_WHEN_NARROW = 2,
};

struct _NwAssemblyList {
    GtkWidget parent;
    GtkColumnView *view; /* of the template, as the next */
    GtkScrolledWindow *scroller;
    guint fitting;    /* the source that chooses the columns once the width is settled */
    int fitted_width; /* 0: choose anew */
    guint spared;     /* columns that are left out */
    guint showing;    /* the source that shows the first row once all are in order */
    GListModel *findings;
    GtkFilterListModel *filtered;
    GtkSortListModel *sorted;
    NwItemSelection *choice;
    GtkFilter *filter;
    guint states; /* what the filter lets pass; 0: any */
    int leading_piece;
    const NwDesign *design;
    NwAssemblyItem *intended;
    guint counts[NW_STATE_COUNT];
};

G_DEFINE_FINAL_TYPE(NwAssemblyList, nw_assembly_list, GTK_TYPE_WIDGET)

enum { CHOSEN, ACTIVATED, TALLY, MENU, SIGNALS };
static guint signals[SIGNALS];

static void tell(NwAssemblyList *self, guint signal) {
    g_signal_emit(self, signals[signal], 0);
}

static void on_width(NwAssemblyList *self);

/* ---- counting ---------------------------------------------------------------------------- */

static void count_rows(NwAssemblyList *self, guint from, guint count) {
    for (guint i = from; i < from + count; i++) {
        NwAssemblyItem *item = g_list_model_get_item(self->findings, i);
        self->counts[nw_assembly_item_get_state(item)]++;
        if (nw_assembly_item_get(item)->intended)
            g_set_object(&self->intended, item);
        g_object_unref(item);
    }
}

static void on_findings_changed(NwAssemblyList *self, guint position, guint removed, guint added) {
    if (removed) {
        memset(self->counts, 0, sizeof self->counts);
        g_clear_object(&self->intended);
        position = 0;
        added = g_list_model_get_n_items(self->findings);
    }
    if (!added) {
        nw_item_selection_set(self->choice, NULL);
        self->fitted_width = 0; /* the next rows may have shorter numbers */
        on_width(self);
    }
    count_rows(self, position, added);
    tell(self, TALLY);
}

/* ---- choosing ---------------------------------------------------------------------------- */

static void on_shown_changed(NwAssemblyList *self) {
    tell(self, TALLY);
}

static void on_chosen(NwAssemblyList *self) {
    tell(self, CHOSEN);
}

static void on_activate(NwAssemblyList *self, guint position) {
    gtk_selection_model_select_item(GTK_SELECTION_MODEL(self->choice), position, TRUE);
    tell(self, ACTIVATED);
}

static void scroll_to(NwAssemblyList *self, guint position) {
    /* The view itself has no such action in GTK 4.8; the list inside it has. */
    for (GtkWidget *child = gtk_widget_get_first_child(GTK_WIDGET(self->view)); child;
         child = gtk_widget_get_next_sibling(child))
        if (gtk_widget_activate_action(child, "list.scroll-to-item", "u", position))
            return;
}

NwAssemblyItem *nw_assembly_list_get_chosen(NwAssemblyList *self) {
    return nw_item_selection_get(self->choice);
}

void nw_assembly_list_choose(NwAssemblyList *self, NwAssemblyItem *item) {
    if (nw_item_selection_get(self->choice) == item)
        return;
    nw_item_selection_set(self->choice, item);
    guint position = nw_item_selection_find(self->choice);
    if (position != GTK_INVALID_LIST_POSITION)
        scroll_to(self, position);
}

/* ---- the menu ---------------------------------------------------------------------------- */

static void on_secondary_press(NwAssemblyList *self, int presses, double x, double y) {
    (void)presses;
    GtkWidget *picked = gtk_widget_pick(GTK_WIDGET(self->view), x, y, GTK_PICK_DEFAULT);
    GtkListItem *row = nw_assembly_columns_row_of(picked);
    if (!row)
        return;
    gtk_selection_model_select_item(GTK_SELECTION_MODEL(self->choice),
                                    gtk_list_item_get_position(row), TRUE);
    gtk_widget_translate_coordinates(GTK_WIDGET(self->view), GTK_WIDGET(self), x, y, &x, &y);
    g_signal_emit(self, signals[MENU], 0, x, y);
}

static gboolean on_menu_key(GtkWidget *widget, GVariant *unused, gpointer data) {
    (void)unused;
    (void)data;
    NwAssemblyList *self = NW_ASSEMBLY_LIST(widget);
    if (nw_item_selection_find(self->choice) == GTK_INVALID_LIST_POSITION)
        return FALSE;
    double x = gtk_widget_get_width(widget) / 2.0, y = gtk_widget_get_height(widget) / 4.0;
    g_signal_emit(self, signals[MENU], 0, x, y);
    return TRUE;
}

/* ---- filter and order -------------------------------------------------------------------- */

static gboolean passes(gpointer object, gpointer data) {
    NwAssemblyList *self = data;
    NwAssemblyItem *item = object;
    if (self->states && !(self->states >> nw_assembly_item_get_state(item) & 1))
        return FALSE;
    return self->leading_piece < 0 ||
           nw_assembly_item_get_leading_piece(item) == self->leading_piece;
}

void nw_assembly_list_narrow(NwAssemblyList *self, guint states, int leading_piece) {
    if (self->states == states && self->leading_piece == leading_piece)
        return;
    self->states = states;
    self->leading_piece = leading_piece;
    /* Without a filter the model passes its rows on at no cost. */
    gboolean narrow = states || leading_piece >= 0;
    gtk_filter_list_model_set_filter(self->filtered, narrow ? self->filter : NULL);
    gtk_filter_changed(self->filter, GTK_FILTER_CHANGE_DIFFERENT);
    tell(self, TALLY);
}

void nw_assembly_list_sort(NwAssemblyList *self, int column, GtkSortType direction) {
    GtkColumnViewColumn *by = NULL;
    if (column >= 0)
        by = g_list_model_get_item(gtk_column_view_get_columns(self->view), (guint)column);
    gtk_column_view_sort_by_column(self->view, by, direction);
    g_clear_object(&by);
}

/* Rows that went in before those in sight have pushed these down. */
static gboolean show_first(gpointer data) {
    NwAssemblyList *self = data;
    if (gtk_sort_list_model_get_pending(self->sorted))
        return G_SOURCE_CONTINUE;
    self->showing = 0;
    if (!nw_item_selection_get(self->choice))
        scroll_to(self, 0);
    return G_SOURCE_REMOVE;
}

void nw_assembly_list_renumber(NwAssemblyList *self) {
    nw_assembly_columns_renumber(self->view);
    if (!self->showing)
        self->showing = g_idle_add_full(G_PRIORITY_LOW, show_first, self, NULL);
}

/* The heads first; the usual order among what they leave equal, or all alone. */
static GtkSorter *new_sorter(NwAssemblyList *self) {
    GtkMultiSorter *sorter = gtk_multi_sorter_new();
    gtk_multi_sorter_append(sorter, g_object_ref(gtk_column_view_get_sorter(self->view)));
    gtk_multi_sorter_append(sorter,
                            GTK_SORTER(gtk_custom_sorter_new(nw_compare_usual, NULL, NULL)));
    return GTK_SORTER(sorter);
}

static void build_models(NwAssemblyList *self) {
    self->filter = GTK_FILTER(gtk_custom_filter_new(passes, self, NULL));
    self->filtered = gtk_filter_list_model_new(NULL, NULL);
    gtk_filter_list_model_set_incremental(self->filtered, TRUE);
    self->sorted =
        gtk_sort_list_model_new(g_object_ref(G_LIST_MODEL(self->filtered)), new_sorter(self));
    gtk_sort_list_model_set_incremental(self->sorted, TRUE);
    self->choice = nw_item_selection_new(G_LIST_MODEL(self->sorted));
    gtk_column_view_set_model(self->view, GTK_SELECTION_MODEL(self->choice));
    g_signal_connect_swapped(self->choice, "items-changed", G_CALLBACK(on_shown_changed), self);
    g_signal_connect_swapped(self->choice, "chosen", G_CALLBACK(on_chosen), self);
}

/* ---- its width --------------------------------------------------------------------------- */

static gboolean overflows(NwAssemblyList *self) {
    GtkAdjustment *across = gtk_scrolled_window_get_hadjustment(self->scroller);
    return gtk_adjustment_get_upper(across) > gtk_adjustment_get_page_size(across) + 0.5;
}

/* A column more goes for as long as something is cut: long numbers, or words of another language.
 */
static gboolean fit_columns(gpointer data) {
    NwAssemblyList *self = data;
    int width = gtk_widget_get_width(GTK_WIDGET(self));
    guint spared = self->spared;
    self->fitting = 0;
    if (width != self->fitted_width)
        spared = width < ALL_COLUMNS_WIDTH ? SPARED_WHEN_NARROW : 0;
    self->fitted_width = width;
    if (spared == self->spared && overflows(self))
        spared = MIN(spared + 1, NW_COLUMNS_TO_SPARE);
    self->spared = spared;
    nw_assembly_columns_spare(self->view, spared);
    return G_SOURCE_REMOVE;
}

/* Told in the middle of the layout, when no column may come or go. */
static void on_width(NwAssemblyList *self) {
    if (!self->fitting)
        self->fitting = g_idle_add(fit_columns, self);
}

/* ---- the widget -------------------------------------------------------------------------- */

void nw_assembly_list_set_assemblies(NwAssemblyList *self, GListModel *findings) {
    if (self->findings)
        g_signal_handlers_disconnect_by_data(self->findings, self);
    if (!g_set_object(&self->findings, findings))
        return;
    nw_item_selection_set(self->choice, NULL);
    g_clear_object(&self->intended);
    memset(self->counts, 0, sizeof self->counts);
    if (findings) {
        count_rows(self, 0, g_list_model_get_n_items(findings));
        g_signal_connect_swapped(findings, "items-changed", G_CALLBACK(on_findings_changed), self);
    }
    gtk_filter_list_model_set_model(self->filtered, findings);
    tell(self, TALLY);
}

void nw_assembly_list_set_design(NwAssemblyList *self, const NwDesign *design) {
    self->design = design;
}

const NwDesign *nw_assembly_list_get_design(NwAssemblyList *self) {
    return self->design;
}

NwAssemblyItem *nw_assembly_list_get_intended(NwAssemblyList *self) {
    return self->intended;
}

guint nw_assembly_list_get_count(NwAssemblyList *self, NwAssemblyState state) {
    return self->counts[state];
}

guint nw_assembly_list_get_shown(NwAssemblyList *self) {
    return g_list_model_get_n_items(G_LIST_MODEL(self->choice));
}

static gboolean nw_assembly_list_grab_focus(GtkWidget *widget) {
    return gtk_widget_grab_focus(GTK_WIDGET(NW_ASSEMBLY_LIST(widget)->view));
}

static void nw_assembly_list_dispose(GObject *object) {
    NwAssemblyList *self = NW_ASSEMBLY_LIST(object);
    g_clear_handle_id(&self->showing, g_source_remove);
    if (self->findings)
        g_signal_handlers_disconnect_by_data(self->findings, self);
    g_clear_object(&self->findings);
    if (self->choice)
        g_signal_handlers_disconnect_by_data(self->choice, self);
    g_clear_handle_id(&self->fitting, g_source_remove);
    if (self->scroller)
        g_signal_handlers_disconnect_by_data(gtk_scrolled_window_get_hadjustment(self->scroller),
                                             self);
    self->scroller = NULL;
    GtkWidget *child = gtk_widget_get_first_child(GTK_WIDGET(self));
    g_clear_pointer(&child, gtk_widget_unparent);
    g_clear_object(&self->choice);
    g_clear_object(&self->sorted);
    g_clear_object(&self->filtered);
    g_clear_object(&self->filter);
    g_clear_object(&self->intended);
    G_OBJECT_CLASS(nw_assembly_list_parent_class)->dispose(object);
}

static void nw_assembly_list_class_init(NwAssemblyListClass *class) {
    GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_assembly_list_dispose;
    widget_class->grab_focus = nw_assembly_list_grab_focus;
    static const char *const names[SIGNALS] = {"chosen", "activated", "tally"};
    for (int i = 0; i < MENU; i++)
        signals[i] = g_signal_new(names[i], NW_TYPE_ASSEMBLY_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
    signals[MENU] = g_signal_new("menu", NW_TYPE_ASSEMBLY_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 2, G_TYPE_DOUBLE, G_TYPE_DOUBLE);
    gtk_widget_class_set_layout_manager_type(widget_class, GTK_TYPE_BIN_LAYOUT);
    gtk_widget_class_set_template_from_resource(widget_class,
                                                "/net/notchwright/Notchwright/ui/assembly_list.ui");
    gtk_widget_class_bind_template_child(widget_class, NwAssemblyList, view);
    gtk_widget_class_bind_template_child(widget_class, NwAssemblyList, scroller);
    gtk_widget_class_bind_template_callback(widget_class, on_activate);
    gtk_widget_class_bind_template_callback(widget_class, on_secondary_press);
    gtk_widget_class_add_binding(widget_class, GDK_KEY_Menu, 0, on_menu_key, NULL);
    gtk_widget_class_add_binding(widget_class, GDK_KEY_F10, GDK_SHIFT_MASK, on_menu_key, NULL);
}

static const NwDesign *get_design(gpointer list) {
    return nw_assembly_list_get_design(list);
}

static void nw_assembly_list_init(NwAssemblyList *self) {
    self->leading_piece = -1;
    gtk_widget_init_template(GTK_WIDGET(self));
    build_models(self);
    nw_assembly_columns_add(self->view, get_design, self);
    g_signal_connect_swapped(gtk_scrolled_window_get_hadjustment(self->scroller), "changed",
                             G_CALLBACK(on_width), self);
}
