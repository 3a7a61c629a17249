#include "app/bench/piece_row.h"

#include <glib/gi18n.h>

#include "app/bench/colour_menu.h"
#include "app/common/config.h"
#include "session/piece_actions.h"
#include "session/piece_marks.h"
#include "text/part_words.h"

struct _NwPieceRow {
    GtkListBoxRow parent;
    NwViewState *view_state;
    NwDocument *document; /* of the view state */
    int piece;
    gboolean updating; /* the controls follow the document, not the maker */

    GtkWidget *colour, *name, *hide, *lock, *solo, *copies;
    GtkLabel *volume, *marks, *tips;
    GtkWidget *marks_box, *tips_box;
};

G_DEFINE_FINAL_TYPE(NwPieceRow, nw_piece_row, GTK_TYPE_LIST_BOX_ROW)

int nw_piece_row_get_piece(NwPieceRow *self) {
    return self->piece;
}

static const NwPiece *piece_of(NwPieceRow *self) {
    const NwDesign *design = nw_document_get_design(self->document);
    return design && (size_t)self->piece < design->piece_count ? &design->pieces[self->piece]
                                                               : NULL;
}

/* ---- showing ------------------------------------------------------------------------------- */

/* The accessible name of a control, with the name of the piece. */
static void name_control(GtkWidget *control, const char *format, const char *name) {
    char *label = g_strdup_printf(format, name);
    gtk_accessible_update_property(GTK_ACCESSIBLE(control), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                   -1);
    g_free(label);
}

static void name_controls(NwPieceRow *self, const char *name) {
    name_control(GTK_WIDGET(self), _("Piece %s"), name);
    name_control(self->name, _("Name of piece %s"), name);
    name_control(self->hide, _("Hide piece %s"), name);
    name_control(self->lock, _("Lock piece %s"), name);
    name_control(self->solo, _("Show piece %s alone"), name);
    name_control(self->copies, _("Copies of piece %s"), name);
}

static void show_toggles(NwPieceRow *self) {
    guint flags = nw_document_get_flags(self->document, self->piece);
    gboolean hidden = (flags & NW_PIECE_HIDDEN) != 0, locked = (flags & NW_PIECE_LOCKED) != 0;
    gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->hide), hidden);
    gtk_button_set_icon_name(GTK_BUTTON(self->hide),
                             hidden ? "view-conceal-symbolic" : "view-reveal-symbolic");
    gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->lock), locked);
    gtk_button_set_icon_name(GTK_BUTTON(self->lock),
                             locked ? "changes-prevent-symbolic" : "changes-allow-symbolic");
    gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->solo),
                                 nw_document_get_solo(self->document) == self->piece);
    gtk_widget_set_sensitive(self->colour, !locked);
    gtk_widget_set_sensitive(self->copies, !locked);
    gtk_editable_set_editable(GTK_EDITABLE(self->name), !locked);
}

static void show_lines(GtkLabel *label, GtkWidget *box, char *lines) {
    gtk_widget_set_visible(box, lines != NULL);
    gtk_label_set_text(label, lines ? lines : "");
    g_free(lines);
}

void nw_piece_row_update(NwPieceRow *self, gboolean fits) {
    const NwDesign *design = nw_document_get_design(self->document);
    const NwPiece *piece = piece_of(self);
    if (!piece)
        return;
    self->updating = TRUE;
    nw_colour_menu_update(NW_COLOUR_MENU(self->colour), design, self->piece);
    if (!gtk_editable_label_get_editing(GTK_EDITABLE_LABEL(self->name)))
        gtk_editable_set_text(GTK_EDITABLE(self->name), piece->name);
    gtk_spin_button_set_value(GTK_SPIN_BUTTON(self->copies), piece->copies);
    char *volume = nw_volume_words(nw_solid_volume6(piece->solid));
    gtk_label_set_text(self->volume, volume);
    g_free(volume);
    show_lines(self->marks, self->marks_box, nw_piece_mark_words(design, self->piece, fits));
    show_lines(self->tips, self->tips_box,
               nw_view_state_get_tips(self->view_state) ? nw_piece_tip_words(design, self->piece)
                                                        : NULL);
    show_toggles(self);
    name_controls(self, piece->name);
    self->updating = FALSE;
}

/* ---- what the maker does ------------------------------------------------------------------- */

static void on_colour(NwPieceRow *self, const char *colour) {
    nw_command_recolour(self->document, self->piece, colour);
}

/* The name counts when the editing ends; a refused one gives way to the old. Until it is edited the
 * label lets clicks through to the row: of itself it would be edited at the first. */
static void on_name_editing(NwPieceRow *self) {
    gboolean editing = gtk_editable_label_get_editing(GTK_EDITABLE_LABEL(self->name));
    gtk_widget_set_can_target(self->name, editing);
    if (self->updating || editing || !piece_of(self))
        return;
    char *name = g_strstrip(g_strdup(gtk_editable_get_text(GTK_EDITABLE(self->name))));
    if (!nw_command_rename(self->document, self->piece, name) && piece_of(self))
        gtk_editable_set_text(GTK_EDITABLE(self->name), piece_of(self)->name);
    g_free(name);
}

static void on_copies(NwPieceRow *self) {
    if (self->updating || !piece_of(self))
        return;
    int copies = gtk_spin_button_get_value_as_int(GTK_SPIN_BUTTON(self->copies));
    if (nw_command_set_copies(self->document, self->piece, copies) || !piece_of(self))
        return;
    self->updating = TRUE;
    gtk_spin_button_set_value(GTK_SPIN_BUTTON(self->copies), piece_of(self)->copies);
    self->updating = FALSE;
}

