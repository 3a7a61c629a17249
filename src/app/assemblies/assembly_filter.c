#include "app/assemblies/assembly_filter.h"

#include <glib/gi18n.h>

#include "app/assemblies/state_mark.h"

struct _NwAssemblyFilter {
    GtkWidget parent;
    GtkBox *chips; /* of the template, as the rest */
    GtkDropDown *pieces;
    GtkWidget *chip[NW_STATE_COUNT];
    GtkLabel *count[NW_STATE_COUNT];
    guint counts[NW_STATE_COUNT];
    GtkStringList *names;
    gboolean updating;
};

G_DEFINE_FINAL_TYPE(NwAssemblyFilter, nw_assembly_filter, GTK_TYPE_WIDGET)

static guint narrowed;

static const struct {
    const char *name, *tooltip, *css;
} chips[NW_STATE_COUNT] = {
    [NW_STATE_INTENDED] = {N_("Intended"), N_("Show only the intended assembly"), "state-intended"},
    [NW_STATE_COOK] = {N_("Cooks"), N_("Show only cooks"), "state-cook"},
    [NW_STATE_OPENS] = {N_("Comes Apart"), N_("Show only assemblies that come apart"),
                        "state-opens"},
    [NW_STATE_UNDECIDED] = {N_("Undecided"), N_("Show only undecided ones"), "state-undecided"},
    [NW_STATE_UNREACHABLE] = {N_("Unreachable"), N_("Show only unreachable ones"),
                              "state-unreachable"},
};

static void on_switched(NwAssemblyFilter *self) {
    if (!self->updating)
        g_signal_emit(self, narrowed, 0);
}

static void add_chip(NwAssemblyFilter *self, NwAssemblyState state) {
    GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 4), *mark = nw_state_mark_new();
    nw_state_mark_set_state(NW_STATE_MARK(mark), state, TRUE);
    gtk_widget_add_css_class(mark, chips[state].css);
    self->count[state] = GTK_LABEL(gtk_label_new(NULL));
    gtk_widget_add_css_class(GTK_WIDGET(self->count[state]), "numeric");
    gtk_box_append(GTK_BOX(box), mark);
    gtk_box_append(GTK_BOX(box), GTK_WIDGET(self->count[state]));
    self->chip[state] = gtk_toggle_button_new();
    gtk_button_set_child(GTK_BUTTON(self->chip[state]), box);
    gtk_widget_set_tooltip_text(self->chip[state], _(chips[state].tooltip));
    gtk_widget_add_css_class(self->chip[state], "state-chip");
    gtk_widget_set_visible(self->chip[state], FALSE);
    g_signal_connect_swapped(self->chip[state], "toggled", G_CALLBACK(on_switched), self);
    gtk_box_append(self->chips, self->chip[state]);
}

/* A chip that would find nothing is not shown, unless it is what keeps the list empty. */
void nw_assembly_filter_set_count(NwAssemblyFilter *self, NwAssemblyState state, guint count) {
    gboolean on = gtk_toggle_button_get_active(GTK_TOGGLE_BUTTON(self->chip[state]));
    gtk_widget_set_visible(self->chip[state], count || on);
    if (self->counts[state] == count)
        return;
    self->counts[state] = count;
    char *text = g_strdup_printf("%u", count);
    /* Translators: a state of assemblies and how many there are: "Cooks: 12". */
    char *name = g_strdup_printf(_("%s: %u"), _(chips[state].name), count);
    gtk_label_set_text(self->count[state], text);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self->chip[state]), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   name, -1);
    g_free(name);
    g_free(text);
}

static gboolean has_names(NwAssemblyFilter *self, const NwDesign *design) {
    guint count = g_list_model_get_n_items(G_LIST_MODEL(self->names));
    gsize pieces = design ? design->piece_count : 0;
    if (count != pieces + 1)
        return FALSE;
    for (guint i = 1; i < count; i++)
        if (strcmp(gtk_string_list_get_string(self->names, i), design->pieces[i - 1].name) != 0)
            return FALSE;
    return TRUE;
}

void nw_assembly_filter_set_design(NwAssemblyFilter *self, const NwDesign *design) {
    if (has_names(self, design))
        return;
    guint count = g_list_model_get_n_items(G_LIST_MODEL(self->names));
    gboolean chosen = nw_assembly_filter_get_piece(self) >= 0;
    self->updating = TRUE;
    gtk_drop_down_set_selected(self->pieces, 0);
    gtk_string_list_splice(self->names, 1, count - 1, NULL);
    for (gsize p = 0; design && p < design->piece_count; p++)
        gtk_string_list_append(self->names, design->pieces[p].name);
    self->updating = FALSE;
    if (chosen)
        on_switched(self);
}

guint nw_assembly_filter_get_states(NwAssemblyFilter *self) {
    guint states = 0;
    for (int s = 0; s < NW_STATE_COUNT; s++)
        if (gtk_toggle_button_get_active(GTK_TOGGLE_BUTTON(self->chip[s])))
            states |= 1u << s;
    return states;
}

int nw_assembly_filter_get_piece(NwAssemblyFilter *self) {
    guint selected = gtk_drop_down_get_selected(self->pieces);
    return selected == GTK_INVALID_LIST_POSITION ? -1 : (int)selected - 1;
}

void nw_assembly_filter_clear(NwAssemblyFilter *self) {
    self->updating = TRUE;
    for (int s = 0; s < NW_STATE_COUNT; s++)
        gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->chip[s]), FALSE);
    gtk_drop_down_set_selected(self->pieces, 0);
    self->updating = FALSE;
    on_switched(self);
}

static void nw_assembly_filter_dispose(GObject *object) {
    GtkWidget *child = gtk_widget_get_first_child(GTK_WIDGET(object));
    g_clear_pointer(&child, gtk_widget_unparent);
    G_OBJECT_CLASS(nw_assembly_filter_parent_class)->dispose(object);
}

static void nw_assembly_filter_class_init(NwAssemblyFilterClass *class) {
    GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_assembly_filter_dispose;
    narrowed = g_signal_new("narrowed", NW_TYPE_ASSEMBLY_FILTER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                            NULL, G_TYPE_NONE, 0);
    gtk_widget_class_set_layout_manager_type(widget_class, GTK_TYPE_BIN_LAYOUT);
    gtk_widget_class_set_template_from_resource(
        widget_class, "/net/notchwright/Notchwright/ui/assembly_filter.ui");
    gtk_widget_class_bind_template_child(widget_class, NwAssemblyFilter, chips);
    gtk_widget_class_bind_template_child(widget_class, NwAssemblyFilter, pieces);
    gtk_widget_class_bind_template_callback(widget_class, on_switched);
}

static void nw_assembly_filter_init(NwAssemblyFilter *self) {
    self->updating = TRUE;
    gtk_widget_init_template(GTK_WIDGET(self));
    for (int s = 0; s < NW_STATE_COUNT; s++)
        add_chip(self, (NwAssemblyState)s);
    self->names = gtk_string_list_new(NULL);
    gtk_string_list_append(self->names, _("Any first piece"));
    gtk_drop_down_set_model(self->pieces, G_LIST_MODEL(self->names));
    g_object_unref(self->names); /* the drop-down keeps it */
    self->updating = FALSE;
}
