#include "app/bench/viewport_scene.h"

#include <stdlib.h>

#include "design/bodies.h"
#include "design/brush.h"
#include "design/sharp_vertices.h"
#include "view/palette.h"

static const NwColour sharp_open = {0.84f, 0.37f, 0.0f}, sharp_hidden = {0.55f, 0.25f, 0.65f};

void nw_viewport_scene_init(NwViewportScene *self) {
    self->scene = nw_scene_new();
    self->show = NULL;
    self->pickable = nw_solid_new();
}

void nw_viewport_scene_clear(NwViewportScene *self) {
    nw_scene_free(self->scene);
    nw_posed_scene_free(self->show);
    nw_solid_free(self->pickable);
    *self = (NwViewportScene){0};
}

static gboolean is_sketch(NwViewState *view_state) {
    return nw_view_state_get_item(view_state) == NULL;
}

static gboolean get_cut(NwViewState *view_state, NwPlane *plane) {
    int axis = nw_view_state_get_cut_axis(view_state);
    *plane = (NwPlane){{0, 0, 0}, nw_view_state_get_cut_level(view_state)};
    if (axis >= 0)
        nw_vec_set(&plane->normal, axis, 1);
    return axis >= 0;
}

/* What of the envelope can be pointed at: within the cut, and not of a piece that is hidden. */
static void collect_pickable(NwViewportScene *self, NwViewState *view_state) {
    NwDocument *document = nw_view_state_get_document(view_state);
    const NwDesign *design = nw_document_get_design(document);
    NwPlane plane;
    gboolean cut = get_cut(view_state, &plane);
    nw_solid_free(self->pickable);
    self->pickable = cut ? nw_brush_side(design, plane) : nw_solid_copy(design->envelope);
    for (int body = 0; self->show && body < self->show->body_count; body++) {
        if (nw_document_shows(document, self->show->pieces[body]))
            continue;
        NwSolid *rest = nw_solid_difference(self->pickable, self->show->solids[body]);
        nw_solid_free(self->pickable);
        self->pickable = rest;
    }
}

/* ---- bodies ------------------------------------------------------------------------------ */

/* While a proposal is pointed at its parts are what is to be seen, wherever they lie: the bodies
 * about them are faint. */
static unsigned fading(NwViewState *view_state) {
    gsize kill;
    return is_sketch(view_state) && nw_view_state_get_proposal(view_state, &kill) ? NW_BODY_GHOST
                                                                                  : 0;
}

static void paint_bodies(NwViewportScene *self, NwViewState *view_state) {
    NwDocument *document = nw_view_state_get_document(view_state);
    NwAssemblyItem *item = nw_view_state_get_item(view_state);
    guint32 moved = 0;
    if (item && nw_view_state_get_beside(view_state))
        nw_assembly_item_get_difference(item, &moved);
    for (int body = 0; body < self->show->body_count; body++) {
        const NwSceneBody *drawn = &self->scene->bodies[body];
        unsigned flags = drawn->flags | fading(view_state);
        if (!nw_document_shows(document, self->show->pieces[body]))
            flags |= NW_BODY_HIDDEN;
        if (body < 32 && moved >> body & 1)
            flags |= NW_BODY_LIT;
        nw_scene_paint(self->scene, (size_t)body, drawn->colour, flags);
    }
}

/* Lays a second assembly beside the first, along x: so far that it is beside it also as seen over a
 * corner, where the depth takes up as much of the picture as the width. */
static void lay_beside(NwViewportScene *self, NwViewState *view_state, const NwDesign *design,
                       const NwFoundAssembly *finding) {
    NwPosedScene *other = nw_posed_scene_new(design, finding);
    if (!other)
        return;
    self->beside = self->scene->body_count;
    NwBounds box = nw_solid_bounds(design->envelope);
    int width = box.high.x - box.low.x, depth = box.high.y - box.low.y;
    double aside[3] = {MAX(1.25 * width + 1, 0.8 * (width + depth)), 0, 0};
    gboolean wood = nw_view_state_get_one_colour(view_state);
    for (int body = 0; body < other->body_count; body++) {
        NwColour colour = wood ? nw_palette_wood(other->pieces[body]) : other->colours[body];
        size_t added = nw_scene_add(self->scene, other->solids[body], colour, fading(view_state));
        nw_scene_move(self->scene, added, aside);
    }
    nw_posed_scene_free(other);
}

