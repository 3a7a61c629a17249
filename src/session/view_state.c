#include "session/view_state.h"

#include "design/brush.h"

struct _NwViewState {
    GObject parent;
    NwDocument *document;
    NwSearchSession *session;
    GListModel *findings; /* of the search */
    NwAssemblyItem *item, *beside;
    NwDesign *lone; /* the design of an item that is in no list, or NULL */
    NwProposalItem *advice;
    gsize kill;
    NwStoppingPart *stops;
    gsize stop_count;
    double position, explode;
    NwLook look;
    gboolean one_colour, parallel, tips, obstacles;
    int cut_axis, cut_level;
    int board_axis;
    gboolean hovering;
    NwPart hover;
};

G_DEFINE_FINAL_TYPE(NwViewState, nw_view_state, G_TYPE_OBJECT)

enum { CHANGED, POSITION, SIGNALS };
static guint signals[SIGNALS];

static void tell(NwViewState *self) {
    g_signal_emit(self, signals[CHANGED], 0);
}

static void drop_stops(NwViewState *self) {
    g_clear_pointer(&self->stops, g_free);
    self->stop_count = 0;
}

/* An edit brings the sketch back; what is under the pointer may be gone. */
static void on_design_changed(NwViewState *self) {
    g_clear_object(&self->item);
    g_clear_object(&self->beside);
    g_clear_object(&self->advice);
    drop_stops(self);
    self->position = 0;
    tell(self);
}

/* A row that was only told of may have learnt its way out. */
static void on_findings_changed(NwViewState *self, guint position G_GNUC_UNUSED, guint removed,
                                guint added) {
    if (self->item && removed && removed == added)
        tell(self);
}

static void nw_view_state_dispose(GObject *object) {
    NwViewState *self = NW_VIEW_STATE(object);
    if (self->document)
        g_signal_handlers_disconnect_by_data(self->document, self);
    if (self->findings)
        g_signal_handlers_disconnect_by_data(self->findings, self);
    if (self->session)
        g_signal_handlers_disconnect_by_data(self->session, self);
    g_clear_object(&self->findings);
    g_clear_object(&self->document);
    g_clear_object(&self->session);
    g_clear_object(&self->item);
    g_clear_object(&self->beside);
    g_clear_object(&self->advice);
    g_clear_pointer(&self->lone, nw_design_free);
    drop_stops(self);
    G_OBJECT_CLASS(nw_view_state_parent_class)->dispose(object);
}

static void nw_view_state_class_init(NwViewStateClass *class) {
    G_OBJECT_CLASS(class)->dispose = nw_view_state_dispose;
    signals[CHANGED] = g_signal_new("changed", NW_TYPE_VIEW_STATE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 0);
    signals[POSITION] = g_signal_new("position", NW_TYPE_VIEW_STATE, G_SIGNAL_RUN_LAST, 0, NULL,
                                     NULL, NULL, G_TYPE_NONE, 0);
}

static void nw_view_state_init(NwViewState *self) {
    self->cut_axis = -1;
    self->board_axis = 2;
}

NwViewState *nw_view_state_new(NwDocument *document, NwSearchSession *session) {
    NwViewState *self = g_object_new(NW_TYPE_VIEW_STATE, NULL);
    self->document = g_object_ref(document);
    self->session = g_object_ref(session);
    g_signal_connect_swapped(document, "changed", G_CALLBACK(on_design_changed), self);
    g_signal_connect_swapped(document, "selected", G_CALLBACK(tell), self);
    g_signal_connect_swapped(session, "numbered", G_CALLBACK(tell), self);
    self->findings = g_object_ref(nw_search_session_get_assemblies(session));
    g_signal_connect_swapped(self->findings, "items-changed", G_CALLBACK(on_findings_changed),
                             self);
    return self;
}

NwDocument *nw_view_state_get_document(NwViewState *self) {
    return self->document;
}

NwSearchSession *nw_view_state_get_search_session(NwViewState *self) {
    return self->session;
}

NwAssemblyItem *nw_view_state_get_item(NwViewState *self) {
    return self->item;
}

static void show_item(NwViewState *self, NwAssemblyItem *item, NwDesign *lone) {
    g_set_object(&self->item, item);
    nw_design_free(self->lone);
    self->lone = lone;
    g_clear_object(&self->advice);
    drop_stops(self);
    self->position = 0;
    if (!item)
        g_clear_object(&self->beside);
    tell(self);
}

void nw_view_state_set_item(NwViewState *self, NwAssemblyItem *item) {
    if (self->item != item)
        show_item(self, item, NULL);
}

void nw_view_state_set_lone(NwViewState *self, NwAssemblyItem *item, const NwDesign *design) {
    if (self->item != item)
        show_item(self, item, nw_design_copy(design));
}

gboolean nw_view_state_is_lone(NwViewState *self) {
    return self->item && self->lone;
}

const NwDesign *nw_view_state_get_item_design(NwViewState *self) {
    return nw_view_state_is_lone(self) ? self->lone : nw_search_session_get_design(self->session);
}

NwAssemblyItem *nw_view_state_get_beside(NwViewState *self) {
    return self->beside;
}

void nw_view_state_set_beside(NwViewState *self, NwAssemblyItem *item) {
    if (g_set_object(&self->beside, item))
        tell(self);
}

