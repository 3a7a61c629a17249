#include "app/start/design_card.h"

#include <glib/gi18n.h>

#include "app/common/config.h"

struct _NwDesignCard {
    GtkFlowBoxChild parent;
    gint64 id, version;
    char *name;
    gboolean pictured;
    GtkPicture *picture;
    GtkLabel *title, *pieces, *state;
    GtkWidget *menu_button;
    GtkWidget *popover, *entry, *apply; /* while a new name is asked for, and after */
};

G_DEFINE_FINAL_TYPE(NwDesignCard, nw_design_card, GTK_TYPE_FLOW_BOX_CHILD)

enum { OPEN, RENAME, REMOVE, SIGNALS };
static guint signals[SIGNALS];

/* ---- words ------------------------------------------------------------------------------- */

static char *dup_pieces(int pieces, int bodies) {
    if (pieces == bodies)
        return g_strdup_printf(ngettext("%d piece", "%d pieces", (gulong)bodies), bodies);
    char *kinds = g_strdup_printf(ngettext("%d kind", "%d kinds", (gulong)pieces), pieces);
    /* TRANSLATORS: first a number of pieces, then "2 kinds" */
    char *text = g_strdup_printf(ngettext("%d piece of %s", "%d pieces of %s", (gulong)bodies),
                                 bodies, kinds);
    g_free(kinds);
    return text;
}

static char *dup_state(const NwDesignEntry *entry) {
    /* A design that was only opened has a run with nothing in it. */
    if (!entry->run_id ||
        (entry->run_state == NW_RUN_OPEN && !entry->run_found && entry->run_share <= 0))
        return g_strdup(_("Not searched yet"));
    gulong found = (gulong)entry->run_found;
    char *count = g_strdup_printf(ngettext("%lu assembly", "%lu assemblies", found), found);
    char *text = NULL;
    switch (entry->run_state) {
    case NW_RUN_COMPLETE:
        text = g_strdup_printf(_("Searched: %s"), count);
        break;
    case NW_RUN_LIMITED:
        text = g_strdup_printf(_("Searched to a limit: %s"), count);
        break;
    case NW_RUN_OPEN:
        text =
            g_strdup_printf(_("%d %% searched: %s so far"), (int)(100 * entry->run_share), count);
        break;
    }
    g_free(count);
    return text;
}

/* ---- the menu ---------------------------------------------------------------------------- */

static void on_open(GtkWidget *widget, const char *action, GVariant *parameter) {
    (void)action;
    (void)parameter;
    g_signal_emit(widget, signals[OPEN], 0);
}

static void on_remove(GtkWidget *widget, const char *action, GVariant *parameter) {
    (void)action;
    (void)parameter;
    g_signal_emit(widget, signals[REMOVE], 0);
}

static char *dup_entered(NwDesignCard *self) {
    return g_strstrip(g_strdup(gtk_editable_get_text(GTK_EDITABLE(self->entry))));
}

static void on_entry_changed(NwDesignCard *self) {
    char *text = dup_entered(self);
    gtk_widget_set_sensitive(self->apply, *text && g_strcmp0(text, self->name) != 0);
    g_free(text);
}

static void on_rename_done(NwDesignCard *self) {
    if (!gtk_widget_get_sensitive(self->apply))
        return;
    char *text = dup_entered(self);
    gtk_popover_popdown(GTK_POPOVER(self->popover));
    g_signal_emit(self, signals[RENAME], 0, text);
    g_free(text);
}

