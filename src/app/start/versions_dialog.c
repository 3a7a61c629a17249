#include "app/start/versions_dialog.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/common/accessible_names.h"
#include "app/common/config.h"
#include "app/start/thumbnail.h"
#include "session/version_item.h"
#include "store/history.h"
#include "text/compare_words.h"
#include "text/sentence.h"

enum { PICTURE_WIDTH = 220, PICTURE_HEIGHT = 150, AGAINST_BENCH = 0 };

struct _NwVersionsDialog {
    GtkWindow parent;
    NwViewState *view_state;
    GListStore *items;
    GtkSingleSelection *selection;
    GtkListView *list;
    GtkEntry *name_entry;
    GtkWidget *name_button, *go_button;
    GtkDropDown *against;
    GtkPicture *before_picture, *after_picture;
    GtkLabel *before_label, *after_label, *changes;
};

G_DEFINE_FINAL_TYPE(NwVersionsDialog, nw_versions_dialog, GTK_TYPE_WINDOW)

static NwDocument *document_of(NwVersionsDialog *self) {
    return nw_view_state_get_document(self->view_state);
}

static NwLibrary *library_of(NwVersionsDialog *self) {
    return nw_document_get_library(document_of(self));
}

static void take_error(NwVersionsDialog *self, GError *error) {
    char *text = nw_sentence_of(error->message);
    gtk_label_set_text(self->changes, text);
    g_free(text);
    g_error_free(error);
}

/* ---- the two that are compared ----------------------------------------------------------- */

static NwVersionItem *chosen(NwVersionsDialog *self) {
    return gtk_single_selection_get_selected_item(self->selection);
}

/* Borrowed; NULL if the list has none of that id. */
static NwVersionItem *item_of(NwVersionsDialog *self, gint64 id) {
    guint count = g_list_model_get_n_items(G_LIST_MODEL(self->items));
    for (guint i = 0; id && i < count; i++) {
        NwVersionItem *item = g_list_model_get_item(G_LIST_MODEL(self->items), i);
        g_object_unref(item); /* the list keeps it */
        if (nw_version_item_get_id(item) == id)
            return item;
    }
    return NULL;
}

static void show_side(NwVersionsDialog *self, GtkPicture *picture, GtkLabel *label,
                      NwVersionItem *item, const NwDesign *design) {
    GdkPaintable *paintable =
        design ? nw_thumbnail_for(GTK_WIDGET(self), design, PICTURE_WIDTH, PICTURE_HEIGHT) : NULL;
    char *text = item ? g_strdup_printf("%s\n%s", nw_version_item_get_title(item),
                                        nw_version_item_get_detail(item))
                      : g_strdup("");
    gtk_picture_set_paintable(picture, paintable);
    gtk_label_set_text(label, text);
    g_clear_object(&paintable);
    g_free(text);
}

/* `before` is the older of the two, so that changes read in the order of time; NULL: none. */
static void show_pair(NwVersionsDialog *self, NwVersionItem *before, NwVersionItem *after) {
    GError *error = NULL;
    NwLibrary *library = library_of(self);
    NwDesign *old = NULL, *new = NULL;
    if (after)
        new = nw_library_load_design(library, nw_version_item_get_id(after), &error);
    if (before && new)
        old = nw_library_load_design(library, nw_version_item_get_id(before), &error);
    show_side(self, self->before_picture, self->before_label, before, old);
    show_side(self, self->after_picture, self->after_label, after, new);
    if (error) {
        take_error(self, error);
    } else if (!old || !new) {
        gtk_label_set_text(self->changes, after ? _("This is the first version.") : "");
    } else {
        char *words = nw_compare_words(old, new);
        gtk_label_set_text(self->changes, words);
        g_free(words);
    }
    nw_design_free(old);
    nw_design_free(new);
}

static void compare(NwVersionsDialog *self) {
    NwVersionItem *item = chosen(self);
    gint64 other = 0;
    if (item)
        other = gtk_drop_down_get_selected(self->against) == AGAINST_BENCH
                    ? nw_document_get_version(document_of(self))
                    : nw_version_item_get_parent(item);
    NwVersionItem *against = item_of(self, other);
    if (against && nw_version_item_get_id(item) < other)
        show_pair(self, item, against);
    else
        show_pair(self, against, item);
}

/* ---- the list ---------------------------------------------------------------------------- */

