#include "app/making/option_row.h"

#include <glib/gi18n.h>
#include <math.h>

enum { SPACING = 12 };

struct _NwOptionRow {
    GtkWidget parent;
    const NwOption *option;
    GtkWidget *label, *control, *unit; /* the unit is NULL where there is none */
};

G_DEFINE_FINAL_TYPE(NwOptionRow, nw_option_row, GTK_TYPE_WIDGET)

enum { CHANGED, SIGNALS };
static guint signals[SIGNALS];

static void tell(NwOptionRow *self) {
    g_signal_emit(self, signals[CHANGED], 0);
}

/* ---- controls ---------------------------------------------------------------------------- */

/* A press of + changes the second figure of the standard: 20 goes to 21, 0.3 to 0.31. */
static double step_of(const NwOption *option) {
    double finest = pow(10, -option->digits);
    return option->standard > 0 ? fmax(finest, pow(10, floor(log10(option->standard)) - 1))
                                : finest;
}

static GtkWidget *spin_new(const NwOption *option) {
    double step = step_of(option);
    GtkAdjustment *adjustment =
        gtk_adjustment_new(option->standard, option->least, option->most, step, 10 * step, 0);
    GtkWidget *spin = gtk_spin_button_new(adjustment, 0, (guint)option->digits);
    char *bounds = g_strdup_printf(_("From %g to %g"), option->least, option->most);
    gtk_spin_button_set_numeric(GTK_SPIN_BUTTON(spin), TRUE);
    gtk_editable_set_alignment(GTK_EDITABLE(spin), 1);
    gtk_widget_set_tooltip_text(spin, bounds);
    g_free(bounds);
    return spin;
}

static GtkWidget *switch_new(const NwOption *option) {
    return gtk_switch_new();
}

static GtkWidget *list_new(const NwOption *option) {
    GtkStringList *labels = gtk_string_list_new(NULL);
    for (size_t i = 0; i < option->choice_count; i++)
        gtk_string_list_append(labels, _(option->choices[i].label));
    return gtk_drop_down_new(G_LIST_MODEL(labels), NULL);
}

static const struct {
    GtkWidget *(*make)(const NwOption *option);
    const char *signal; /* of another value */
} kinds[] = {[NW_OPTION_NUMBER] = {spin_new, "value-changed"},
             [NW_OPTION_SWITCH] = {switch_new, "notify::active"},
             [NW_OPTION_CHOICE] = {list_new, "notify::selected"}};

double nw_option_row_get_value(NwOptionRow *self) {
    double scale = pow(10, self->option->digits);
    switch (self->option->kind) {
    case NW_OPTION_NUMBER:
        gtk_spin_button_update(GTK_SPIN_BUTTON(self->control));
        return round(gtk_spin_button_get_value(GTK_SPIN_BUTTON(self->control)) * scale) / scale;
    case NW_OPTION_SWITCH:
        return gtk_switch_get_active(GTK_SWITCH(self->control));
    default:
        return gtk_drop_down_get_selected(GTK_DROP_DOWN(self->control));
    }
}

static void set_value(NwOptionRow *self, double value) {
    switch (self->option->kind) {
    case NW_OPTION_NUMBER:
        gtk_spin_button_set_value(GTK_SPIN_BUTTON(self->control), value);
        return;
    case NW_OPTION_SWITCH:
        gtk_switch_set_active(GTK_SWITCH(self->control), value != 0);
        return;
    default:
        gtk_drop_down_set_selected(GTK_DROP_DOWN(self->control), (guint)value);
    }
}

const NwOption *nw_option_row_get_option(NwOptionRow *self) {
    return self->option;
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_option_row_dispose(GObject *object) {
    NwOptionRow *self = NW_OPTION_ROW(object);
    if (self->control)
        g_signal_handlers_disconnect_by_data(self->control, self);
    g_clear_pointer(&self->label, gtk_widget_unparent);
    g_clear_pointer(&self->control, gtk_widget_unparent);
    g_clear_pointer(&self->unit, gtk_widget_unparent);
    G_OBJECT_CLASS(nw_option_row_parent_class)->dispose(object);
}

static void nw_option_row_class_init(NwOptionRowClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_option_row_dispose;
    signals[CHANGED] = g_signal_new("changed", NW_TYPE_OPTION_ROW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 0);
    gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BOX_LAYOUT);
    gtk_widget_class_set_css_name(widget, "optionrow");
}

static void nw_option_row_init(NwOptionRow *self) {
    GtkLayoutManager *layout = gtk_widget_get_layout_manager(GTK_WIDGET(self));
    gtk_box_layout_set_spacing(GTK_BOX_LAYOUT(layout), SPACING);
}

GtkWidget *nw_option_row_new(const NwOption *option, double value) {
    NwOptionRow *self = g_object_new(NW_TYPE_OPTION_ROW, NULL);
    const char *text = _(option->label);
    self->option = option;
    self->label = gtk_label_new(text);
    gtk_label_set_xalign(GTK_LABEL(self->label), 0);
    gtk_label_set_wrap(GTK_LABEL(self->label), TRUE);
    gtk_widget_set_hexpand(self->label, TRUE);
    gtk_widget_set_parent(self->label, GTK_WIDGET(self));
    self->control = kinds[option->kind].make(option);
    gtk_widget_set_valign(self->control, GTK_ALIGN_CENTER);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self->control), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   text, -1);
    gtk_widget_set_parent(self->control, GTK_WIDGET(self));
    if (option->kind == NW_OPTION_NUMBER && option->unit) {
        /* The command line names units in capitals, as it does all that is to be filled in. */
        char *unit = g_utf8_strdown(_(option->unit), -1);
        self->unit = gtk_label_new(unit);
        gtk_widget_add_css_class(self->unit, "dim-label");
        gtk_widget_set_parent(self->unit, GTK_WIDGET(self));
        g_free(unit);
    }
    set_value(self, value);
    g_signal_connect_swapped(self->control, kinds[option->kind].signal, G_CALLBACK(tell), self);
    return GTK_WIDGET(self);
}