static void on_flag(NwPieceRow *self, NwPieceFlag flag, GtkWidget *button) {
    if (!self->updating)
        nw_document_set_flag(self->document, self->piece, flag,
                             gtk_toggle_button_get_active(GTK_TOGGLE_BUTTON(button)));
}

static void on_hide(NwPieceRow *self) {
    on_flag(self, NW_PIECE_HIDDEN, self->hide);
}

static void on_lock(NwPieceRow *self) {
    on_flag(self, NW_PIECE_LOCKED, self->lock);
}

static void on_solo(NwPieceRow *self) {
    if (!self->updating)
        nw_document_set_solo(
            self->document,
            gtk_toggle_button_get_active(GTK_TOGGLE_BUTTON(self->solo)) ? self->piece : -1);
}

void nw_piece_row_rename(NwPieceRow *self) {
    if (gtk_editable_get_editable(GTK_EDITABLE(self->name)))
        gtk_editable_label_start_editing(GTK_EDITABLE_LABEL(self->name));
}

static void on_pressed(NwPieceRow *self, int presses) {
    if (presses == 2)
        nw_piece_row_rename(self);
}

/* ---- dragging to another place in the list ------------------------------------------------- */

static GdkContentProvider *on_drag_prepare(NwPieceRow *self) {
    return gdk_content_provider_new_typed(NW_TYPE_PIECE_ROW, self);
}

static void on_drag_begin(NwPieceRow *self, GdkDrag *drag G_GNUC_UNUSED, GtkDragSource *source) {
    GdkPaintable *picture = gtk_widget_paintable_new(GTK_WIDGET(self));
    gtk_drag_source_set_icon(source, picture, 0, 0);
    g_object_unref(picture);
}

static gboolean on_drop(NwPieceRow *self, const GValue *value) {
    NwPieceRow *row = g_value_get_object(value);
    return row && row->document == self->document &&
           nw_command_reorder(self->document, row->piece, self->piece);
}

static void add_dragging(NwPieceRow *self) {
    GtkDragSource *source = gtk_drag_source_new();
    gtk_drag_source_set_actions(source, GDK_ACTION_MOVE);
    g_signal_connect_swapped(source, "prepare", G_CALLBACK(on_drag_prepare), self);
    g_signal_connect_swapped(source, "drag-begin", G_CALLBACK(on_drag_begin), self);
    gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(source));
    GtkDropTarget *target = gtk_drop_target_new(NW_TYPE_PIECE_ROW, GDK_ACTION_MOVE);
    g_signal_connect_swapped(target, "drop", G_CALLBACK(on_drop), self);
    gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(target));
}

/* ---- the object ---------------------------------------------------------------------------- */

static void nw_piece_row_dispose(GObject *object) {
    NwPieceRow *self = NW_PIECE_ROW(object);
    self->updating = TRUE; /* what the controls say while they go is nobody's wish */
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_PIECE_ROW);
    g_clear_object(&self->view_state);
    G_OBJECT_CLASS(nw_piece_row_parent_class)->dispose(object);
}

static void nw_piece_row_class_init(NwPieceRowClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_piece_row_dispose;
    g_type_ensure(NW_TYPE_COLOUR_MENU);
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/piece_row.ui");
    gtk_widget_class_bind_template_child(widget, NwPieceRow, colour);
    gtk_widget_class_bind_template_child(widget, NwPieceRow, name);
    gtk_widget_class_bind_template_child(widget, NwPieceRow, hide);
    gtk_widget_class_bind_template_child(widget, NwPieceRow, lock);
    gtk_widget_class_bind_template_child(widget, NwPieceRow, solo);
    gtk_widget_class_bind_template_child(widget, NwPieceRow, copies);
    gtk_widget_class_bind_template_child(widget, NwPieceRow, volume);
    gtk_widget_class_bind_template_child(widget, NwPieceRow, marks);
    gtk_widget_class_bind_template_child(widget, NwPieceRow, marks_box);
    gtk_widget_class_bind_template_child(widget, NwPieceRow, tips);
    gtk_widget_class_bind_template_child(widget, NwPieceRow, tips_box);
    gtk_widget_class_bind_template_callback(widget, on_colour);
    gtk_widget_class_bind_template_callback(widget, on_name_editing);
    gtk_widget_class_bind_template_callback(widget, on_pressed);
    gtk_widget_class_bind_template_callback(widget, on_copies);
    gtk_widget_class_bind_template_callback(widget, on_hide);
    gtk_widget_class_bind_template_callback(widget, on_lock);
    gtk_widget_class_bind_template_callback(widget, on_solo);
}

static void nw_piece_row_init(NwPieceRow *self) {
    self->updating = TRUE;
    gtk_widget_init_template(GTK_WIDGET(self));
    gtk_spin_button_set_range(GTK_SPIN_BUTTON(self->copies), 1, NW_COPIES_MAX);
    add_dragging(self);
    self->updating = FALSE;
}

GtkWidget *nw_piece_row_new(NwViewState *view_state, int piece) {
    NwPieceRow *self = g_object_new(NW_TYPE_PIECE_ROW, NULL);
    self->view_state = g_object_ref(view_state);
    self->document = nw_view_state_get_document(view_state);
    self->piece = piece;
    return GTK_WIDGET(self);
}
