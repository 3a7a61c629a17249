#include "app/start/start_page.h"

#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "app/common/accessible_names.h"
#include "app/common/config.h"
#include "app/start/design_card.h"
#include "app/start/samples.h"
#include "app/start/thumbnail.h"
#include "store/history.h"
#include "store/trials.h"

enum { SECONDS_TO_PUT_BACK = 12 };

struct _NwStartPage {
    GtkWidget parent;
    NwViewState *view_state;
    GPtrArray *bundled;   /* NwDesign */
    GHashTable *pictures; /* version id (as a gint64 *) to GdkPaintable */
    guint painting;       /* idle source, or 0 */
    gint64 removed;       /* design that will be removed, or 0 */
    guint removing;       /* timeout source, or 0 */
    GtkWidget *content, *new_card;
    GtkInfoBar *removed_bar;
    GtkLabel *removed_label;
    GtkFlowBox *own_box, *bundled_box;
    GtkWidget *bundled_heading, *bundled_hint;
};

G_DEFINE_FINAL_TYPE(NwStartPage, nw_start_page, GTK_TYPE_WIDGET)

enum { OPEN_DESIGN, OPEN_BUNDLED, NEW_DESIGN, REMOVED, SIGNALS };
static guint signals[SIGNALS];

static NwDocument *document_of(NwStartPage *self) {
    return nw_view_state_get_document(self->view_state);
}

static NwLibrary *library_of(NwStartPage *self) {
    return nw_document_get_library(document_of(self));
}

static void take_error(NwStartPage *self, GError *error) {
    g_signal_emit_by_name(document_of(self), "trouble", error->message);
    g_error_free(error);
}

/* ---- pictures ---------------------------------------------------------------------------- */

static GdkPaintable *paint(NwStartPage *self, const NwDesign *design) {
    return nw_thumbnail_for(GTK_WIDGET(self), design, NW_CARD_WIDTH, NW_CARD_HEIGHT);
}

static void paint_own(NwStartPage *self, NwDesignCard *card) {
    gint64 version = nw_design_card_get_version(card);
    GdkPaintable *picture = g_hash_table_lookup(self->pictures, &version);
    NwDesign *design = NULL;
    if (!picture && (design = nw_library_load_design(library_of(self), version, NULL))) {
        picture = paint(self, design);
        g_hash_table_insert(self->pictures, g_memdup2(&version, sizeof version), picture);
        nw_design_free(design);
    }
    nw_design_card_set_picture(card, picture); /* a version that cannot be read has none */
}

static void paint_bundled(NwStartPage *self, NwDesignCard *card) {
    int index = gtk_flow_box_child_get_index(GTK_FLOW_BOX_CHILD(card));
    GdkPaintable *picture = paint(self, self->bundled->pdata[index]);
    nw_design_card_set_picture(card, picture);
    g_object_unref(picture);
}

/* The first card of a box that waits for its picture. */
static NwDesignCard *waiting(GtkFlowBox *box) {
    GtkFlowBoxChild *child;
    for (int i = 0; (child = gtk_flow_box_get_child_at_index(box, i)); i++)
        if (NW_IS_DESIGN_CARD(child) && !nw_design_card_has_picture(NW_DESIGN_CARD(child)))
            return NW_DESIGN_CARD(child);
    return NULL;
}

static gboolean paint_next(gpointer data) {
    NwStartPage *self = data;
    NwDesignCard *own = waiting(self->own_box);
    NwDesignCard *bundled = own ? NULL : waiting(self->bundled_box);
    if (own)
        paint_own(self, own);
    else if (bundled)
        paint_bundled(self, bundled);
    else
        self->painting = 0;
    return self->painting ? G_SOURCE_CONTINUE : G_SOURCE_REMOVE;
}

static void begin_painting(NwStartPage *self) {
    if (!self->painting)
        self->painting = g_idle_add_full(G_PRIORITY_DEFAULT_IDLE, paint_next, self, NULL);
}

/* ---- renaming and removing --------------------------------------------------------------- */

static NwStatus set_name(NwDesign *design, gpointer data) {
    free(design->name);
    design->name = strdup(data);
    return NW_OK;
}

static gboolean rename_in_store(NwStartPage *self, NwDesignCard *card, const char *name,
                                GError **error) {
    NwLibrary *library = library_of(self);
    gint64 version = nw_design_card_get_version(card);
    NwDesign *design = nw_library_load_design(library, version, error);
    if (!design)
        return FALSE;
    set_name(design, (gpointer)name);
    gboolean well = nw_library_save_edit(library, nw_design_card_get_id(card), design,
                                         _("Rename the design"), &version, error);
    nw_design_free(design);
    return well;
}