NwProposalItem *nw_view_state_get_proposal(NwViewState *self, gsize *kill) {
    *kill = self->kill;
    return self->advice;
}

void nw_view_state_set_proposal(NwViewState *self, NwProposalItem *advice, gsize kill) {
    if (self->advice == advice && self->kill == kill)
        return;
    g_set_object(&self->advice, advice);
    self->kill = kill;
    if (advice) {
        g_clear_object(&self->item);
        g_clear_object(&self->beside);
        drop_stops(self);
        self->position = 0;
    }
    tell(self);
}

const NwStoppingPart *nw_view_state_get_stops(NwViewState *self, gsize *count) {
    *count = self->stop_count;
    return self->stops;
}

void nw_view_state_set_stops(NwViewState *self, const NwStoppingPart *stops, gsize count) {
    if (!count && !self->stop_count)
        return;
    drop_stops(self);
    self->stops = g_memdup2(stops, count * sizeof *stops);
    self->stop_count = count;
    tell(self);
}

double nw_view_state_get_position(NwViewState *self) {
    return self->position;
}

void nw_view_state_set_position(NwViewState *self, double position) {
    position = CLAMP(position, 0, nw_view_state_get_slides(self));
    if (position == self->position)
        return;
    self->position = position;
    nw_view_state_set_stops(self, NULL, 0);
    g_signal_emit(self, signals[POSITION], 0);
}

int nw_view_state_get_slides(NwViewState *self) {
    return self->item ? nw_assembly_item_get(self->item)->slide_count : 0;
}

NwLook nw_view_state_get_look(NwViewState *self) {
    return self->look;
}

void nw_view_state_set_look(NwViewState *self, NwLook look) {
    if (self->look == look)
        return;
    self->look = look;
    tell(self);
}

double nw_view_state_get_explode(NwViewState *self) {
    return self->explode;
}

void nw_view_state_set_explode(NwViewState *self, double explode) {
    explode = CLAMP(explode, 0, 1);
    if (self->explode == explode)
        return;
    self->explode = explode;
    tell(self);
}

static void set_flag(NwViewState *self, gboolean *flag, gboolean on) {
    if (*flag == !!on)
        return;
    *flag = !!on;
    tell(self);
}

gboolean nw_view_state_get_one_colour(NwViewState *self) {
    return self->one_colour;
}

void nw_view_state_set_one_colour(NwViewState *self, gboolean one_colour) {
    set_flag(self, &self->one_colour, one_colour);
}

gboolean nw_view_state_get_parallel(NwViewState *self) {
    return self->parallel;
}

void nw_view_state_set_parallel(NwViewState *self, gboolean parallel) {
    set_flag(self, &self->parallel, parallel);
}

gboolean nw_view_state_get_tips(NwViewState *self) {
    return self->tips;
}

void nw_view_state_set_tips(NwViewState *self, gboolean tips) {
    set_flag(self, &self->tips, tips);
}

gboolean nw_view_state_get_obstacles(NwViewState *self) {
    return self->obstacles;
}

void nw_view_state_set_obstacles(NwViewState *self, gboolean obstacles) {
    set_flag(self, &self->obstacles, obstacles);
}

int nw_view_state_get_cut_axis(NwViewState *self) {
    return self->cut_axis;
}

int nw_view_state_get_cut_level(NwViewState *self) {
    return self->cut_level;
}

void nw_view_state_set_cut(NwViewState *self, int axis, int level) {
    if (self->cut_axis == axis && self->cut_level == level)
        return;
    self->cut_axis = axis;
    self->cut_level = level;
    tell(self);
}

int nw_view_state_get_board_axis(NwViewState *self) {
    return self->board_axis;
}

void nw_view_state_set_board_axis(NwViewState *self, int axis) {
    if (self->board_axis == axis)
        return;
    self->board_axis = axis;
    tell(self);
}

gboolean nw_view_state_get_hover(NwViewState *self, NwPart *part) {
    *part = self->hover;
    return self->hovering;
}

void nw_view_state_set_hover(NwViewState *self, const NwPart *part) {
    gboolean same =
        self->hovering == (part != NULL) &&
        (!part || (nw_vec_equal(part->cell, self->hover.cell) && part->bit == self->hover.bit));
    if (same)
        return;
    self->hovering = part != NULL;
    if (part)
        self->hover = *part;
    tell(self);
}

/* The layer brush takes the layer of the cut where there is one, else that of the board's axis. */
static NwSolid *layer_at(NwViewState *self, const NwDesign *design, NwPart part) {
    int axis = self->cut_axis >= 0 ? self->cut_axis : self->board_axis;
    NwVec normal = {0, 0, 0};
    nw_vec_set(&normal, axis, 1);
    return nw_brush_layer(design, nw_plane_over(normal, part));
}

NwSolid *nw_view_state_brush_parts(NwViewState *self, NwPart part) {
    const NwDesign *design = nw_document_get_design(self->document);
    switch (nw_document_get_brush(self->document)) {
    case NW_BRUSH_CELL:
        return nw_brush_cell(design, part.cell);
    case NW_BRUSH_REGION:
        return layer_at(self, design, part);
    case NW_BRUSH_FILL:
        return nw_brush_fill(design, part);
    default:
        return nw_brush_part(design, part);
    }
}
