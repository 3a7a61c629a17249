#include "app/start/envelope_dialog.h"

#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "app/common/accessible_names.h"
#include "app/common/config.h"
#include "app/start/thumbnail.h"
#include "design/brush.h"
#include "design/edit_envelope.h"
#include "session/envelope_shape.h"
#include "text/solid_words.h"

enum { PICTURE_WIDTH = 300, PICTURE_HEIGHT = 240, SETTLE_MS = 120, FIRST_SIZE = 4 };

/* Rows of the drop-down, before those of the table of solids and after them. */
typedef enum Choice { CHOICE_AS_IS, CHOICE_NAMED, CHOICE_PLANES } Choice;

struct _NwEnvelopeDialog {
    GtkWindow parent;
    NwViewState *view_state; /* NULL for a new design */
    NwLibrary *library;      /* borrowed, or NULL */
    guint updating;          /* timeout source, or 0 */
    gboolean named_by_hand;
    NwSolid *envelope; /* as chosen, laid where it will be; NULL while something is wrong */
    GtkWidget *name_label, *sizes_box, *planes_box, *empty_hint, *problem_box, *losses_scroller;
    GtkEntry *name_entry, *planes_entry;
    GtkDropDown *shape_choice;
    GtkWidget *sizes[NW_SIZES_MAX], *size_labels[NW_SIZES_MAX];
    GtkCheckButton *empty_as_now, *empty_nothing, *empty_inside, *empty_painted;
    GtkPicture *picture;
    GtkLabel *figures, *problem, *losses;
    GtkButton *apply_button;
};

G_DEFINE_FINAL_TYPE(NwEnvelopeDialog, nw_envelope_dialog, GTK_TYPE_WINDOW)

enum { DESIGN_MADE, SIGNALS };
static guint signals[SIGNALS];

static const NwDesign *design_of(NwEnvelopeDialog *self) {
    return self->view_state ? nw_document_get_design(nw_view_state_get_document(self->view_state))
                            : NULL;
}

/* ---- what is chosen ---------------------------------------------------------------------- */

static Choice choice_of(NwEnvelopeDialog *self, const NwNamedSolid **named) {
    guint row = gtk_drop_down_get_selected(self->shape_choice);
    *named = NULL;
    if (self->view_state && row-- == 0)
        return CHOICE_AS_IS;
    *named = nw_named_solid(row);
    return *named ? CHOICE_NAMED : CHOICE_PLANES;
}

static NwShape shape_of(NwEnvelopeDialog *self, const NwNamedSolid *named) {
    NwShape shape = {.named = named,
                     .planes = gtk_editable_get_text(GTK_EDITABLE(self->planes_entry))};
    for (int i = 0; i < NW_SIZES_MAX; i++)
        shape.sizes[i] = gtk_spin_button_get_value_as_int(GTK_SPIN_BUTTON(self->sizes[i]));
    return shape;
}

static char *dup_name(NwEnvelopeDialog *self) {
    return g_strstrip(g_strdup(gtk_editable_get_text(GTK_EDITABLE(self->name_entry))));
}

/* A sentence about the name, or NULL if it will do. */
static char *dup_name_problem(NwEnvelopeDialog *self) {
    if (self->view_state)
        return NULL;
    char *name = dup_name(self), *problem = NULL;
    if (!*name)
        problem = g_strdup(_("Give the design a name."));
    else if (self->library) {
        NwDesignEntry *taken = nw_library_find_design(self->library, name, NULL);
        if (taken)
            problem = g_strdup_printf(
                _("There is a design called “%s” already: choose another name."), name);
        g_clear_pointer(&taken, nw_design_entry_free);
    }
    g_free(name);
    return problem;
}

/* ---- showing it -------------------------------------------------------------------------- */

static void show_picture(NwEnvelopeDialog *self, NwSolid *solid) {
    if (!solid) {
        gtk_picture_set_paintable(self->picture, NULL);
        return;
    }
    NwDesign *design = nw_design_new("");
    nw_solid_free(design->envelope);
    design->envelope = solid;
    GdkPaintable *picture =
        nw_thumbnail_for(GTK_WIDGET(self), design, PICTURE_WIDTH, PICTURE_HEIGHT);
    gtk_picture_set_paintable(self->picture, picture);
    g_object_unref(picture);
    nw_design_free(design);
}

static void show_problem(NwEnvelopeDialog *self, const char *problem) {
    gtk_label_set_text(self->problem, problem ? problem : "");
    gtk_widget_set_visible(self->problem_box, problem != NULL);
    gtk_widget_set_sensitive(GTK_WIDGET(self->apply_button), !problem);
}