static gboolean refresh_later(gpointer data) {
    nw_start_page_refresh(data);
    return G_SOURCE_REMOVE;
}

/* The card that asks is still at work: it must not go before it is done. */
static void request_refresh(NwStartPage *self) {
    g_idle_add_full(G_PRIORITY_HIGH_IDLE, refresh_later, g_object_ref(self), g_object_unref);
}

static void on_rename(NwStartPage *self, const char *name, NwDesignCard *card) {
    GError *error = NULL;
    if (nw_design_card_get_id(card) == nw_document_get_design_id(document_of(self)))
        nw_document_apply(document_of(self), _("Rename the design"), set_name, (gpointer)name);
    else if (!rename_in_store(self, card, name, &error))
        take_error(self, error);
    request_refresh(self);
}

static void end_removal(NwStartPage *self) {
    g_clear_handle_id(&self->removing, g_source_remove);
    self->removed = 0;
    gtk_info_bar_set_revealed(self->removed_bar, FALSE);
}

static void remove_now(NwStartPage *self) {
    gint64 id = self->removed;
    if (!id)
        return;
    end_removal(self);
    GError *error = NULL;
    if (nw_library_remove_design(library_of(self), id, &error))
        g_signal_emit(self, signals[REMOVED], 0, id);
    else
        take_error(self, error);
}

static gboolean on_time_over(gpointer data) {
    NwStartPage *self = data;
    self->removing = 0;
    remove_now(self);
    return G_SOURCE_REMOVE;
}

/* Tells of the trials too: they are not to be had again. */
static char *dup_removed(NwStartPage *self, NwDesignCard *card) {
    const char *name = nw_design_card_get_name(card);
    GPtrArray *trials = nw_library_list_trials(library_of(self), nw_design_card_get_id(card), NULL);
    guint count = trials ? trials->len : 0;
    g_clear_pointer(&trials, g_ptr_array_unref);
    if (!count)
        return g_strdup_printf(_("Removed “%s”"), name);
    return g_strdup_printf(ngettext("Removed “%s”, with %u trial that was noted",
                                    "Removed “%s”, with %u trials that were noted", count),
                           name, count);
}

static void on_remove(NwStartPage *self, NwDesignCard *card) {
    if (nw_library_is_read_only(library_of(self))) {
        g_signal_emit_by_name(document_of(self), "trouble",
                              _("The store can only be read: nothing can be removed from it."));
        return;
    }
    remove_now(self);
    self->removed = nw_design_card_get_id(card);
    self->removing = g_timeout_add_seconds(SECONDS_TO_PUT_BACK, on_time_over, self);
    char *text = dup_removed(self, card);
    gtk_label_set_text(self->removed_label, text);
    g_free(text);
    gtk_info_bar_set_revealed(self->removed_bar, TRUE);
    request_refresh(self);
}

static void on_put_back(NwStartPage *self) {
    end_removal(self);
    request_refresh(self);
}

/* ---- cards ------------------------------------------------------------------------------- */

static void on_open(NwStartPage *self, NwDesignCard *card) {
    char *name = g_strdup(nw_design_card_get_name(card));
    g_signal_emit(self, signals[OPEN_DESIGN], 0, name);
    g_free(name);
}

static void on_own_activated(NwStartPage *self, GtkFlowBoxChild *child) {
    if (NW_IS_DESIGN_CARD(child))
        on_open(self, NW_DESIGN_CARD(child));
    else
        g_signal_emit(self, signals[NEW_DESIGN], 0);
}

static void on_bundled_activated(NwStartPage *self, GtkFlowBoxChild *child) {
    int index = gtk_flow_box_child_get_index(child);
    NwDesign *copy = nw_design_copy(self->bundled->pdata[index]);
    g_signal_emit(self, signals[OPEN_BUNDLED], 0, copy);
    nw_design_free(copy);
}

static void add_own(NwStartPage *self, const NwDesignEntry *entry) {
    NwDesignCard *card = nw_design_card_new(entry);
    g_signal_connect_object(card, "open", G_CALLBACK(on_open), self, G_CONNECT_SWAPPED);
    g_signal_connect_object(card, "rename", G_CALLBACK(on_rename), self, G_CONNECT_SWAPPED);
    g_signal_connect_object(card, "remove", G_CALLBACK(on_remove), self, G_CONNECT_SWAPPED);
    gtk_flow_box_append(self->own_box, GTK_WIDGET(card));
}

static void clear_own(NwStartPage *self) {
    GtkFlowBoxChild *card;
    while ((card = gtk_flow_box_get_child_at_index(self->own_box, 1)))
        gtk_flow_box_remove(self->own_box, GTK_WIDGET(card));
}