static void on_name_edited(NwVersionsDialog *self) {
    NwVersionItem *item = chosen(self);
    const char *name = item ? nw_version_item_get_label(item) : NULL;
    const char *text = gtk_editable_get_text(GTK_EDITABLE(self->name_entry));
    gboolean read_only = nw_library_is_read_only(library_of(self));
    gtk_widget_set_sensitive(self->name_button,
                             item && !read_only && strcmp(text, name ? name : "") != 0);
}

static void on_chosen(NwVersionsDialog *self) {
    NwVersionItem *item = chosen(self);
    const char *name = item ? nw_version_item_get_label(item) : NULL;
    gtk_editable_set_text(GTK_EDITABLE(self->name_entry), name ? name : "");
    gtk_widget_set_sensitive(GTK_WIDGET(self->name_entry), item != NULL);
    gtk_widget_set_sensitive(self->go_button,
                             item && nw_version_item_get_id(item) !=
                                         nw_document_get_version(document_of(self)));
    on_name_edited(self);
    compare(self);
}

/* Named ones before others; the newest first within each. */
static int compare_entries(gconstpointer a, gconstpointer b) {
    const NwVersionEntry *x = *(const NwVersionEntry *const *)a;
    const NwVersionEntry *y = *(const NwVersionEntry *const *)b;
    if (!*x->note != !*y->note)
        return *x->note ? -1 : 1;
    return x->id > y->id ? -1 : x->id < y->id;
}

static void select_version(NwVersionsDialog *self, gint64 id) {
    guint count = g_list_model_get_n_items(G_LIST_MODEL(self->items));
    for (guint i = 0; i < count; i++) {
        NwVersionItem *item = g_list_model_get_item(G_LIST_MODEL(self->items), i);
        if (nw_version_item_get_id(item) == id) {
            gtk_single_selection_set_selected(self->selection, i);
            gtk_widget_activate_action(GTK_WIDGET(self->list), "list.scroll-to-item", "u", i);
        }
        g_object_unref(item);
    }
}

/* Lists all versions anew; the chosen one stays chosen. */
static void refresh(NwVersionsDialog *self) {
    NwVersionItem *item = chosen(self);
    gint64 id = item ? nw_version_item_get_id(item) : nw_document_get_version(document_of(self));
    GError *error = NULL;
    GPtrArray *entries = nw_library_list_versions(
        library_of(self), nw_document_get_design_id(document_of(self)), &error);
    GPtrArray *items = g_ptr_array_new_with_free_func(g_object_unref);
    if (entries)
        g_ptr_array_sort(entries, compare_entries);
    for (guint i = 0; entries && i < entries->len; i++)
        g_ptr_array_add(items, nw_version_item_new(entries->pdata[i]));
    g_list_store_splice(self->items, 0, g_list_model_get_n_items(G_LIST_MODEL(self->items)),
                        items->pdata, items->len);
    g_ptr_array_unref(items);
    g_clear_pointer(&entries, g_ptr_array_unref);
    select_version(self, id);
    on_chosen(self);
    if (error)
        take_error(self, error);
}

static void on_row_set_up(GtkSignalListItemFactory *factory, GtkListItem *row) {
    (void)factory;
    GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 9);
    GtkWidget *texts = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
    GtkWidget *mark = gtk_image_new();
    for (int i = 0; i < 2; i++) {
        GtkWidget *label = gtk_label_new(NULL);
        gtk_label_set_xalign(GTK_LABEL(label), 0);
        gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
        gtk_box_append(GTK_BOX(texts), label);
        if (i == 1)
            gtk_widget_add_css_class(label, "dim-label");
        if (i == 1)
            gtk_widget_add_css_class(label, "caption");
    }
    gtk_widget_set_hexpand(texts, TRUE);
    gtk_box_append(GTK_BOX(box), mark);
    gtk_box_append(GTK_BOX(box), texts);
    gtk_list_item_set_child(row, box);
}

