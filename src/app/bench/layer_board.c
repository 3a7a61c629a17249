#include "app/bench/layer_board.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/bench/layer_board_private.h"
#include "text/part_words.h"

/* Pixels. */
enum { SIDE_MIN = 10, SIDE_FIT_MIN = 14, SIDE_FIT_MAX = 72, SIDE_MAX = 160 };
enum { GAP = 16, HEAD = 24, MARGIN = 8 };

static const double zoom_step = 1.2;

enum { PROP_HADJUSTMENT = 1, PROP_VADJUSTMENT, PROP_HSCROLL_POLICY, PROP_VSCROLL_POLICY };

G_DEFINE_FINAL_TYPE_WITH_CODE(NwLayerBoard, nw_layer_board, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(GTK_TYPE_SCROLLABLE, NULL))

/* ---- where things are ---------------------------------------------------------------------- */

static double room(NwLayerBoard *self, int direction) {
    GtkWidget *widget = GTK_WIDGET(self);
    return direction == 0 ? gtk_widget_get_width(widget) : gtk_widget_get_height(widget);
}

static double offset(NwLayerBoard *self, int direction, double size) {
    double spare = room(self, direction) - size;
    if (spare >= 0)
        return direction == 0 ? -floor(spare / 2) : 0;
    GtkAdjustment *adjustment = self->adjustments[direction];
    return adjustment ? floor(gtk_adjustment_get_value(adjustment)) : 0;
}

NwBoardPoint nw_layer_board_origin(NwLayerBoard *self) {
    NwBoardPoint size = nw_board_size(&self->plan);
    return (NwBoardPoint){offset(self, 0, size.x), offset(self, 1, size.y)};
}

