#include "app/making/option_list.h"

#include <glib/gi18n.h>

#include "app/common/config.h"
#include "app/making/option_row.h"
#include "session/export_settings.h"

struct _NwOptionList {
    GtkWidget parent;
    GSettings *settings;
    const NwProduct *product;
    GPtrArray *rows; /* NwOptionRow, children of this */

    /* The kind of file, as if it were one more option of the product. */
    NwOption kind;
    GArray *endings; /* NwOptionChoice */
};

G_DEFINE_FINAL_TYPE(NwOptionList, nw_option_list, GTK_TYPE_WIDGET)

enum { CHANGED, SIGNALS };
static guint signals[SIGNALS];

static NwOptionRow *row_at(NwOptionList *self, guint index) {
    return self->rows->pdata[index];
}

static void on_row_changed(NwOptionList *self, NwOptionRow *row) {
    nw_export_settings_set(self->settings, self->product, nw_option_row_get_option(row),
                           nw_option_row_get_value(row));
    g_signal_emit(self, signals[CHANGED], 0);
}

/* ---- the kind of file -------------------------------------------------------------------- */

static void forget_endings(NwOptionList *self) {
    for (guint i = 0; i < self->endings->len; i++)
        g_free((char *)g_array_index(self->endings, NwOptionChoice, i).label);
    g_array_set_size(self->endings, 0);
}

/* ".pdf" is labelled "PDF". */
static void list_endings(NwOptionList *self) {
    forget_endings(self);
    for (const char *const *ending = self->product->endings; ending && *ending; ending++) {
        NwOptionChoice choice = {*ending, g_ascii_strup(*ending + 1, -1)};
        g_array_append_val(self->endings, choice);
    }
    self->kind = (NwOption){.name = "file",
                            .kind = NW_OPTION_CHOICE,
                            .label = N_("File type"),
                            .choices = (const NwOptionChoice *)(gpointer)self->endings->data,
                            .choice_count = self->endings->len};
}

const char *nw_option_list_get_ending(NwOptionList *self) {
    if (!self->product || self->product->target == NW_EXPORT_TARGET_FOLDER)
        return NULL;
    gboolean several = self->endings->len > 1;
    return self->endings->len
               ? self->kind.choices[several ? (size_t)nw_option_row_get_value(row_at(self, 0)) : 0]
                     .word
               : NULL;
}

/* ---- the rows ---------------------------------------------------------------------------- */

static void remove_rows(NwOptionList *self) {
    for (guint i = 0; i < self->rows->len; i++)
        gtk_widget_unparent(self->rows->pdata[i]);
    g_ptr_array_set_size(self->rows, 0);
}

static void add_row(NwOptionList *self, const NwOption *option) {
    GtkWidget *row =
        nw_option_row_new(option, nw_export_settings_get(self->settings, self->product, option));
    g_signal_connect_swapped(row, "changed", G_CALLBACK(on_row_changed), self);
    gtk_widget_set_parent(row, GTK_WIDGET(self));
    g_ptr_array_add(self->rows, row);
}

void nw_option_list_show(NwOptionList *self, const NwProduct *product) {
    remove_rows(self);
    self->product = product;
    list_endings(self);
    if (product->target == NW_EXPORT_TARGET_FILE && self->endings->len > 1)
        add_row(self, &self->kind);
    for (size_t i = 0; i < product->option_count; i++)
        if (!product->options[i].search)
            add_row(self, &product->options[i]);
}

static void fill(NwExportRequest *request, const NwOption *option, double value) {
    switch (option->kind) {
    case NW_OPTION_NUMBER:
        nw_export_request_set_number(request, option->name, value, NULL);
        return;
    case NW_OPTION_SWITCH:
        nw_export_request_set_switch(request, option->name, value != 0);
        return;
    default:
        nw_export_request_set_choice(request, option->name, option->choices[(size_t)value].word,
                                     NULL);
    }
}

/* What is left at its standard stays unsaid, as on the command line. */
void nw_option_list_fill(NwOptionList *self, NwExportRequest *request) {
    for (guint i = 0; i < self->rows->len; i++) {
        const NwOption *option = nw_option_row_get_option(row_at(self, i));
        double value = nw_option_row_get_value(row_at(self, i));
        if (option != &self->kind && value != option->standard)
            fill(request, option, value);
    }
}

gboolean nw_option_list_is_changed(NwOptionList *self) {
    return self->product && nw_export_settings_any(self->settings, self->product);
}

void nw_option_list_reset(NwOptionList *self) {
    nw_export_settings_reset(self->settings, self->product);
    nw_option_list_show(self, self->product);
    g_signal_emit(self, signals[CHANGED], 0);
}

gboolean nw_option_list_is_empty(NwOptionList *self) {
    return self->rows->len == 0;
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_option_list_dispose(GObject *object) {
    NwOptionList *self = NW_OPTION_LIST(object);
    remove_rows(self);
    g_clear_object(&self->settings);
    G_OBJECT_CLASS(nw_option_list_parent_class)->dispose(object);
}

static void nw_option_list_finalize(GObject *object) {
    NwOptionList *self = NW_OPTION_LIST(object);
    forget_endings(self);
    g_array_unref(self->endings);
    g_ptr_array_unref(self->rows);
    G_OBJECT_CLASS(nw_option_list_parent_class)->finalize(object);
}

static void nw_option_list_class_init(NwOptionListClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_option_list_dispose;
    G_OBJECT_CLASS(class)->finalize = nw_option_list_finalize;
    signals[CHANGED] = g_signal_new("changed", NW_TYPE_OPTION_LIST, G_SIGNAL_RUN_LAST, 0, NULL,
                                    NULL, NULL, G_TYPE_NONE, 0);
    gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BOX_LAYOUT);
    gtk_widget_class_set_css_name(widget, "optionlist");
    gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void nw_option_list_init(NwOptionList *self) {
    GtkLayoutManager *layout = gtk_widget_get_layout_manager(GTK_WIDGET(self));
    gtk_orientable_set_orientation(GTK_ORIENTABLE(layout), GTK_ORIENTATION_VERTICAL);
    self->settings = g_settings_new(NW_APP_ID);
    self->rows = g_ptr_array_new();
    self->endings = g_array_new(FALSE, FALSE, sizeof(NwOptionChoice));
}
