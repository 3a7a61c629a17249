#include "app/bench/board_panel.h"

#include <glib/gi18n.h>

#include "app/bench/layer_board.h"
#include "app/bench/selection_menu.h"
#include "app/common/config.h"
#include "text/part_words.h"

enum { AXES = 3, TOUCHES = 4, NO_CUT = 0 };

struct _NwBoardPanel {
    GtkWidget parent;
    NwViewState *view_state;
    NwDocument *document; /* of the view state */
    gboolean updating;    /* the controls follow the models, not the maker */
    GSimpleActionGroup *selection_actions;

    GtkWidget *content;
    GtkDropDown *brush, *cut_axis;
    GtkWidget *touches[TOUCHES], *axes[AXES];
    GtkMenuButton *selection_button, *cut_button;
    GtkWidget *cut_level;
    GtkAdjustment *cut_adjustment;
    GtkLabel *cut_words, *words;
    NwLayerBoard *board;
};

G_DEFINE_FINAL_TYPE(NwBoardPanel, nw_board_panel, GTK_TYPE_WIDGET)

static const NwTouch touch_of_button[TOUCHES] = {NW_TOUCH_LOOK, NW_TOUCH_GIVE, NW_TOUCH_TAKE,
                                                 NW_TOUCH_SELECT};

/* ---- showing ------------------------------------------------------------------------------- */

static void show_words(NwBoardPanel *self) {
    const NwDesign *design = nw_document_get_design(self->document);
    const NwSolid *selection = design ? nw_document_get_selection(self->document) : NULL;
    NwPart part;
    char *words = NULL;
    if (design && nw_view_state_get_hover(self->view_state, &part))
        words =
            nw_part_words(design, selection, nw_view_state_get_board_axis(self->view_state), part);
    else if (selection && selection->count > 0) {
        size_t parts = nw_solid_parts(selection);
        char *volume = nw_volume_words(nw_solid_volume6(selection));
        words = g_strdup_printf(ngettext("%zu part selected, %s", "%zu parts selected, %s", parts),
                                parts, volume);
        g_free(volume);
    }
    gtk_label_set_text(self->words, words ? words : "");
    g_free(words);
}

static void show_cut(NwBoardPanel *self) {
    const NwDesign *design = nw_document_get_design(self->document);
    int axis = nw_view_state_get_cut_axis(self->view_state),
        level = nw_view_state_get_cut_level(self->view_state);
    gtk_drop_down_set_selected(self->cut_axis, axis < 0 ? NO_CUT : (guint)axis + 1);
    gtk_widget_set_sensitive(self->cut_level, axis >= 0);
    if (!design || axis < 0) {
        gtk_label_set_text(self->cut_words, _("No section"));
        return;
    }
    NwBounds box = nw_solid_bounds(design->envelope);
    int low = nw_vec_get(box.low, axis), high = nw_vec_get(box.high, axis);
    gtk_adjustment_configure(self->cut_adjustment, level, low, high, 1, 1, 0);
    char *where = nw_layer_words(axis, level);
    char *words = level >= high ? g_strdup(_("No section"))
                                : g_strdup_printf(_("Cut away from layer %s on"), where);
    gtk_label_set_text(self->cut_words, words);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self->cut_level),
                                   GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, words, -1);
    g_free(words);
    g_free(where);
}

static void show_controls(NwBoardPanel *self) {
    self->updating = TRUE;
    gtk_toggle_button_set_active(
        GTK_TOGGLE_BUTTON(self->axes[nw_view_state_get_board_axis(self->view_state)]), TRUE);
    for (int i = 0; i < TOUCHES; i++)
        if (touch_of_button[i] == nw_document_get_touch(self->document))
            gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->touches[i]), TRUE);
    gtk_drop_down_set_selected(self->brush, nw_document_get_brush(self->document));
    show_cut(self);
    self->updating = FALSE;
}

static void update_actions(NwBoardPanel *self) {
    nw_selection_actions_update(self->selection_actions, self->document);
}

