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

enum {
    ITEM = 1,
    BESIDE,
    PROPOSAL,
    STOPS,
    POSITION,
    LOOK,
    EXPLODE,
    ONE_COLOUR,
    PARALLEL,
    TIPS,
    OBSTACLES,
    CUT,
    BOARD_AXIS,
    HOVER,
    PROPERTIES
};
static GParamSpec *properties[PROPERTIES];

static void notify(NwViewState *self, int property) {
    g_object_notify_by_pspec(G_OBJECT(self), properties[property]);
}

GType nw_look_get_type(void) {
    static gsize type;
    static const GEnumValue looks[] = {{NW_LOOK_SOLID, "NW_LOOK_SOLID", "solid"},
                                       {NW_LOOK_CLEAR, "NW_LOOK_CLEAR", "see-through"},
                                       {NW_LOOK_LINES, "NW_LOOK_LINES", "lines"},
                                       {0, NULL, NULL}};
    if (g_once_init_enter(&type))
        g_once_init_leave(&type, g_enum_register_static("NwLook", looks));
    return type;
}

/* ---- letting go -------------------------------------------------------------------------- */

/* Between g_object_freeze_notify and g_object_thaw_notify, so that whoever is told of one thing
 * finds all others as they are then. */

static void drop_stops(NwViewState *self) {
    if (!self->stop_count)
        return;
    g_clear_pointer(&self->stops, g_free);
    self->stop_count = 0;
    notify(self, STOPS);
}

static void drop_item(NwViewState *self) {
    if (g_set_object(&self->item, NULL))
        notify(self, ITEM);
}

static void drop_beside(NwViewState *self) {
    if (g_set_object(&self->beside, NULL))
        notify(self, BESIDE);
}

static void drop_proposal(NwViewState *self) {
    if (g_set_object(&self->advice, NULL))
        notify(self, PROPOSAL);
}

static void go_to_start(NwViewState *self) {
    drop_stops(self);
    if (self->position == 0)
        return;
    self->position = 0;
    notify(self, POSITION);
}

static gboolean is_hover_gone(NwViewState *self) {
    const NwDesign *design = nw_document_get_design(self->document);
    return self->hovering &&
           (!design || !(nw_solid_mask(design->envelope, self->hover.cell) >> self->hover.bit & 1));
}

/* An edit brings the sketch back. What is under the pointer may be gone. */
static void on_design(NwViewState *self) {
    g_object_freeze_notify(G_OBJECT(self));
    drop_item(self);
    drop_beside(self);
    drop_proposal(self);
    go_to_start(self);
    if (is_hover_gone(self))
        nw_view_state_set_hover(self, NULL);
    g_object_thaw_notify(G_OBJECT(self));
}