static void build_popover(NwDesignCard *self) {
    GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
    self->entry = gtk_entry_new();
    gtk_accessible_update_property(GTK_ACCESSIBLE(self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   _("Name of the design"), -1);
    self->apply = gtk_button_new_with_mnemonic(_("_Rename"));
    gtk_accessible_reset_property(GTK_ACCESSIBLE(self->apply), GTK_ACCESSIBLE_PROPERTY_LABEL);
    gtk_widget_add_css_class(self->apply, "suggested-action");
    gtk_box_append(GTK_BOX(box), self->entry);
    gtk_box_append(GTK_BOX(box), self->apply);
    self->popover = gtk_popover_new();
    gtk_popover_set_child(GTK_POPOVER(self->popover), box);
    gtk_widget_set_parent(self->popover, self->menu_button);
    g_signal_connect_swapped(self->entry, "changed", G_CALLBACK(on_entry_changed), self);
    g_signal_connect_swapped(self->entry, "activate", G_CALLBACK(on_rename_done), self);
    g_signal_connect_swapped(self->apply, "clicked", G_CALLBACK(on_rename_done), self);
}

static void on_rename(GtkWidget *widget, const char *action, GVariant *parameter) {
    (void)action;
    (void)parameter;
    NwDesignCard *self = NW_DESIGN_CARD(widget);
    if (!self->popover)
        build_popover(self);
    gtk_editable_set_text(GTK_EDITABLE(self->entry), self->name);
    on_entry_changed(self);
    gtk_popover_popup(GTK_POPOVER(self->popover));
    gtk_widget_grab_focus(self->entry);
}

static gboolean show_menu(GtkWidget *widget, GVariant *arguments, gpointer data) {
    (void)arguments;
    (void)data;
    NwDesignCard *self = NW_DESIGN_CARD(widget);
    if (!gtk_widget_get_visible(self->menu_button))
        return FALSE;
    gtk_menu_button_popup(GTK_MENU_BUTTON(self->menu_button));
    return TRUE;
}

static void on_right_click(NwDesignCard *self) {
    show_menu(GTK_WIDGET(self), NULL, NULL);
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_design_card_dispose(GObject *object) {
    NwDesignCard *self = NW_DESIGN_CARD(object);
    g_clear_pointer(&self->popover, gtk_widget_unparent);
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_DESIGN_CARD);
    G_OBJECT_CLASS(nw_design_card_parent_class)->dispose(object);
}

static void nw_design_card_finalize(GObject *object) {
    g_free(NW_DESIGN_CARD(object)->name);
    G_OBJECT_CLASS(nw_design_card_parent_class)->finalize(object);
}

static void nw_design_card_class_init(NwDesignCardClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_design_card_dispose;
    G_OBJECT_CLASS(class)->finalize = nw_design_card_finalize;
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/design_card.ui");
    gtk_widget_class_bind_template_child(widget, NwDesignCard, picture);
    gtk_widget_class_bind_template_child(widget, NwDesignCard, title);
    gtk_widget_class_bind_template_child(widget, NwDesignCard, pieces);
    gtk_widget_class_bind_template_child(widget, NwDesignCard, state);
    gtk_widget_class_bind_template_child(widget, NwDesignCard, menu_button);
    gtk_widget_class_install_action(widget, "card.open", NULL, on_open);
    gtk_widget_class_install_action(widget, "card.rename", NULL, on_rename);
    gtk_widget_class_install_action(widget, "card.remove", NULL, on_remove);
    gtk_widget_class_add_binding_action(widget, GDK_KEY_F2, 0, "card.rename", NULL);
    gtk_widget_class_add_binding_action(widget, GDK_KEY_Delete, 0, "card.remove", NULL);
    gtk_widget_class_add_binding(widget, GDK_KEY_F10, GDK_SHIFT_MASK, show_menu, NULL);
    gtk_widget_class_add_binding(widget, GDK_KEY_Menu, 0, show_menu, NULL);
    signals[OPEN] = g_signal_new("open", NW_TYPE_DESIGN_CARD, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 0);
    signals[RENAME] = g_signal_new("rename", NW_TYPE_DESIGN_CARD, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
    signals[REMOVE] = g_signal_new("remove", NW_TYPE_DESIGN_CARD, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
}

static void nw_design_card_init(NwDesignCard *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
    GtkGesture *click = gtk_gesture_click_new();
    gtk_gesture_single_set_button(GTK_GESTURE_SINGLE(click), GDK_BUTTON_SECONDARY);
    g_signal_connect_swapped(click, "pressed", G_CALLBACK(on_right_click), self);
    gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(click));
}

static void fill(NwDesignCard *self, const char *name, char *pieces, char *state) {
    self->name = g_strdup(name);
    gtk_label_set_text(self->title, name);
    gtk_label_set_text(self->pieces, pieces);
    gtk_label_set_text(self->state, state);
    gtk_widget_set_visible(GTK_WIDGET(self->state), *state);
    gtk_widget_set_tooltip_text(GTK_WIDGET(self), name);
    char *said = *state ? g_strdup_printf("%s. %s", pieces, state) : g_strdup(pieces);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                   GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, said, -1);
    g_free(said);
    g_free(pieces);
    g_free(state);
}

NwDesignCard *nw_design_card_new(const NwDesignEntry *entry) {
    NwDesignCard *self = g_object_new(NW_TYPE_DESIGN_CARD, NULL);
    self->id = entry->id;
    self->version = entry->current_version;
    fill(self, entry->name, dup_pieces(entry->pieces, entry->bodies), dup_state(entry));
    return self;
}

NwDesignCard *nw_design_card_new_bundled(const NwDesign *design) {
    NwDesignCard *self = g_object_new(NW_TYPE_DESIGN_CARD, NULL);
    fill(self, design->name, dup_pieces((int)design->piece_count, nw_design_copies(design)),
         g_strdup(""));
    gtk_widget_set_visible(self->menu_button, FALSE);
    gtk_widget_action_set_enabled(GTK_WIDGET(self), "card.rename", FALSE);
    gtk_widget_action_set_enabled(GTK_WIDGET(self), "card.remove", FALSE);
    return self;
}

gint64 nw_design_card_get_id(NwDesignCard *self) {
    return self->id;
}

gint64 nw_design_card_get_version(NwDesignCard *self) {
    return self->version;
}

const char *nw_design_card_get_name(NwDesignCard *self) {
    return self->name;
}

gboolean nw_design_card_has_picture(NwDesignCard *self) {
    return self->pictured;
}

void nw_design_card_set_picture(NwDesignCard *self, GdkPaintable *picture) {
    gtk_picture_set_paintable(self->picture, picture);
    self->pictured = TRUE;
}
