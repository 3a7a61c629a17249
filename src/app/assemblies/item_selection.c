#include "app/assemblies/item_selection.h"

struct _NwItemSelection {
    GObject parent;
    GListModel *model;
    gpointer item;
};

static void list_model_init(GListModelInterface *iface);
static void selection_model_init(GtkSelectionModelInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE(NwItemSelection, nw_item_selection, G_TYPE_OBJECT,
                              G_IMPLEMENT_INTERFACE(G_TYPE_LIST_MODEL, list_model_init)
                                  G_IMPLEMENT_INTERFACE(GTK_TYPE_SELECTION_MODEL,
                                                        selection_model_init))

static guint chosen;

/* ---- the list ---------------------------------------------------------------------------- */

static GType get_item_type(GListModel *list) {
    return g_list_model_get_item_type(NW_ITEM_SELECTION(list)->model);
}

static guint get_n_items(GListModel *list) {
    return g_list_model_get_n_items(NW_ITEM_SELECTION(list)->model);
}

static gpointer get_item(GListModel *list, guint position) {
    return g_list_model_get_item(NW_ITEM_SELECTION(list)->model, position);
}

static void list_model_init(GListModelInterface *iface) {
    iface->get_item_type = get_item_type;
    iface->get_n_items = get_n_items;
    iface->get_item = get_item;
}

/* ---- the choice -------------------------------------------------------------------------- */

static gboolean has_at(NwItemSelection *self, guint position, gpointer item) {
    gpointer there = g_list_model_get_item(self->model, position);
    gboolean same = there && there == item;
    g_clear_object(&there);
    return same;
}

static gboolean is_selected(GtkSelectionModel *selection, guint position) {
    NwItemSelection *self = NW_ITEM_SELECTION(selection);
    return self->item && has_at(self, position, self->item);
}

/* Where the old one is nobody knows, so the view looks at all the rows that it has ready. */
static gboolean change(NwItemSelection *self, gpointer item) {
    if (!g_set_object((GObject **)&self->item, item))
        return FALSE;
    guint count = g_list_model_get_n_items(self->model);
    if (count)
        gtk_selection_model_selection_changed(GTK_SELECTION_MODEL(self), 0, count);
    return TRUE;
}

static gboolean select_item(GtkSelectionModel *selection, guint position, gboolean unselect_rest) {
    (void)unselect_rest;
    NwItemSelection *self = NW_ITEM_SELECTION(selection);
    gpointer item = g_list_model_get_item(self->model, position);
    if (item && change(self, item))
        g_signal_emit(self, chosen, 0);
    g_clear_object(&item);
    return TRUE;
}

static void selection_model_init(GtkSelectionModelInterface *iface) {
    iface->is_selected = is_selected;
    iface->select_item = select_item;
}

gpointer nw_item_selection_get(NwItemSelection *self) {
    return self->item;
}

void nw_item_selection_set(NwItemSelection *self, gpointer item) {
    change(self, item);
}

guint nw_item_selection_find(NwItemSelection *self) {
    guint count = self->item ? g_list_model_get_n_items(self->model) : 0;
    for (guint i = 0; i < count; i++)
        if (has_at(self, i, self->item))
            return i;
    return GTK_INVALID_LIST_POSITION;
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_item_selection_dispose(GObject *object) {
    NwItemSelection *self = NW_ITEM_SELECTION(object);
    if (self->model)
        g_signal_handlers_disconnect_by_data(self->model, self);
    g_clear_object((GObject **)&self->item);
    G_OBJECT_CLASS(nw_item_selection_parent_class)->dispose(object);
}

static void nw_item_selection_finalize(GObject *object) {
    g_object_unref(NW_ITEM_SELECTION(object)->model);
    G_OBJECT_CLASS(nw_item_selection_parent_class)->finalize(object);
}

static void nw_item_selection_class_init(NwItemSelectionClass *class) {
    G_OBJECT_CLASS(class)->dispose = nw_item_selection_dispose;
    G_OBJECT_CLASS(class)->finalize = nw_item_selection_finalize;
    chosen = g_signal_new("chosen", NW_TYPE_ITEM_SELECTION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                          G_TYPE_NONE, 0);
}

static void nw_item_selection_init(NwItemSelection *self) {
    self->item = NULL;
}

NwItemSelection *nw_item_selection_new(GListModel *model) {
    NwItemSelection *self = g_object_new(NW_TYPE_ITEM_SELECTION, NULL);
    self->model = g_object_ref(model);
    g_signal_connect_swapped(model, "items-changed", G_CALLBACK(g_list_model_items_changed), self);
    return self;
}
