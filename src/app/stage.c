#include "app/stage.h"

#include "design/brush.h"

struct _NwStage {
    GObject parent;
    NwDocument *document;
    NwHunt *hunt;
    GListModel *findings; /* of the hunt */
    NwFindingItem *item, *beside;
    NwDesign *lone; /* the design of an item that is in no list, or NULL */
    NwAdvice *advice;
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

G_DEFINE_FINAL_TYPE(NwStage, nw_stage, G_TYPE_OBJECT)

enum { CHANGED, POSITION, SIGNALS };
static guint signals[SIGNALS];

static void tell(NwStage *self) {
    g_signal_emit(self, signals[CHANGED], 0);
}

static void drop_stops(NwStage *self) {
    g_clear_pointer(&self->stops, g_free);
    self->stop_count = 0;
}

/* An edit brings the sketch back; what is under the pointer may be gone. */
static void on_design_changed(NwStage *self) {
    g_clear_object(&self->item);
    g_clear_object(&self->beside);
    g_clear_object(&self->advice);
    drop_stops(self);
    self->position = 0;
    tell(self);
}

/* A row that was only told of may have learnt its way out. */
static void on_findings_changed(NwStage *self, guint position G_GNUC_UNUSED, guint removed,
                                guint added) {
    if (self->item && removed && removed == added)
        tell(self);
}

static void nw_stage_dispose(GObject *object) {
    NwStage *self = NW_STAGE(object);
    if (self->document)
        g_signal_handlers_disconnect_by_data(self->document, self);
    if (self->findings)
        g_signal_handlers_disconnect_by_data(self->findings, self);
    if (self->hunt)
        g_signal_handlers_disconnect_by_data(self->hunt, self);
    g_clear_object(&self->findings);
    g_clear_object(&self->document);
    g_clear_object(&self->hunt);
    g_clear_object(&self->item);
    g_clear_object(&self->beside);
    g_clear_object(&self->advice);
    g_clear_pointer(&self->lone, nw_design_free);
    drop_stops(self);
    G_OBJECT_CLASS(nw_stage_parent_class)->dispose(object);
}

static void nw_stage_class_init(NwStageClass *class) {
    G_OBJECT_CLASS(class)->dispose = nw_stage_dispose;
    signals[CHANGED] = g_signal_new("changed", NW_TYPE_STAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 0);
    signals[POSITION] = g_signal_new("position", NW_TYPE_STAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                     NULL, G_TYPE_NONE, 0);
}

static void nw_stage_init(NwStage *self) {
    self->cut_axis = -1;
    self->board_axis = 2;
}

NwStage *nw_stage_new(NwDocument *document, NwHunt *hunt) {
    NwStage *self = g_object_new(NW_TYPE_STAGE, NULL);
    self->document = g_object_ref(document);
    self->hunt = g_object_ref(hunt);
    g_signal_connect_swapped(document, "changed", G_CALLBACK(on_design_changed), self);
    g_signal_connect_swapped(document, "selected", G_CALLBACK(tell), self);
    g_signal_connect_swapped(hunt, "numbered", G_CALLBACK(tell), self);
    self->findings = g_object_ref(nw_hunt_get_findings(hunt));
    g_signal_connect_swapped(self->findings, "items-changed", G_CALLBACK(on_findings_changed),
                             self);
    return self;
}

NwDocument *nw_stage_get_document(NwStage *self) {
    return self->document;
}

NwHunt *nw_stage_get_hunt(NwStage *self) {
    return self->hunt;
}

NwFindingItem *nw_stage_get_item(NwStage *self) {
    return self->item;
}

static void show_item(NwStage *self, NwFindingItem *item, NwDesign *lone) {
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

void nw_stage_set_item(NwStage *self, NwFindingItem *item) {
    if (self->item != item)
        show_item(self, item, NULL);
}

void nw_stage_set_lone(NwStage *self, NwFindingItem *item, const NwDesign *design) {
    if (self->item != item)
        show_item(self, item, nw_design_copy(design));
}

gboolean nw_stage_is_lone(NwStage *self) {
    return self->item && self->lone;
}

const NwDesign *nw_stage_get_item_design(NwStage *self) {
    return nw_stage_is_lone(self) ? self->lone : nw_hunt_get_design(self->hunt);
}

NwFindingItem *nw_stage_get_beside(NwStage *self) {
    return self->beside;
}

void nw_stage_set_beside(NwStage *self, NwFindingItem *item) {
    if (g_set_object(&self->beside, item))
        tell(self);
}

NwAdvice *nw_stage_get_advice(NwStage *self, gsize *kill) {
    *kill = self->kill;
    return self->advice;
}

void nw_stage_set_advice(NwStage *self, NwAdvice *advice, gsize kill) {
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

const NwStoppingPart *nw_stage_get_stops(NwStage *self, gsize *count) {
    *count = self->stop_count;
    return self->stops;
}

void nw_stage_set_stops(NwStage *self, const NwStoppingPart *stops, gsize count) {
    if (!count && !self->stop_count)
        return;
    drop_stops(self);
    self->stops = g_memdup2(stops, count * sizeof *stops);
    self->stop_count = count;
    tell(self);
}

double nw_stage_get_position(NwStage *self) {
    return self->position;
}

void nw_stage_set_position(NwStage *self, double position) {
    position = CLAMP(position, 0, nw_stage_get_slides(self));
    if (position == self->position)
        return;
    self->position = position;
    nw_stage_set_stops(self, NULL, 0);
    g_signal_emit(self, signals[POSITION], 0);
}

int nw_stage_get_slides(NwStage *self) {
    return self->item ? nw_finding_item_get(self->item)->slide_count : 0;
}

NwLook nw_stage_get_look(NwStage *self) {
    return self->look;
}

void nw_stage_set_look(NwStage *self, NwLook look) {
    if (self->look == look)
        return;
    self->look = look;
    tell(self);
}

double nw_stage_get_explode(NwStage *self) {
    return self->explode;
}

void nw_stage_set_explode(NwStage *self, double explode) {
    explode = CLAMP(explode, 0, 1);
    if (self->explode == explode)
        return;
    self->explode = explode;
    tell(self);
}

static void set_flag(NwStage *self, gboolean *flag, gboolean on) {
    if (*flag == !!on)
        return;
    *flag = !!on;
    tell(self);
}

gboolean nw_stage_get_one_colour(NwStage *self) {
    return self->one_colour;
}

void nw_stage_set_one_colour(NwStage *self, gboolean one_colour) {
    set_flag(self, &self->one_colour, one_colour);
}

gboolean nw_stage_get_parallel(NwStage *self) {
    return self->parallel;
}

void nw_stage_set_parallel(NwStage *self, gboolean parallel) {
    set_flag(self, &self->parallel, parallel);
}

gboolean nw_stage_get_tips(NwStage *self) {
    return self->tips;
}

void nw_stage_set_tips(NwStage *self, gboolean tips) {
    set_flag(self, &self->tips, tips);
}

gboolean nw_stage_get_obstacles(NwStage *self) {
    return self->obstacles;
}

void nw_stage_set_obstacles(NwStage *self, gboolean obstacles) {
    set_flag(self, &self->obstacles, obstacles);
}

int nw_stage_get_cut_axis(NwStage *self) {
    return self->cut_axis;
}

int nw_stage_get_cut_level(NwStage *self) {
    return self->cut_level;
}

void nw_stage_set_cut(NwStage *self, int axis, int level) {
    if (self->cut_axis == axis && self->cut_level == level)
        return;
    self->cut_axis = axis;
    self->cut_level = level;
    tell(self);
}

int nw_stage_get_board_axis(NwStage *self) {
    return self->board_axis;
}

void nw_stage_set_board_axis(NwStage *self, int axis) {
    if (self->board_axis == axis)
        return;
    self->board_axis = axis;
    tell(self);
}

gboolean nw_stage_get_hover(NwStage *self, NwPart *part) {
    *part = self->hover;
    return self->hovering;
}

void nw_stage_set_hover(NwStage *self, const NwPart *part) {
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
static NwSolid *layer_at(NwStage *self, const NwDesign *design, NwPart part) {
    int axis = self->cut_axis >= 0 ? self->cut_axis : self->board_axis;
    NwVec normal = {0, 0, 0};
    nw_vec_set(&normal, axis, 1);
    return nw_brush_layer(design, nw_plane_over(normal, part));
}

NwSolid *nw_stage_brush_parts(NwStage *self, NwPart part) {
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