static void add_beside(NwViewportScene *self, NwViewState *view_state) {
    NwAssemblyItem *item = nw_view_state_get_beside(view_state);
    if (item)
        lay_beside(self, view_state,
                   nw_search_session_get_design(nw_view_state_get_search_session(view_state)),
                   nw_assembly_item_get(item));
}

/* Beside the sketch: the cook that a proposal kills, as it is now. */
static void add_killed(NwViewportScene *self, NwViewState *view_state) {
    gsize number;
    NwProposalItem *advice = nw_view_state_get_proposal(view_state, &number);
    const NwKill *kill = advice ? nw_proposal_item_get_kill(advice, number) : NULL;
    if (kill)
        lay_beside(self, view_state, nw_proposal_item_get_before(advice), kill->cook);
}

static void fill_sketch(NwViewportScene *self, NwViewState *view_state) {
    const NwDesign *design = nw_document_get_design(nw_view_state_get_document(view_state));
    self->show = nw_posed_scene_sketch(design);
    nw_scene_set_wire(self->scene, design->envelope);
    if (self->show) {
        nw_posed_scene_fill(self->show, self->scene, nw_view_state_get_one_colour(view_state));
        nw_posed_scene_add_rest(self->show, design, self->scene);
        paint_bodies(self, view_state);
        add_killed(self, view_state);
    }
    collect_pickable(self, view_state);
}

static void fill_assembly(NwViewportScene *self, NwViewState *view_state) {
    const NwDesign *design = nw_view_state_get_item_design(view_state);
    self->show =
        nw_posed_scene_new(design, nw_assembly_item_get(nw_view_state_get_item(view_state)));
    if (!self->show)
        return;
    nw_posed_scene_fill(self->show, self->scene, nw_view_state_get_one_colour(view_state));
    paint_bodies(self, view_state);
    add_beside(self, view_state);
}

/* A star at each sharp tip of a body; a thin cross where no hand can reach it. */
static void star_tips_of(NwViewportScene *self, const NwDesign *design, int body) {
    NwMotion motion = {0, {0, 0, 0}};
    if (design->intended_count)
        motion = design->intended[body].motion;
    NwTip *tips;
    size_t count = nw_piece_tips(design, self->show->pieces[body], &tips);
    for (size_t i = 0; i < count; i++) {
        NwScenePoint point = {.body = (size_t)body, .thin = tips[i].hidden};
        point.vertex = nw_vec_add(nw_turn_vec(motion.turn, tips[i].vertex), motion.shift);
        point.colour = tips[i].hidden ? sharp_hidden : sharp_open;
        if (tips[i].sharp)
            nw_scene_add_point(self->scene, point);
    }
    free(tips);
}

static void star_tips(NwViewportScene *self, NwViewState *view_state) {
    NwDocument *document = nw_view_state_get_document(view_state);
    const NwDesign *design = nw_document_get_design(document);
    if (!self->show || !is_sketch(view_state) || !nw_view_state_get_tips(view_state))
        return;
    for (int body = 0; body < self->show->body_count; body++)
        if (nw_document_shows(document, self->show->pieces[body]))
            star_tips_of(self, design, body);
}

void nw_viewport_scene_rebuild(NwViewportScene *self, NwViewState *view_state, gboolean dark) {
    const NwDesign *design = nw_document_get_design(nw_view_state_get_document(view_state));
    NwPlane plane;
    gboolean cut = get_cut(view_state, &plane);
    nw_scene_clear(self->scene);
    self->beside = SIZE_MAX;
    g_clear_pointer(&self->show, nw_posed_scene_free);
    self->scene->dark = dark;
    self->scene->look = nw_view_state_get_look(view_state);
    self->scene->shadow = true;
    nw_scene_set_section(self->scene, cut && is_sketch(view_state) ? &plane : NULL);
    if (!design)
        return;
    if (is_sketch(view_state))
        fill_sketch(self, view_state);
    else
        fill_assembly(self, view_state);
    star_tips(self, view_state);
    nw_viewport_scene_place(self, view_state);
    nw_viewport_scene_mark(self, view_state);
}