static void redraw_sheet(NwLayerBoard *self) {
    g_clear_pointer(&self->sheet, g_ptr_array_unref);
    gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void configure(NwLayerBoard *self) {
    NwBoardPoint size = nw_board_size(&self->plan);
    for (int direction = 0; direction < 2; direction++) {
        GtkAdjustment *adjustment = self->adjustments[direction];
        if (!adjustment)
            continue;
        double page = room(self, direction), length = direction == 0 ? size.x : size.y;
        double value = gtk_adjustment_get_value(adjustment);
        gtk_adjustment_configure(adjustment, CLAMP(value, 0, fmax(0, length - page)), 0,
                                 fmax(length, page), self->plan.side, page, page);
    }
}

static void arrange(NwLayerBoard *self) {
    NwBoardPoint seen = {room(self, 0), room(self, 1)};
    if (seen.x <= 0 || seen.y <= 0)
        return;
    if (self->fitted)
        self->plan.side = floor(fmax(SIDE_FIT_MIN, nw_board_fit(&self->plan, seen, SIDE_FIT_MAX)));
    self->plan.abreast = nw_board_abreast(&self->plan, seen.x);
}

static void lay_out(NwLayerBoard *self) {
    arrange(self);
    configure(self);
    redraw_sheet(self);
}

static void nw_layer_board_size_allocate(GtkWidget *widget, int width G_GNUC_UNUSED,
                                         int height G_GNUC_UNUSED, int baseline G_GNUC_UNUSED) {
    lay_out(NW_LAYER_BOARD(widget));
}

static void nw_layer_board_measure(GtkWidget *widget, GtkOrientation orientation,
                                   int for_size G_GNUC_UNUSED, int *minimum, int *natural,
                                   int *minimum_baseline, int *natural_baseline) {
    NwBoardPoint size = nw_board_size(&NW_LAYER_BOARD(widget)->plan);
    *minimum = 0;
    *natural = (int)ceil(orientation == GTK_ORIENTATION_HORIZONTAL ? size.x : size.y);
    *minimum_baseline = *natural_baseline = -1;
}

/* ---- moving about -------------------------------------------------------------------------- */

void nw_layer_board_set_side(NwLayerBoard *self, double side, NwBoardPoint about) {
    side = CLAMP(round(side), SIDE_MIN, SIDE_MAX);
    if (side == self->plan.side)
        return;
    /* The layers may come to lie otherwise, so what is to stay is a point of a square. */
    NwBoardPoint origin = nw_layer_board_origin(self), from, to;
    NwPart part;
    gboolean kept =
        nw_board_hit(&self->plan, (NwBoardPoint){origin.x + about.x, origin.y + about.y}, &part);
    if (kept)
        from = nw_board_square(&self->plan, part.cell);
    double scale = side / self->plan.side;
    self->fitted = FALSE;
    self->plan.side = side;
    lay_out(self);
    if (!kept)
        return;
    to = nw_board_square(&self->plan, part.cell);
    double at[2] = {to.x + (origin.x + about.x - from.x) * scale - about.x,
                    to.y + (origin.y + about.y - from.y) * scale - about.y};
    for (int direction = 0; direction < 2; direction++)
        if (self->adjustments[direction])
            gtk_adjustment_set_value(self->adjustments[direction], at[direction]);
}

void nw_layer_board_zoom_by(NwLayerBoard *self, int steps) {
    /* A step is at least a pixel, or small squares would never grow. */
    double side = self->plan.side * pow(zoom_step, steps);
    if (fabs(side - self->plan.side) < 1)
        side = self->plan.side + (steps > 0 ? 1 : -1);
    nw_layer_board_set_side(self, side, (NwBoardPoint){room(self, 0) / 2, room(self, 1) / 2});
}

void nw_layer_board_zoom_to_fit(NwLayerBoard *self) {
    self->fitted = TRUE;
    lay_out(self);
}

void nw_layer_board_scroll_by(NwLayerBoard *self, double right, double down) {
    double by[2] = {right, down};
    for (int direction = 0; direction < 2; direction++)
        if (self->adjustments[direction])
            gtk_adjustment_set_value(self->adjustments[direction],
                                     gtk_adjustment_get_value(self->adjustments[direction]) +
                                         by[direction]);
}

void nw_layer_board_reveal(NwLayerBoard *self, NwPart part) {
    NwBoardPoint at = nw_board_square(&self->plan, part.cell);
    double low[2] = {at.x, at.y};
    for (int direction = 0; direction < 2; direction++)
        if (self->adjustments[direction])
            gtk_adjustment_clamp_page(self->adjustments[direction], low[direction] - HEAD,
                                      low[direction] + self->plan.side + MARGIN);
}

/* ---- what it shows ------------------------------------------------------------------------- */

static void describe(NwLayerBoard *self) {
    NwDocument *document = nw_view_state_get_document(self->view_state);
    const NwDesign *design = nw_document_get_design(document);
    NwPart part;
    gboolean hovering = nw_view_state_get_hover(self->view_state, &part);
    char *words = hovering && design ? nw_part_words(design, nw_document_get_selection(document),
                                                     self->plan.axis, part)
                                     : g_strdup(_("no part is pointed at"));
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words,
                                   -1);
    g_free(words);
}

static void update_touched(NwLayerBoard *self) {
    NwPart part;
    nw_solid_free(self->touched);
    self->touched = NULL;
    NwDocument *document = nw_view_state_get_document(self->view_state);
    if (nw_document_get_design(document) && nw_document_get_touch(document) != NW_TOUCH_LOOK &&
        nw_view_state_get_hover(self->view_state, &part))
        self->touched = nw_view_state_brush_parts(self->view_state, part);
}

static gboolean is_drawn_alike(const NwOwnerMap *before, const NwOwnerMap *after, NwPart part) {
    return nw_owner_map_get(before, part) == nw_owner_map_get(after, part) &&
           nw_owner_map_is_shared(before, part) == nw_owner_map_is_shared(after, part);
}