/* A row that was only told of may have learnt its way out. */
static void on_findings_changed(NwViewState *self, guint position G_GNUC_UNUSED, guint removed,
                                guint added) {
    if (self->item && removed && removed == added)
        notify(self, ITEM);
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_view_state_get_property(GObject *object, guint id, GValue *value, GParamSpec *spec) {
    NwViewState *self = NW_VIEW_STATE(object);
    const gboolean flags[PROPERTIES] = {[ONE_COLOUR] = self->one_colour,
                                        [PARALLEL] = self->parallel,
                                        [TIPS] = self->tips,
                                        [OBSTACLES] = self->obstacles};
    switch (id) {
    case ITEM:
        g_value_set_object(value, self->item);
        break;
    case BESIDE:
        g_value_set_object(value, self->beside);
        break;
    case PROPOSAL:
        g_value_set_object(value, self->advice);
        break;
    case STOPS:
        g_value_set_pointer(value, self->stops);
        break;
    case POSITION:
        g_value_set_double(value, self->position);
        break;
    case LOOK:
        g_value_set_enum(value, (int)self->look);
        break;
    case EXPLODE:
        g_value_set_double(value, self->explode);
        break;
    case ONE_COLOUR:
    case PARALLEL:
    case TIPS:
    case OBSTACLES:
        g_value_set_boolean(value, flags[id]);
        break;
    case CUT:
        g_value_take_variant(
            value, g_variant_ref_sink(g_variant_new("(ii)", self->cut_axis, self->cut_level)));
        break;
    case BOARD_AXIS:
        g_value_set_int(value, self->board_axis);
        break;
    case HOVER:
        g_value_set_pointer(value, self->hovering ? &self->hover : NULL);
        break;
    default:
        G_OBJECT_WARN_INVALID_PROPERTY_ID(object, id, spec);
    }
}

static void nw_view_state_set_property(GObject *object, guint id, const GValue *value,
                                       GParamSpec *spec) {
    NwViewState *self = NW_VIEW_STATE(object);
    switch (id) {
    case ITEM:
        nw_view_state_set_item(self, g_value_get_object(value));
        break;
    case BESIDE:
        nw_view_state_set_beside(self, g_value_get_object(value));
        break;
    case POSITION:
        nw_view_state_set_position(self, g_value_get_double(value));
        break;
    case LOOK:
        nw_view_state_set_look(self, (NwLook)g_value_get_enum(value));
        break;
    case EXPLODE:
        nw_view_state_set_explode(self, g_value_get_double(value));
        break;
    case ONE_COLOUR:
        nw_view_state_set_one_colour(self, g_value_get_boolean(value));
        break;
    case PARALLEL:
        nw_view_state_set_parallel(self, g_value_get_boolean(value));
        break;
    case TIPS:
        nw_view_state_set_tips(self, g_value_get_boolean(value));
        break;
    case OBSTACLES:
        nw_view_state_set_obstacles(self, g_value_get_boolean(value));
        break;
    case BOARD_AXIS:
        nw_view_state_set_board_axis(self, g_value_get_int(value));
        break;
    default:
        G_OBJECT_WARN_INVALID_PROPERTY_ID(object, id, spec);
    }
}

static void nw_view_state_dispose(GObject *object) {
    NwViewState *self = NW_VIEW_STATE(object);
    if (self->document)
        g_signal_handlers_disconnect_by_data(self->document, self);
    if (self->findings)
        g_signal_handlers_disconnect_by_data(self->findings, self);
    g_clear_object(&self->findings);
    g_clear_object(&self->document);
    g_clear_object(&self->session);
    g_clear_object(&self->item);
    g_clear_object(&self->beside);
    g_clear_object(&self->advice);
    g_clear_pointer(&self->lone, nw_design_free);
    g_clear_pointer(&self->stops, g_free);
    self->stop_count = 0;
    G_OBJECT_CLASS(nw_view_state_parent_class)->dispose(object);
}

static void nw_view_state_class_init(NwViewStateClass *class) {
    GObjectClass *object = G_OBJECT_CLASS(class);
    const GParamFlags seen = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;
    const GParamFlags set = seen | G_PARAM_WRITABLE | G_PARAM_EXPLICIT_NOTIFY;
    static const struct {
        int property;
        const char *name;
    } flags[] = {{ONE_COLOUR, "one-colour"},
                 {PARALLEL, "parallel"},
                 {TIPS, "tips"},
                 {OBSTACLES, "obstacles"}};
    object->dispose = nw_view_state_dispose;
    object->get_property = nw_view_state_get_property;
    object->set_property = nw_view_state_set_property;
    properties[ITEM] = g_param_spec_object("item", NULL, NULL, NW_TYPE_ASSEMBLY_ITEM, set);
    properties[BESIDE] = g_param_spec_object("beside", NULL, NULL, NW_TYPE_ASSEMBLY_ITEM, set);
    properties[PROPOSAL] = g_param_spec_object("proposal", NULL, NULL, NW_TYPE_PROPOSAL_ITEM, seen);
    properties[STOPS] = g_param_spec_pointer("stops", NULL, NULL, seen);
    properties[POSITION] = g_param_spec_double("position", NULL, NULL, 0, G_MAXDOUBLE, 0, set);
    properties[LOOK] = g_param_spec_enum("look", NULL, NULL, NW_TYPE_LOOK, NW_LOOK_SOLID, set);
    properties[EXPLODE] = g_param_spec_double("explode", NULL, NULL, 0, 1, 0, set);
    for (gsize i = 0; i < G_N_ELEMENTS(flags); i++)
        properties[flags[i].property] = g_param_spec_boolean(flags[i].name, NULL, NULL, FALSE, set);
    properties[CUT] = g_param_spec_variant("cut", NULL, NULL, G_VARIANT_TYPE("(ii)"), NULL, seen);
    properties[BOARD_AXIS] = g_param_spec_int("board-axis", NULL, NULL, 0, 2, 2, set);
    properties[HOVER] = g_param_spec_pointer("hover", NULL, NULL, seen);
    g_object_class_install_properties(object, PROPERTIES, properties);
}

static void nw_view_state_init(NwViewState *self) {
    self->cut_axis = -1;
    self->board_axis = 2;
}

NwViewState *nw_view_state_new(NwDocument *document, NwSearchSession *session) {
    NwViewState *self = g_object_new(NW_TYPE_VIEW_STATE, NULL);
    self->document = g_object_ref(document);
    self->session = g_object_ref(session);
    g_signal_connect_swapped(document, "notify::design", G_CALLBACK(on_design), self);
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
    g_object_freeze_notify(G_OBJECT(self));
    g_set_object(&self->item, item);
    nw_design_free(self->lone);
    self->lone = lone;
    notify(self, ITEM);
    drop_proposal(self);
    go_to_start(self);
    if (!item)
        drop_beside(self);
    g_object_thaw_notify(G_OBJECT(self));
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
        notify(self, BESIDE);
}

NwProposalItem *nw_view_state_get_proposal(NwViewState *self, gsize *kill) {
    *kill = self->kill;
    return self->advice;
}

void nw_view_state_set_proposal(NwViewState *self, NwProposalItem *advice, gsize kill) {
    if (self->advice == advice && (self->kill == kill || !advice))
        return;
    g_object_freeze_notify(G_OBJECT(self));
    g_set_object(&self->advice, advice);
    self->kill = kill;
    notify(self, PROPOSAL);
    if (advice) {
        drop_item(self);
        drop_beside(self);
        go_to_start(self);
    }
    g_object_thaw_notify(G_OBJECT(self));
}

const NwStoppingPart *nw_view_state_get_stops(NwViewState *self, gsize *count) {
    *count = self->stop_count;
    return self->stops;
}

static gboolean same_stops(NwViewState *self, const NwStoppingPart *stops, gsize count) {
    gboolean same = count == self->stop_count;
    for (gsize i = 0; same && i < count; i++)
        same = stops[i].body == self->stops[i].body &&
               nw_vec_equal(stops[i].part.cell, self->stops[i].part.cell) &&
               stops[i].part.bit == self->stops[i].part.bit;
    return same;
}

void nw_view_state_set_stops(NwViewState *self, const NwStoppingPart *stops, gsize count) {
    if (same_stops(self, stops, count))
        return;
    g_free(self->stops);
    self->stops = g_memdup2(stops, count * sizeof *stops);
    self->stop_count = count;
    notify(self, STOPS);
}

double nw_view_state_get_position(NwViewState *self) {
    return self->position;
}

void nw_view_state_set_position(NwViewState *self, double position) {
    position = CLAMP(position, 0, nw_view_state_get_slides(self));
    if (position == self->position)
        return;
    g_object_freeze_notify(G_OBJECT(self));
    self->position = position;
    notify(self, POSITION);
    drop_stops(self);
    g_object_thaw_notify(G_OBJECT(self));
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
    notify(self, LOOK);
}

double nw_view_state_get_explode(NwViewState *self) {
    return self->explode;
}

void nw_view_state_set_explode(NwViewState *self, double explode) {
    explode = CLAMP(explode, 0, 1);
    if (self->explode == explode)
        return;
    self->explode = explode;
    notify(self, EXPLODE);
}

static void set_flag(NwViewState *self, gboolean *flag, gboolean on, int property) {
    if (*flag == !!on)
        return;
    *flag = !!on;
    notify(self, property);
}

gboolean nw_view_state_get_one_colour(NwViewState *self) {
    return self->one_colour;
}

void nw_view_state_set_one_colour(NwViewState *self, gboolean one_colour) {
    set_flag(self, &self->one_colour, one_colour, ONE_COLOUR);
}

gboolean nw_view_state_get_parallel(NwViewState *self) {
    return self->parallel;
}

void nw_view_state_set_parallel(NwViewState *self, gboolean parallel) {
    set_flag(self, &self->parallel, parallel, PARALLEL);
}

gboolean nw_view_state_get_tips(NwViewState *self) {
    return self->tips;
}

void nw_view_state_set_tips(NwViewState *self, gboolean tips) {
    set_flag(self, &self->tips, tips, TIPS);
}

gboolean nw_view_state_get_obstacles(NwViewState *self) {
    return self->obstacles;
}

void nw_view_state_set_obstacles(NwViewState *self, gboolean obstacles) {
    set_flag(self, &self->obstacles, obstacles, OBSTACLES);
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
    notify(self, CUT);
}

int nw_view_state_get_board_axis(NwViewState *self) {
    return self->board_axis;
}

void nw_view_state_set_board_axis(NwViewState *self, int axis) {
    if (self->board_axis == axis)
        return;
    self->board_axis = axis;
    notify(self, BOARD_AXIS);
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
    notify(self, HOVER);
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