static void show_figures(NwEnvelopeDialog *self) {
    char *figures = self->envelope ? nw_solid_words_figures(self->envelope) : g_strdup("");
    gtk_label_set_text(self->figures, figures);
    g_free(figures);
}

/* What falls out, for a change. Returns a problem, or NULL. */
static char *show_losses(NwEnvelopeDialog *self) {
    const NwDesign *design = design_of(self);
    char *problem = NULL;
    gtk_widget_set_visible(self->losses_scroller, FALSE);
    if (!design || !self->envelope)
        return NULL;
    int barred;
    guint64 locked = nw_document_get_locked(nw_view_state_get_document(self->view_state));
    char *losses = nw_shape_losses(design, self->envelope, locked, &barred);
    if (barred >= 0)
        problem = g_strdup_printf(_("“%s” is locked and would lose parts: unlock it first."),
                                  design->pieces[barred].name);
    char *text = *losses ? g_strdup_printf(_("Parts that will be lost:\n%s"), losses)
                         : g_strdup(_("The pieces lose no parts."));
    gtk_label_set_text(self->losses, text);
    gtk_widget_set_visible(self->losses_scroller, TRUE);
    g_free(text);
    g_free(losses);
    return problem;
}

static NwSolid *lay(const NwDesign *design, NwSolid *solid, char **problem) {
    size_t total;
    NwSolid *laid = nw_shape_lay(design, solid, &total);
    if (!laid)
        *problem = g_strdup(_("The pieces do not stand where the lattice has parts: make another "
                              "assembly the intended one first."));
    nw_solid_free(solid);
    return laid;
}

static void update(NwEnvelopeDialog *self) {
    const NwNamedSolid *named;
    const NwDesign *design = design_of(self);
    char *problem = NULL;
    g_clear_handle_id(&self->updating, g_source_remove);
    g_clear_pointer(&self->envelope, nw_solid_free);
    if (choice_of(self, &named) == CHOICE_AS_IS) {
        self->envelope = design ? nw_solid_copy(design->envelope) : NULL;
        show_picture(self, design ? nw_solid_copy(design->envelope) : NULL);
    } else {
        NwShape shape = shape_of(self, named);
        self->envelope = nw_shape_build(&shape, &problem);
        show_picture(self, self->envelope ? nw_shape_build_small(&shape) : NULL);
        if (self->envelope && design)
            self->envelope = lay(design, self->envelope, &problem);
    }
    show_figures(self);
    char *barred = show_losses(self);
    char *misnamed = dup_name_problem(self);
    show_problem(self, problem ? problem : barred ? barred : misnamed);
    g_free(problem);
    g_free(barred);
    g_free(misnamed);
}

static gboolean on_settled(gpointer data) {
    NwEnvelopeDialog *self = data;
    self->updating = 0;
    update(self);
    return G_SOURCE_REMOVE;
}

static void update_soon(NwEnvelopeDialog *self) {
    if (!self->updating)
        self->updating = g_timeout_add(SETTLE_MS, on_settled, self);
}

/* ---- the form ---------------------------------------------------------------------------- */

/* Until the maker writes a name the design is called after its shape. */
static void suggest_name(NwEnvelopeDialog *self, const NwNamedSolid *named) {
    if (self->view_state || self->named_by_hand)
        return;
    char *name = g_strdup(named ? nw_solid_words_name(named) : _("New design"));
    char *wanted = g_strdup(name);
    NwDesignEntry *taken;
    for (int number = 2;
         self->library && (taken = nw_library_find_design(self->library, name, NULL)); number++) {
        nw_design_entry_free(taken);
        g_free(name);
        name = g_strdup_printf("%s (%d)", wanted, number);
    }
    gtk_editable_set_text(GTK_EDITABLE(self->name_entry), name);
    self->named_by_hand = FALSE;
    g_free(wanted);
    g_free(name);
}

static void on_name_changed(NwEnvelopeDialog *self) {
    self->named_by_hand = TRUE;
    update_soon(self);
}

static void set_size_row(NwEnvelopeDialog *self, int i, const NwNamedSolid *named) {
    GtkSpinButton *spin = GTK_SPIN_BUTTON(self->sizes[i]);
    gboolean used = named && i < named->sizes;
    gtk_widget_set_visible(self->sizes[i], used);
    gtk_widget_set_visible(self->size_labels[i], used);
    if (!used)
        return;
    int largest = named->largest - named->largest % named->step;
    gtk_spin_button_set_increments(spin, named->step, 2 * named->step);
    gtk_spin_button_set_range(spin, named->step, largest);
    gtk_spin_button_set_snap_to_ticks(spin, named->step > 1);
    const char *measure = nw_solid_words_measure(named, i);
    gtk_label_set_text(GTK_LABEL(self->size_labels[i]), measure);
    gtk_accessible_update_property(GTK_ACCESSIBLE(spin), GTK_ACCESSIBLE_PROPERTY_LABEL, measure,
                                   -1);
}