static void on_row_bound(GtkSignalListItemFactory *factory, GtkListItem *row) {
    (void)factory;
    NwVersionItem *item = gtk_list_item_get_item(row);
    GtkWidget *mark = gtk_widget_get_first_child(gtk_list_item_get_child(row));
    GtkWidget *title = gtk_widget_get_first_child(gtk_widget_get_next_sibling(mark));
    const char *label = nw_version_item_get_label(item);
    gtk_image_set_from_icon_name(GTK_IMAGE(mark), label ? "user-bookmarks-symbolic"
                                                        : "document-open-recent-symbolic");
    gtk_accessible_update_property(GTK_ACCESSIBLE(mark), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   label ? _("named") : _("not named"), -1);
    (label ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(title, "heading");
    gtk_label_set_text(GTK_LABEL(title), nw_version_item_get_title(item));
    gtk_label_set_text(GTK_LABEL(gtk_widget_get_next_sibling(title)),
                       nw_version_item_get_detail(item));
}

/* ---- doing ------------------------------------------------------------------------------- */

static void on_name(NwVersionsDialog *self) {
    NwVersionItem *item = chosen(self);
    if (!item || !gtk_widget_get_sensitive(self->name_button))
        return;
    char *name = g_strstrip(g_strdup(gtk_editable_get_text(GTK_EDITABLE(self->name_entry))));
    GError *error = NULL;
    gboolean named =
        nw_library_name_version(library_of(self), nw_version_item_get_id(item), name, &error);
    g_free(name);
    if (named)
        refresh(self);
    else
        take_error(self, error);
}

static void on_go(NwVersionsDialog *self) {
    NwVersionItem *item = chosen(self);
    if (item && nw_document_go_to_version(document_of(self), nw_version_item_get_id(item)))
        gtk_window_close(GTK_WINDOW(self));
}

static void on_row_activated(NwVersionsDialog *self) {
    if (gtk_widget_get_sensitive(self->go_button))
        on_go(self);
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_versions_dialog_dispose(GObject *object) {
    NwVersionsDialog *self = NW_VERSIONS_DIALOG(object);
    if (self->view_state)
        g_signal_handlers_disconnect_by_data(document_of(self), self);
    if (self->selection)
        g_signal_handlers_disconnect_by_data(self->selection, self);
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_VERSIONS_DIALOG);
    g_clear_object(&self->selection);
    g_clear_object(&self->items);
    g_clear_object(&self->view_state);
    G_OBJECT_CLASS(nw_versions_dialog_parent_class)->dispose(object);
}

#define BIND(name) gtk_widget_class_bind_template_child(widget, NwVersionsDialog, name)

static void nw_versions_dialog_class_init(NwVersionsDialogClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_versions_dialog_dispose;
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/versions_dialog.ui");
    BIND(list);
    BIND(name_entry);
    BIND(name_button);
    BIND(go_button);
    BIND(against);
    BIND(before_picture);
    BIND(before_label);
    BIND(after_picture);
    BIND(after_label);
    BIND(changes);
    gtk_widget_class_add_binding_action(widget, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void nw_versions_dialog_init(NwVersionsDialog *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
    nw_accessible_name_once(GTK_WIDGET(self));
    self->items = g_list_store_new(NW_TYPE_VERSION_ITEM);
    self->selection = gtk_single_selection_new(g_object_ref(G_LIST_MODEL(self->items)));
    GtkListItemFactory *factory = gtk_signal_list_item_factory_new();
    g_signal_connect(factory, "setup", G_CALLBACK(on_row_set_up), NULL);
    g_signal_connect(factory, "bind", G_CALLBACK(on_row_bound), NULL);
    gtk_list_view_set_factory(self->list, factory);
    g_object_unref(factory);
    gtk_list_view_set_model(self->list, GTK_SELECTION_MODEL(self->selection));
}

/* Connected only once there is a view state to ask. */
static void connect_all(NwVersionsDialog *self) {
    g_signal_connect_swapped(self->selection, "notify::selected-item", G_CALLBACK(on_chosen), self);
    g_signal_connect_swapped(self->list, "activate", G_CALLBACK(on_row_activated), self);
    g_signal_connect_swapped(self->against, "notify::selected", G_CALLBACK(compare), self);
    g_signal_connect_swapped(self->name_entry, "changed", G_CALLBACK(on_name_edited), self);
    g_signal_connect_swapped(self->name_entry, "activate", G_CALLBACK(on_name), self);
    g_signal_connect_swapped(self->name_button, "clicked", G_CALLBACK(on_name), self);
    g_signal_connect_swapped(self->go_button, "clicked", G_CALLBACK(on_go), self);
    g_signal_connect_swapped(document_of(self), "notify::version", G_CALLBACK(refresh), self);
}

GtkWidget *nw_versions_dialog_new(GtkWindow *parent, NwViewState *view_state) {
    NwVersionsDialog *self = g_object_new(NW_TYPE_VERSIONS_DIALOG, "transient-for", parent, NULL);
    self->view_state = g_object_ref(view_state);
    const NwDesign *design = nw_document_get_design(document_of(self));
    char *title = g_strdup_printf(_("Versions of “%s”"), design ? design->name : "");
    gtk_window_set_title(GTK_WINDOW(self), title);
    g_free(title);
    connect_all(self);
    refresh(self);
    return GTK_WIDGET(self);
}