static void load_bundled(NwStartPage *self) {
    self->bundled = nw_sample_load();
    for (guint i = 0; i < self->bundled->len; i++)
        gtk_flow_box_append(self->bundled_box,
                            GTK_WIDGET(nw_design_card_new_bundled(self->bundled->pdata[i])));
    gtk_widget_set_visible(self->bundled_heading, self->bundled->len > 0);
    gtk_widget_set_visible(self->bundled_hint, self->bundled->len > 0);
}

void nw_start_page_refresh(NwStartPage *self) {
    if (!self->view_state)
        return;
    GError *error = NULL;
    GPtrArray *entries = nw_library_list_designs(library_of(self), &error);
    clear_own(self);
    for (guint i = 0; entries && i < entries->len; i++) {
        const NwDesignEntry *entry = entries->pdata[i];
        if (entry->id != self->removed)
            add_own(self, entry);
    }
    g_clear_pointer(&entries, g_ptr_array_unref);
    if (error)
        take_error(self, error);
    begin_painting(self);
}

/* ---- the object -------------------------------------------------------------------------- */

static gboolean focus_first(gpointer data) {
    NwStartPage *self = data;
    if (self->new_card && gtk_widget_get_mapped(GTK_WIDGET(self)))
        gtk_widget_grab_focus(self->new_card);
    return G_SOURCE_REMOVE;
}

/* Begins at the top, once whoever shows the page has put the focus where it was last time. */
static void nw_start_page_map(GtkWidget *widget) {
    GTK_WIDGET_CLASS(nw_start_page_parent_class)->map(widget);
    g_idle_add_full(G_PRIORITY_HIGH_IDLE, focus_first, g_object_ref(widget), g_object_unref);
}

static void nw_start_page_unmap(GtkWidget *widget) {
    NwStartPage *self = NW_START_PAGE(widget);
    if (self->view_state)
        remove_now(self);
    GTK_WIDGET_CLASS(nw_start_page_parent_class)->unmap(widget);
}

static void nw_start_page_dispose(GObject *object) {
    NwStartPage *self = NW_START_PAGE(object);
    if (self->view_state)
        remove_now(self);
    g_clear_handle_id(&self->painting, g_source_remove);
    g_clear_object(&self->view_state);
    g_clear_pointer(&self->content, gtk_widget_unparent);
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_START_PAGE);
    g_clear_pointer(&self->pictures, g_hash_table_unref);
    g_clear_pointer(&self->bundled, g_ptr_array_unref);
    G_OBJECT_CLASS(nw_start_page_parent_class)->dispose(object);
}

static void nw_start_page_class_init(NwStartPageClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_start_page_dispose;
    widget->map = nw_start_page_map;
    widget->unmap = nw_start_page_unmap;
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/start_page.ui");
    gtk_widget_class_bind_template_child(widget, NwStartPage, content);
    gtk_widget_class_bind_template_child(widget, NwStartPage, new_card);
    gtk_widget_class_bind_template_child(widget, NwStartPage, removed_bar);
    gtk_widget_class_bind_template_child(widget, NwStartPage, removed_label);
    gtk_widget_class_bind_template_child(widget, NwStartPage, own_box);
    gtk_widget_class_bind_template_child(widget, NwStartPage, bundled_box);
    gtk_widget_class_bind_template_child(widget, NwStartPage, bundled_heading);
    gtk_widget_class_bind_template_child(widget, NwStartPage, bundled_hint);
    signals[OPEN_DESIGN] = g_signal_new("open-design", NW_TYPE_START_PAGE, G_SIGNAL_RUN_LAST, 0,
                                        NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
    signals[OPEN_BUNDLED] = g_signal_new("open-bundled", NW_TYPE_START_PAGE, G_SIGNAL_RUN_LAST, 0,
                                         NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_POINTER);
    signals[NEW_DESIGN] = g_signal_new("new-design", NW_TYPE_START_PAGE, G_SIGNAL_RUN_LAST, 0, NULL,
                                       NULL, NULL, G_TYPE_NONE, 0);
    signals[REMOVED] = g_signal_new("removed", NW_TYPE_START_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
}

static void nw_start_page_init(NwStartPage *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
    nw_accessible_name_once(GTK_WIDGET(self));
    self->pictures = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, g_object_unref);
    g_signal_connect_swapped(self->own_box, "child-activated", G_CALLBACK(on_own_activated), self);
    g_signal_connect_swapped(self->bundled_box, "child-activated", G_CALLBACK(on_bundled_activated),
                             self);
    g_signal_connect_swapped(self->removed_bar, "response", G_CALLBACK(on_put_back), self);
    load_bundled(self);
}

void nw_start_page_set_view_state(NwStartPage *self, NwViewState *view_state) {
    g_set_object(&self->view_state, view_state);
    nw_start_page_refresh(self);
}