static void on_selection(NwBoardPanel *self) {
    show_words(self);
    update_actions(self);
}

static void on_axis_changed(NwBoardPanel *self) {
    show_controls(self);
    show_words(self);
}

static void on_version(NwBoardPanel *self) {
    show_controls(self);
    on_selection(self);
    gtk_widget_set_sensitive(self->content, nw_document_get_design(self->document) != NULL);
}

/* ---- what the maker does ------------------------------------------------------------------- */

static void on_brush(NwBoardPanel *self) {
    guint brush = gtk_drop_down_get_selected(self->brush);
    if (!self->updating && self->view_state && brush < NW_BRUSH_COUNT)
        nw_document_set_brush(self->document, (NwBrush)brush);
}

static void on_touch(NwBoardPanel *self) {
    for (int i = 0; i < TOUCHES; i++)
        if (!self->updating && self->view_state &&
            gtk_toggle_button_get_active(GTK_TOGGLE_BUTTON(self->touches[i])))
            nw_document_set_touch(self->document, touch_of_button[i]);
}

static void on_axis(NwBoardPanel *self) {
    for (int axis = 0; axis < AXES; axis++)
        if (!self->updating && self->view_state &&
            gtk_toggle_button_get_active(GTK_TOGGLE_BUTTON(self->axes[axis])))
            nw_view_state_set_board_axis(self->view_state, axis);
}

/* A new cut begins in the middle, where there is most to see. */
static void on_cut_axis(NwBoardPanel *self) {
    guint selected = gtk_drop_down_get_selected(self->cut_axis);
    if (self->updating || !self->view_state || !nw_document_get_design(self->document))
        return;
    if (selected == NO_CUT || selected > AXES) {
        nw_view_state_set_cut(self->view_state, -1, 0);
        return;
    }
    int axis = (int)selected - 1;
    NwBounds box = nw_solid_bounds(nw_document_get_design(self->document)->envelope);
    int low = nw_vec_get(box.low, axis), high = nw_vec_get(box.high, axis);
    nw_view_state_set_cut(self->view_state, axis, low + (high - low + 1) / 2);
}

static void on_cut_level(NwBoardPanel *self) {
    int axis = self->view_state ? nw_view_state_get_cut_axis(self->view_state) : -1;
    if (!self->updating && axis >= 0)
        nw_view_state_set_cut(self->view_state, axis,
                              (int)gtk_adjustment_get_value(self->cut_adjustment));
}

static void on_zoom_in(NwBoardPanel *self) {
    nw_layer_board_zoom_by(self->board, 1);
}

static void on_zoom_out(NwBoardPanel *self) {
    nw_layer_board_zoom_by(self->board, -1);
}

static void on_zoom_fit(NwBoardPanel *self) {
    nw_layer_board_zoom_to_fit(self->board);
}

static void make_selection_menu(GtkMenuButton *button, gpointer data) {
    NwBoardPanel *self = data;
    if (!self->view_state)
        return;
    GMenuModel *menu = nw_selection_menu_new(self->document);
    gtk_menu_button_set_popover(button, gtk_popover_menu_new_from_model(menu));
    g_object_unref(menu);
}

/* ---- the object ---------------------------------------------------------------------------- */

void nw_board_panel_set_view_state(NwBoardPanel *self, NwViewState *view_state) {
    g_return_if_fail(!self->view_state);
    self->view_state = g_object_ref(view_state);
    self->document = nw_view_state_get_document(view_state);
    self->selection_actions = nw_selection_actions_new(self->document);
    gtk_widget_insert_action_group(GTK_WIDGET(self), "selection",
                                   G_ACTION_GROUP(self->selection_actions));
    nw_layer_board_set_view_state(self->board, view_state);
    g_object_connect(self->document, /* */
                     "swapped-object-signal::notify::design", show_words, self,
                     "swapped-object-signal::notify::version", on_version, self,
                     "swapped-object-signal::notify::selection", on_selection, self,
                     "swapped-object-signal::notify::piece", update_actions, self,
                     "swapped-object-signal::notify::touch", show_controls, self,
                     "swapped-object-signal::notify::brush", show_controls, self, NULL);
    g_object_connect(view_state, /* */
                     "swapped-object-signal::notify::cut", show_controls, self,
                     "swapped-object-signal::notify::board-axis", on_axis_changed, self,
                     "swapped-object-signal::notify::hover", show_words, self, NULL);
    on_version(self);
}