/* A touch of a stroke leaves names and colours as they are, and most layers too. */
static void redraw_touched_layers(NwLayerBoard *self, const NwOwnerMap *before) {
    const NwDesign *design = nw_document_get_design(nw_view_state_get_document(self->view_state));
    for (size_t i = 0; i < design->envelope->count; i++) {
        NwVec at = nw_cell_at(&design->envelope->cells[i]);
        int layer =
            nw_vec_get(at, self->plan.axis) - nw_vec_get(self->plan.box.low, self->plan.axis);
        for (int bit = 0; bit < NW_PARTS; bit++)
            if (!is_drawn_alike(before, self->owners, (NwPart){at, bit}))
                g_clear_pointer(&self->sheet->pdata[layer], gsk_render_node_unref);
    }
    gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void on_design(NwLayerBoard *self) {
    const NwDesign *design = nw_document_get_design(nw_view_state_get_document(self->view_state));
    NwOwnerMap *before = self->owners;
    self->owners = design ? nw_owner_map_new(design) : NULL;
    NwBounds box = design ? nw_solid_bounds(design->envelope) : (NwBounds){{0, 0, 0}, {0, 0, 0}};
    if (!nw_vec_equal(box.low, self->plan.box.low) ||
        !nw_vec_equal(box.high, self->plan.box.high)) {
        self->plan.box = box;
        self->has_cursor = FALSE;
        lay_out(self);
        gtk_widget_queue_resize(GTK_WIDGET(self));
    }
    if (self->sheet && nw_document_in_stroke(nw_view_state_get_document(self->view_state)))
        redraw_touched_layers(self, before);
    else
        redraw_sheet(self);
    nw_owner_map_free(before);
    update_touched(self);
    describe(self);
}

static void on_hover(NwLayerBoard *self) {
    update_touched(self);
    describe(self);
    gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void on_selection(NwLayerBoard *self) {
    describe(self);
    gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void on_axis(NwLayerBoard *self) {
    self->plan.axis = nw_view_state_get_board_axis(self->view_state);
    self->has_cursor = FALSE;
    lay_out(self);
    on_hover(self);
}

static void on_cut(NwLayerBoard *self) {
    redraw_sheet(self);
    update_touched(self);
}

/* What may be drawn otherwise when it changes; hidden pieces are paler. */
static const struct {
    const char *of_view, *of_document;
    void (*follow)(NwLayerBoard *self);
} followed[] = {
    {NULL, "design", on_design},        {NULL, "shown", redraw_sheet},
    {NULL, "selection", on_selection},  {NULL, "brush", on_hover},
    {NULL, "touch", on_hover},          {"board-axis", NULL, on_axis},
    {"one-colour", NULL, redraw_sheet}, {"cut", NULL, on_cut},
    {"proposal", NULL, on_selection},   {"hover", NULL, on_hover},
};

void nw_layer_board_set_view_state(NwLayerBoard *self, NwViewState *view_state) {
    g_return_if_fail(!self->view_state);
    self->view_state = g_object_ref(view_state);
    for (gsize i = 0; i < G_N_ELEMENTS(followed); i++) {
        const char *of_view = followed[i].of_view;
        g_autofree char *signal =
            g_strconcat("notify::", of_view ? of_view : followed[i].of_document, NULL);
        g_signal_connect_object(of_view ? (gpointer)view_state
                                        : nw_view_state_get_document(view_state),
                                signal, G_CALLBACK(followed[i].follow), self, G_CONNECT_SWAPPED);
    }
    on_axis(self);
    on_design(self);
}

/* ---- the object ---------------------------------------------------------------------------- */

static void take_adjustment(NwLayerBoard *self, int direction, GtkAdjustment *adjustment) {
    if (self->adjustments[direction])
        g_signal_handlers_disconnect_by_data(self->adjustments[direction], self);
    if (!g_set_object(&self->adjustments[direction], adjustment) || !adjustment)
        return;
    g_signal_connect_swapped(adjustment, "value-changed", G_CALLBACK(redraw_sheet), self);
    configure(self);
}

static void nw_layer_board_set_property(GObject *object, guint id, const GValue *value,
                                        GParamSpec *spec) {
    NwLayerBoard *self = NW_LAYER_BOARD(object);
    switch (id) {
    case PROP_HADJUSTMENT:
    case PROP_VADJUSTMENT:
        take_adjustment(self, id == PROP_VADJUSTMENT, g_value_get_object(value));
        break;
    case PROP_HSCROLL_POLICY:
    case PROP_VSCROLL_POLICY:
        self->policies[id == PROP_VSCROLL_POLICY] = (guint)g_value_get_enum(value);
        break;
    default:
        G_OBJECT_WARN_INVALID_PROPERTY_ID(object, id, spec);
    }
}

static void nw_layer_board_get_property(GObject *object, guint id, GValue *value,
                                        GParamSpec *spec) {
    NwLayerBoard *self = NW_LAYER_BOARD(object);
    switch (id) {
    case PROP_HADJUSTMENT:
    case PROP_VADJUSTMENT:
        g_value_set_object(value, self->adjustments[id == PROP_VADJUSTMENT]);
        break;
    case PROP_HSCROLL_POLICY:
    case PROP_VSCROLL_POLICY:
        g_value_set_enum(value, (int)self->policies[id == PROP_VSCROLL_POLICY]);
        break;
    default:
        G_OBJECT_WARN_INVALID_PROPERTY_ID(object, id, spec);
    }
}

static void nw_layer_board_dispose(GObject *object) {
    NwLayerBoard *self = NW_LAYER_BOARD(object);
    if (self->view_state)
        nw_layer_board_cancel(self);
    for (int direction = 0; direction < 2; direction++)
        if (self->adjustments[direction])
            g_signal_handlers_disconnect_by_data(self->adjustments[direction], self);
    g_clear_object(&self->adjustments[0]);
    g_clear_object(&self->adjustments[1]);
    g_clear_object(&self->view_state);
    G_OBJECT_CLASS(nw_layer_board_parent_class)->dispose(object);
}

static void nw_layer_board_finalize(GObject *object) {
    NwLayerBoard *self = NW_LAYER_BOARD(object);
    nw_owner_map_free(self->owners);
    nw_solid_free(self->touched);
    g_clear_pointer(&self->sheet, g_ptr_array_unref);
    G_OBJECT_CLASS(nw_layer_board_parent_class)->finalize(object);
}

static void nw_layer_board_css_changed(GtkWidget *widget, GtkCssStyleChange *change) {
    GTK_WIDGET_CLASS(nw_layer_board_parent_class)->css_changed(widget, change);
    redraw_sheet(NW_LAYER_BOARD(widget));
}

static void nw_layer_board_class_init(NwLayerBoardClass *class) {
    GObjectClass *object = G_OBJECT_CLASS(class);
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    object->set_property = nw_layer_board_set_property;
    object->get_property = nw_layer_board_get_property;
    object->dispose = nw_layer_board_dispose;
    object->finalize = nw_layer_board_finalize;
    widget->measure = nw_layer_board_measure;
    widget->size_allocate = nw_layer_board_size_allocate;
    widget->snapshot = nw_layer_board_snapshot;
    widget->css_changed = nw_layer_board_css_changed;
    g_object_class_override_property(object, PROP_HADJUSTMENT, "hadjustment");
    g_object_class_override_property(object, PROP_VADJUSTMENT, "vadjustment");
    g_object_class_override_property(object, PROP_HSCROLL_POLICY, "hscroll-policy");
    g_object_class_override_property(object, PROP_VSCROLL_POLICY, "vscroll-policy");
    gtk_widget_class_set_css_name(widget, "layerboard");
    gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_IMG);
}

static void nw_layer_board_init(NwLayerBoard *self) {
    self->plan = (NwBoardPlan){
        .axis = 2, .abreast = 1, .side = SIDE_FIT_MIN, .gap = GAP, .head = HEAD, .margin = MARGIN};
    self->fitted = TRUE;
    gtk_widget_set_focusable(GTK_WIDGET(self), TRUE);
    gtk_widget_set_overflow(GTK_WIDGET(self), GTK_OVERFLOW_HIDDEN);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Layers"),
                                   -1);
    nw_layer_board_add_controllers(self);
}