void nw_viewport_scene_place(NwViewportScene *self, NwViewState *view_state) {
    if (!self->show)
        return;
    double explode = nw_view_state_get_explode(view_state),
           position = nw_view_state_get_position(view_state);
    nw_posed_scene_place(self->show, self->scene, position, explode);
    if (is_sketch(view_state))
        return;
    nw_scene_clear_paths(self->scene);
    int slide = (int)position;
    if (slide < nw_view_state_get_slides(view_state))
        nw_posed_scene_add_path(self->show, self->scene, slide, explode);
}

/* ---- marks ------------------------------------------------------------------------------- */

static void mark_parts(NwViewportScene *self, const NwSolid *parts, NwColour colour,
                       NwMarkLook look) {
    nw_scene_add_mark(self->scene, parts, SIZE_MAX, colour, look);
}

/* The parts of an assembly that stop a piece, as they have travelled with their bodies. */
static void mark_stops(NwViewportScene *self, NwViewState *view_state, NwColour colour) {
    gsize count, last;
    const NwStoppingPart *stops = nw_view_state_get_stops(view_state, &count);
    for (gsize first = 0; first < count; first = last) {
        NwSolid *parts = nw_solid_new();
        for (last = first; last < count && stops[last].body == stops[first].body; last++)
            nw_solid_add(parts, stops[last].part.cell, 1 << stops[last].part.bit);
        nw_scene_add_mark(self->scene, parts, (size_t)stops[first].body, colour, NW_MARK_RIM);
        nw_solid_free(parts);
    }
}

static void mark_advice(NwViewportScene *self, NwViewState *view_state, NwColour colour) {
    gsize number;
    NwProposalItem *advice = nw_view_state_get_proposal(view_state, &number);
    if (!advice)
        return;
    mark_parts(self, nw_proposal_item_get_here(advice), colour, NW_MARK_FULL);
    const NwKill *kill = nw_proposal_item_get_kill(advice, number);
    /* The cook laid beside stands still, so any of its bodies tells how far aside it is. */
    if (kill && self->beside < SIZE_MAX)
        nw_scene_add_mark(self->scene, kill->there, self->beside, colour, NW_MARK_FULL);
}

void nw_viewport_scene_mark(NwViewportScene *self, NwViewState *view_state) {
    NwDocument *document = nw_view_state_get_document(view_state);
    const NwDesign *design = nw_document_get_design(document);
    nw_scene_clear_marks(self->scene);
    if (!design || !self->show)
        return;
    const NwPaper *paper = nw_palette_paper(self->scene->dark);
    if (!is_sketch(view_state)) {
        mark_stops(self, view_state, paper->mark);
        return;
    }
    mark_advice(self, view_state, paper->mark);
    mark_parts(self, nw_document_get_selection(document), paper->ink, NW_MARK_FULL);
    NwPart hover;
    if (nw_view_state_get_hover(view_state, &hover)) {
        NwSolid *parts = nw_view_state_brush_parts(view_state, hover);
        mark_parts(self, parts, paper->mark, NW_MARK_RIM);
        nw_solid_free(parts);
    }
}

gboolean nw_viewport_scene_pick(const NwViewportScene *self, NwViewState *view_state,
                                const NwRay *ray, NwPart *part) {
    if (!is_sketch(view_state) || !nw_document_get_design(nw_view_state_get_document(view_state)))
        return FALSE;
    if (nw_view_state_get_explode(view_state) > 0) {
        NwScenePick hit;
        gboolean any = nw_scene_pick(self->scene, ray, &hit);
        *part = hit.pick.part;
        return any;
    }
    NwPick hit;
    gboolean any = nw_pick_solid(ray, self->pickable, NULL, &hit);
    *part = hit.part;
    return any;
}