static void on_shape_chosen(NwEnvelopeDialog *self) {
    const NwNamedSolid *named;
    Choice choice = choice_of(self, &named);
    for (int i = 0; i < NW_SIZES_MAX; i++)
        set_size_row(self, i, named);
    gtk_widget_set_visible(self->sizes_box, choice == CHOICE_NAMED);
    gtk_widget_set_visible(self->planes_box, choice == CHOICE_PLANES);
    suggest_name(self, named);
    update_soon(self);
}

static void fill_choices(NwEnvelopeDialog *self) {
    GtkStringList *names = gtk_string_list_new(NULL);
    const NwNamedSolid *named;
    guint cube = 0;
    if (self->view_state)
        gtk_string_list_append(names, _("As it is now"));
    for (gsize i = 0; (named = nw_named_solid(i)); i++) {
        gtk_string_list_append(names, nw_solid_words_name(named));
        if (strcmp(named->name, "cube") == 0)
            cube = (guint)i;
    }
    gtk_string_list_append(names, _("Shape within planes"));
    gtk_drop_down_set_model(self->shape_choice, G_LIST_MODEL(names));
    gtk_drop_down_set_selected(self->shape_choice, self->view_state ? 0 : cube);
    g_object_unref(names);
}

static void build_sizes(NwEnvelopeDialog *self) {
    for (int i = 0; i < NW_SIZES_MAX; i++) {
        self->size_labels[i] = gtk_label_new(NULL);
        gtk_label_set_xalign(GTK_LABEL(self->size_labels[i]), 0);
        gtk_label_set_wrap(GTK_LABEL(self->size_labels[i]), TRUE);
        gtk_label_set_max_width_chars(GTK_LABEL(self->size_labels[i]), 40);
        gtk_widget_add_css_class(self->size_labels[i], "caption");
        self->sizes[i] = gtk_spin_button_new_with_range(1, 64, 1);
        gtk_spin_button_set_value(GTK_SPIN_BUTTON(self->sizes[i]), FIRST_SIZE);
        gtk_widget_set_halign(self->sizes[i], GTK_ALIGN_START);
        gtk_box_append(GTK_BOX(self->sizes_box), self->size_labels[i]);
        gtk_box_append(GTK_BOX(self->sizes_box), self->sizes[i]);
        g_signal_connect_swapped(self->sizes[i], "value-changed", G_CALLBACK(update_soon), self);
    }
}

static void set_up_for_change(NwEnvelopeDialog *self) {
    const NwSolid *selection =
        nw_document_get_selection(nw_view_state_get_document(self->view_state));
    gulong selected = selection ? (gulong)nw_solid_parts(selection) : 0;
    gtk_window_set_title(GTK_WINDOW(self), _("Change the Outside Shape"));
    gtk_button_set_label(self->apply_button, _("C_hange"));
    gtk_accessible_update_property(GTK_ACCESSIBLE(self->apply_button),
                                   GTK_ACCESSIBLE_PROPERTY_LABEL, _("Change"), -1);
    gtk_widget_set_visible(self->name_label, FALSE);
    gtk_widget_set_visible(GTK_WIDGET(self->name_entry), FALSE);
    gtk_widget_set_visible(GTK_WIDGET(self->empty_as_now), TRUE);
    gtk_check_button_set_active(self->empty_as_now, TRUE);
    char *text = g_strdup_printf(
        ngettext("The selected part (%lu)", "The selected parts (%lu)", selected), selected);
    gtk_check_button_set_label(self->empty_painted, text);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self->empty_painted),
                                   GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
    gtk_widget_set_sensitive(GTK_WIDGET(self->empty_painted), selected > 0);
    gtk_widget_set_visible(self->empty_hint, selected == 0);
    g_free(text);
}

/* ---- doing it ---------------------------------------------------------------------------- */

/* Replaces what may be empty, as chosen, in a design that has its envelope. */
static NwStatus set_empties(NwEnvelopeDialog *self, NwEdit *edit) {
    if (gtk_check_button_get_active(self->empty_as_now))
        return NW_OK;
    NwSolid *empties = NULL;
    if (gtk_check_button_get_active(self->empty_inside))
        empties = nw_brush_inside(edit->design);
    else if (gtk_check_button_get_active(self->empty_painted) && self->view_state)
        empties =
            nw_solid_copy(nw_document_get_selection(nw_view_state_get_document(self->view_state)));
    NwStatus status = nw_edit_set_may_be_empty(edit, empties);
    nw_solid_free(empties);
    return status;
}