static void nw_board_panel_dispose(GObject *object) {
    NwBoardPanel *self = NW_BOARD_PANEL(object);
    self->updating = TRUE;
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_BOARD_PANEL);
    g_clear_object(&self->selection_actions);
    g_clear_object(&self->view_state);
    G_OBJECT_CLASS(nw_board_panel_parent_class)->dispose(object);
}

static void bind_indexed(GtkWidgetClass *class, const char *name, gsize offset) {
    gtk_widget_class_bind_template_child_full(class, name, FALSE, (gssize)offset);
}

static gboolean nw_board_panel_grab_focus(GtkWidget *widget) {
    return gtk_widget_grab_focus(GTK_WIDGET(NW_BOARD_PANEL(widget)->board));
}

static void nw_board_panel_class_init(NwBoardPanelClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    widget->grab_focus = nw_board_panel_grab_focus;
    G_OBJECT_CLASS(class)->dispose = nw_board_panel_dispose;
    g_type_ensure(NW_TYPE_LAYER_BOARD);
    gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/board_panel.ui");
    gtk_widget_class_bind_template_child(widget, NwBoardPanel, content);
    gtk_widget_class_bind_template_child(widget, NwBoardPanel, brush);
    gtk_widget_class_bind_template_child(widget, NwBoardPanel, selection_button);
    gtk_widget_class_bind_template_child(widget, NwBoardPanel, cut_button);
    gtk_widget_class_bind_template_child(widget, NwBoardPanel, cut_axis);
    gtk_widget_class_bind_template_child(widget, NwBoardPanel, cut_level);
    gtk_widget_class_bind_template_child(widget, NwBoardPanel, cut_adjustment);
    gtk_widget_class_bind_template_child(widget, NwBoardPanel, cut_words);
    gtk_widget_class_bind_template_child(widget, NwBoardPanel, words);
    gtk_widget_class_bind_template_child(widget, NwBoardPanel, board);
    bind_indexed(widget, "look", G_STRUCT_OFFSET(NwBoardPanel, touches[0]));
    bind_indexed(widget, "give", G_STRUCT_OFFSET(NwBoardPanel, touches[1]));
    bind_indexed(widget, "take", G_STRUCT_OFFSET(NwBoardPanel, touches[2]));
    bind_indexed(widget, "select", G_STRUCT_OFFSET(NwBoardPanel, touches[3]));
    bind_indexed(widget, "axis_x", G_STRUCT_OFFSET(NwBoardPanel, axes[0]));
    bind_indexed(widget, "axis_y", G_STRUCT_OFFSET(NwBoardPanel, axes[1]));
    bind_indexed(widget, "axis_z", G_STRUCT_OFFSET(NwBoardPanel, axes[2]));
    gtk_widget_class_bind_template_callback(widget, on_brush);
    gtk_widget_class_bind_template_callback(widget, on_touch);
    gtk_widget_class_bind_template_callback(widget, on_axis);
    gtk_widget_class_bind_template_callback(widget, on_cut_axis);
    gtk_widget_class_bind_template_callback(widget, on_cut_level);
    gtk_widget_class_bind_template_callback(widget, on_zoom_in);
    gtk_widget_class_bind_template_callback(widget, on_zoom_out);
    gtk_widget_class_bind_template_callback(widget, on_zoom_fit);
}

static void nw_board_panel_init(NwBoardPanel *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
    gtk_menu_button_set_create_popup_func(self->selection_button, make_selection_menu, self, NULL);
}