static NwStatus change(NwDesign *design, gpointer data) {
    NwEnvelopeDialog *self = data;
    NwEdit edit = {.design = design,
                   .locked = nw_document_get_locked(nw_view_state_get_document(self->view_state))};
    NwStatus status = nw_edit_set_envelope(&edit, self->envelope);
    return status == NW_OK ? set_empties(self, &edit) : status;
}

static gboolean apply_change(NwEnvelopeDialog *self) {
    return nw_document_apply(nw_view_state_get_document(self->view_state),
                             _("Change the outside shape"), change, self);
}

static void make_design(NwEnvelopeDialog *self) {
    char *name = dup_name(self);
    NwDesign *design = nw_design_new(name);
    nw_solid_free(design->envelope);
    design->envelope = nw_solid_copy(self->envelope);
    NwEdit edit = {.design = design};
    set_empties(self, &edit);
    g_signal_emit(self, signals[DESIGN_MADE], 0, design);
    nw_design_free(design);
    g_free(name);
}

static void on_apply(NwEnvelopeDialog *self) {
    update(self);
    if (!self->envelope || !gtk_widget_get_sensitive(GTK_WIDGET(self->apply_button)))
        return;
    if (!self->view_state)
        make_design(self);
    else if (!apply_change(self))
        return; /* the document has said why */
    gtk_window_close(GTK_WINDOW(self));
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_envelope_dialog_dispose(GObject *object) {
    NwEnvelopeDialog *self = NW_ENVELOPE_DIALOG(object);
    g_clear_handle_id(&self->updating, g_source_remove);
    if (self->view_state)
        g_signal_handlers_disconnect_by_data(nw_view_state_get_document(self->view_state), self);
    g_clear_object(&self->view_state);
    g_clear_pointer(&self->envelope, nw_solid_free);
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_ENVELOPE_DIALOG);
    G_OBJECT_CLASS(nw_envelope_dialog_parent_class)->dispose(object);
}

#define BIND(name) gtk_widget_class_bind_template_child(widget, NwEnvelopeDialog, name)

static void nw_envelope_dialog_class_init(NwEnvelopeDialogClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_envelope_dialog_dispose;
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/envelope_dialog.ui");
    BIND(name_label);
    BIND(name_entry);
    BIND(shape_choice);
    BIND(sizes_box);
    BIND(planes_box);
    BIND(planes_entry);
    BIND(empty_as_now);
    BIND(empty_nothing);
    BIND(empty_inside);
    BIND(empty_painted);
    BIND(empty_hint);
    BIND(picture);
    BIND(figures);
    BIND(problem_box);
    BIND(problem);
    BIND(losses_scroller);
    BIND(losses);
    BIND(apply_button);
    gtk_widget_class_add_binding_action(widget, GDK_KEY_Escape, 0, "window.close", NULL);
    signals[DESIGN_MADE] = g_signal_new("design-made", NW_TYPE_ENVELOPE_DIALOG, G_SIGNAL_RUN_LAST,
                                        0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_POINTER);
}

static void nw_envelope_dialog_init(NwEnvelopeDialog *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
    build_sizes(self);
    g_signal_connect_swapped(self->apply_button, "clicked", G_CALLBACK(on_apply), self);
    g_signal_connect_swapped(self->name_entry, "changed", G_CALLBACK(on_name_changed), self);
    g_signal_connect_swapped(self->planes_entry, "changed", G_CALLBACK(update_soon), self);
}

GtkWidget *nw_envelope_dialog_new(GtkWindow *parent, NwViewState *view_state) {
    NwEnvelopeDialog *self = g_object_new(NW_TYPE_ENVELOPE_DIALOG, "transient-for", parent, NULL);
    g_set_object(&self->view_state, view_state);
    if (!view_state) {
        g_object_bind_property(self->empty_painted, "active", self->empty_hint, "visible",
                               G_BINDING_SYNC_CREATE);
    } else {
        set_up_for_change(self);
        g_signal_connect_swapped(nw_view_state_get_document(view_state), "notify::version",
                                 G_CALLBACK(update_soon), self);
    }
    fill_choices(self);
    g_signal_connect_swapped(self->shape_choice, "notify::selected", G_CALLBACK(on_shape_chosen),
                             self);
    on_shape_chosen(self);
    update(self);
    nw_accessible_name_once(GTK_WIDGET(self));
    return GTK_WIDGET(self);
}

void nw_envelope_dialog_set_library(NwEnvelopeDialog *self, NwLibrary *library) {
    const NwNamedSolid *named;
    self->library = library;
    choice_of(self, &named);
    suggest_name(self, named);
    update(self);
}
