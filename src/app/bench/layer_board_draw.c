#include <math.h>

#include "app/bench/layer_board_private.h"
#include "app/common/piece_style.h"
#include "lattice/connect.h"
#include "text/part_words.h"

/* Sides of a square from which letters go into cores, and into corners; else patterns do. */
enum { LETTERED_CORE = 22, LETTERED_CORNER = 40 };

/* All that drawing the sheet needs. */
typedef struct Pen {
    NwLayerBoard *self;
    const NwDesign *design;
    NwDocument *document;
    cairo_t *cairo;
    GdkRGBA ink, ghost;
    GdkRGBA colours[NW_PIECES_MAX];
    PangoLayout *core_names[NW_PIECES_MAX], *corner_names[NW_PIECES_MAX];
} Pen;

static void set_colour(cairo_t *cairo, GdkRGBA colour, double alpha) {
    cairo_set_source_rgba(cairo, colour.red, colour.green, colour.blue, alpha);
}

static void outline(cairo_t *cairo, const NwBoardPlan *plan, NwPart part) {
    NwBoardPoint points[4];
    int count = nw_board_polygon(plan, part, points);
    cairo_new_sub_path(cairo);
    for (int i = 0; i < count; i++)
        cairo_line_to(cairo, points[i].x, points[i].y);
    cairo_close_path(cairo);
}

/* The outline drawn in towards the centre: 1 is the outline itself. */
static void inner_outline(cairo_t *cairo, const NwBoardPlan *plan, NwPart part, double scale) {
    NwBoardPoint points[4], centre = nw_board_centre(plan, part);
    int count = nw_board_polygon(plan, part, points);
    cairo_new_sub_path(cairo);
    for (int i = 0; i < count; i++)
        cairo_line_to(cairo, centre.x + scale * (points[i].x - centre.x),
                      centre.y + scale * (points[i].y - centre.y));
    cairo_close_path(cairo);
}

/* ---- signs in a part ----------------------------------------------------------------------- */

typedef enum Stripes { LEVEL, UPRIGHT, FALLING, RISING } Stripes;

/* Parallel lines over the square of a part, within the part. */
static void hatch(const Pen *pen, NwPart part, Stripes stripes, double spacing) {
    const NwBoardPlan *plan = &pen->self->plan;
    NwBoardPoint at = nw_board_square(plan, part.cell);
    double side = plan->side;
    cairo_save(pen->cairo);
    outline(pen->cairo, plan, part);
    cairo_clip(pen->cairo);
    for (double d = spacing / 2 - side; d < side; d += spacing) {
        /* From the left or upper rim, or the line that goes on from it, to the opposite one. */
        NwBoardPoint a = {at.x, at.y + d}, b = {at.x + side, at.y + d};
        if (stripes == UPRIGHT) {
            a = (NwBoardPoint){at.x + d, at.y};
            b = (NwBoardPoint){at.x + d, at.y + side};
        } else if (stripes == FALLING) {
            b.y += side;
        } else if (stripes == RISING) {
            a.y += side;
        }
        cairo_move_to(pen->cairo, a.x, a.y);
        cairo_line_to(pen->cairo, b.x, b.y);
    }
    cairo_stroke(pen->cairo);
    cairo_restore(pen->cairo);
}

/* One of a few patterns, for squares too small for letters. */
static void draw_pattern(const Pen *pen, NwPart part, int piece, GdkRGBA ink) {
    static const struct {
        int count;
        Stripes stripes[2];
    } patterns[] = {{0},
                    {1, {LEVEL}},
                    {1, {UPRIGHT}},
                    {1, {FALLING}},
                    {2, {LEVEL, UPRIGHT}},
                    {2, {FALLING, RISING}}};
    int pattern = piece % (int)G_N_ELEMENTS(patterns);
    set_colour(pen->cairo, ink, 0.45);
    cairo_set_line_width(pen->cairo, 1);
    for (int i = 0; i < patterns[pattern].count; i++)
        hatch(pen, part, patterns[pattern].stripes[i], fmax(4, pen->self->plan.side / 5));
}

static void draw_name(const Pen *pen, NwPart part, int piece, GdkRGBA ink) {
    PangoLayout *name = part.bit == 0 ? pen->core_names[piece] : pen->corner_names[piece];
    NwBoardPoint at = nw_board_centre(&pen->self->plan, part);
    int width, height;
    pango_layout_get_pixel_size(name, &width, &height);
    set_colour(pen->cairo, ink, 0.9);
    cairo_move_to(pen->cairo, at.x - width / 2.0, at.y - height / 2.0);
    pango_cairo_show_layout(pen->cairo, name);
    cairo_new_path(pen->cairo);
}

/* Where pieces overlap: bold stripes over everything, bordered so that they show on any colour. */
static void draw_overlap(const Pen *pen, NwPart part) {
    double spacing = fmax(4, pen->self->plan.side / 4);
    GdkRGBA border = nw_piece_style_ink(&pen->ink);
    set_colour(pen->cairo, border, 0.9);
    cairo_set_line_width(pen->cairo, 4);
    hatch(pen, part, RISING, spacing);
    set_colour(pen->cairo, pen->ink, 1);
    cairo_set_line_width(pen->cairo, 2);
    hatch(pen, part, RISING, spacing);
}

/* The outer end of an upper corner, filled: a sign for its height that needs no colour. */
static void draw_upper_end(const Pen *pen, NwPart part) {
    NwBoardPoint points[4];
    double reach = 0.3;
    nw_board_polygon(&pen->self->plan, part, points);
    cairo_move_to(pen->cairo, points[0].x, points[0].y);
    for (int i = 1; i < 3; i++)
        cairo_line_to(pen->cairo, points[0].x + reach * (points[i].x - points[0].x),
                      points[0].y + reach * (points[i].y - points[0].y));
    cairo_close_path(pen->cairo);
    set_colour(pen->cairo, pen->ink, 0.75);
    cairo_fill(pen->cairo);
}

/* The ring of what may stay empty, beside the place of the letter. */
static void draw_ring(const Pen *pen, NwPart part) {
    double side = pen->self->plan.side, radius = side * (part.bit == 0 ? 0.07 : 0.045);
    NwBoardPoint points[4], at;
    nw_board_polygon(&pen->self->plan, part, points);
    if (part.bit == 0) {
        at = (NwBoardPoint){points[2].x, points[2].y - 0.18 * side};
    } else {
        at.x = points[0].x + 0.7 * (points[1].x - points[0].x);
        at.y = points[0].y + 0.15 * (points[2].y - points[0].y);
    }
    cairo_new_sub_path(pen->cairo);
    cairo_arc(pen->cairo, at.x, at.y, fmax(1.5, radius), 0, 2 * G_PI);
    set_colour(pen->cairo, pen->ink, 0.85);
    cairo_set_line_width(pen->cairo, 1.2);
    cairo_stroke(pen->cairo);
}

/* ---- parts --------------------------------------------------------------------------------- */

static void draw_part(const Pen *pen, NwPart part, int owner) {
    const NwBoardPlan *plan = &pen->self->plan;
    gboolean shown = owner < 0 || nw_document_shows(pen->document, owner);
    outline(pen->cairo, plan, part);
    if (owner < 0) {
        set_colour(pen->cairo, pen->ghost, 0.25);
        cairo_fill(pen->cairo);
        set_colour(pen->cairo, pen->ink, 0.22);
        cairo_set_line_width(pen->cairo, 1);
        hatch(pen, part, RISING, fmax(4, plan->side / 6));
    } else {
        GdkRGBA ink = shown ? nw_piece_style_ink(&pen->colours[owner]) : pen->ink;
        set_colour(pen->cairo, pen->colours[owner], shown ? 1 : 0.35);
        cairo_fill(pen->cairo);
        if (plan->side >= (part.bit == 0 ? LETTERED_CORE : LETTERED_CORNER))
            draw_name(pen, part, owner, ink);
        else
            draw_pattern(pen, part, owner, ink);
    }
    if (nw_owner_map_is_shared(pen->self->owners, part))
        draw_overlap(pen, part);
    if (nw_solid_has(pen->design->may_be_empty, part))
        draw_ring(pen, part);
    if (part.bit != 0 && nw_corner_is_upper(plan->axis, part))
        draw_upper_end(pen, part);
}

/* One stretch of rim, heavy where the neighbour is somebody else's. */
static void draw_side(const Pen *pen, NwBoardPoint a, NwBoardPoint b, gboolean same) {
    set_colour(pen->cairo, pen->ink, same ? 0.18 : 0.85);
    cairo_set_line_width(pen->cairo, same ? 1 : 1.6);
    cairo_move_to(pen->cairo, a.x, a.y);
    cairo_line_to(pen->cairo, b.x, b.y);
    cairo_stroke(pen->cairo);
}

static void draw_rims(const Pen *pen, NwPart part, int owner) {
    const NwBoardPlan *plan = &pen->self->plan;
    NwBoardPoint points[4];
    if (part.bit == 0)
        return;
    nw_board_polygon(plan, part, points);
    const NwOwnerMap *owners = pen->self->owners;
    NwPart core = {part.cell, 0};
    NwPart along_up = nw_part_across(part, 1 + nw_axis_up(plan->axis));
    NwPart along_across = nw_part_across(part, 1 + nw_axis_across(plan->axis));
    draw_side(pen, points[1], points[2], nw_owner_map_get(owners, core) == owner);
    draw_side(pen, points[0], points[1], nw_owner_map_get(owners, along_up) == owner);
    draw_side(pen, points[0], points[2], nw_owner_map_get(owners, along_across) == owner);
}

/* A core whose corners are not all in the envelope has no one to draw its rim there. */
static void draw_open_core(const Pen *pen, NwPart core, int mask) {
    const NwBoardPlan *plan = &pen->self->plan;
    for (int bit = 1; bit < NW_PARTS; bit++) {
        NwBoardPoint points[4];
        if (mask >> bit & 1)
            continue;
        nw_board_polygon(plan, (NwPart){core.cell, bit}, points);
        draw_side(pen, points[1], points[2], FALSE);
    }
}

static void draw_cell(const Pen *pen, const NwCell *cell) {
    NwVec at = nw_cell_at(cell);
    for (int bit = 0; bit < NW_PARTS; bit++)
        if (cell->mask >> bit & 1)
            draw_part(pen, (NwPart){at, bit},
                      nw_owner_map_get(pen->self->owners, (NwPart){at, bit}));
    for (int bit = 1; bit < NW_PARTS; bit++)
        if (cell->mask >> bit & 1)
            draw_rims(pen, (NwPart){at, bit},
                      nw_owner_map_get(pen->self->owners, (NwPart){at, bit}));
    if (cell->mask & NW_CORE)
        draw_open_core(pen, (NwPart){at, 0}, cell->mask);
}

/* ---- the sheet ----------------------------------------------------------------------------- */

static PangoLayout *layout_of(NwLayerBoard *self, const char *text, double pixels) {
    PangoLayout *layout = gtk_widget_create_pango_layout(GTK_WIDGET(self), text);
    const PangoFontDescription *usual =
        pango_context_get_font_description(gtk_widget_get_pango_context(GTK_WIDGET(self)));
    PangoFontDescription *font = pango_font_description_copy(usual);
    pango_font_description_set_absolute_size(font, pixels * PANGO_SCALE);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
    return layout;
}

static Pen pen_new(NwLayerBoard *self) {
    NwDocument *document = nw_view_state_get_document(self->view_state);
    Pen pen = {.self = self, .document = document};
    pen.design = nw_document_get_design(document);
    gtk_style_context_get_color(gtk_widget_get_style_context(GTK_WIDGET(self)), &pen.ink);
    gboolean dark = nw_piece_style_ink(&pen.ink).red < 0.5f;
    pen.ghost = nw_colour_rgba(nw_palette_paper(dark)->ghost, 1);
    for (size_t p = 0; p < pen.design->piece_count; p++) {
        char *name = nw_piece_style_dup_short(pen.design->pieces[p].name);
        pen.colours[p] = nw_piece_style_colour(pen.design, (int)p,
                                               nw_view_state_get_one_colour(self->view_state));
        pen.core_names[p] = layout_of(self, name, fmin(22, self->plan.side * 0.34));
        pen.corner_names[p] = layout_of(self, name, fmin(14, self->plan.side * 0.2));
        g_free(name);
    }
    return pen;
}

static void pen_clear(Pen *pen) {
    for (size_t p = 0; p < pen->design->piece_count; p++) {
        g_object_unref(pen->core_names[p]);
        g_object_unref(pen->corner_names[p]);
    }
}

static void draw_title(const Pen *pen, int layer) {
    const NwBoardPlan *plan = &pen->self->plan;
    int level = nw_vec_get(plan->box.low, plan->axis) + layer;
    NwVec corner = plan->box.low;
    nw_vec_set(&corner, plan->axis, level);
    nw_vec_set(&corner, nw_axis_up(plan->axis),
               nw_vec_get(plan->box.high, nw_axis_up(plan->axis)) - 1);
    NwBoardPoint at = nw_board_square(plan, corner);
    char *words = nw_layer_words(plan->axis, level);
    PangoLayout *title = layout_of(pen->self, words, 13);
    NwViewState *view_state = pen->self->view_state;
    gboolean cut = nw_view_state_get_cut_axis(view_state) == plan->axis &&
                   level >= nw_view_state_get_cut_level(view_state);
    int height, width = (int)(nw_board_columns(plan) * plan->side + plan->gap - 2);
    pango_layout_get_pixel_size(title, NULL, &height);
    pango_layout_set_width(title, width * PANGO_SCALE);
    pango_layout_set_ellipsize(title, PANGO_ELLIPSIZE_END);
    if (cut) {
        PangoAttrList *attributes = pango_attr_list_new();
        pango_attr_list_insert(attributes, pango_attr_strikethrough_new(TRUE));
        pango_layout_set_attributes(title, attributes);
        pango_attr_list_unref(attributes);
    }
    set_colour(pen->cairo, pen->ink, cut ? 0.5 : 0.85);
    cairo_move_to(pen->cairo, at.x, at.y - height - 2);
    pango_cairo_show_layout(pen->cairo, title);
    cairo_new_path(pen->cairo);
    g_object_unref(title);
    g_free(words);
}

static gboolean is_seen(NwLayerBoard *self, NwBoardPoint origin, NwVec cell) {
    NwBoardPoint at = nw_board_square(&self->plan, cell);
    double x = at.x - origin.x, y = at.y - origin.y;
    return x + self->plan.side >= 0 && y + self->plan.side >= 0 &&
           x <= gtk_widget_get_width(GTK_WIDGET(self)) &&
           y <= gtk_widget_get_height(GTK_WIDGET(self));
}

/* Where a layer is drawn: its squares with their rims, and its title. */
static graphene_rect_t bounds_of(NwLayerBoard *self, NwBoardPoint origin, int layer) {
    enum { RIM = 3 };
    const NwBoardPlan *plan = &self->plan;
    NwVec first = plan->box.low, last = plan->box.low;
    int up = nw_axis_up(plan->axis), level = nw_vec_get(first, plan->axis) + layer;
    nw_vec_set(&first, plan->axis, level);
    nw_vec_set(&last, plan->axis, level);
    nw_vec_set(&first, up, nw_vec_get(plan->box.high, up) - 1);
    NwBoardPoint top = nw_board_square(plan, first), bottom = nw_board_square(plan, last);
    return GRAPHENE_RECT_INIT((float)(top.x - origin.x - RIM),
                              (float)(top.y - origin.y - plan->head),
                              (float)(nw_board_columns(plan) * plan->side + plan->gap + RIM),
                              (float)(bottom.y - top.y + plan->side + plan->head + RIM));
}

static GskRenderNode *draw_layer(Pen *pen, NwBoardPoint origin, int layer) {
    NwLayerBoard *self = pen->self;
    const NwBoardPlan *plan = &self->plan;
    const NwSolid *envelope = pen->design->envelope;
    graphene_rect_t bounds = bounds_of(self, origin, layer),
                    seen = GRAPHENE_RECT_INIT(0, 0, (float)gtk_widget_get_width(GTK_WIDGET(self)),
                                              (float)gtk_widget_get_height(GTK_WIDGET(self)));
    if (!graphene_rect_intersection(&bounds, &seen, &bounds))
        return gsk_container_node_new(NULL, 0);
    GskRenderNode *node = gsk_cairo_node_new(&bounds);
    pen->cairo = gsk_cairo_node_get_draw_context(node);
    cairo_translate(pen->cairo, -origin.x, -origin.y);
    cairo_set_line_join(pen->cairo, CAIRO_LINE_JOIN_ROUND);
    cairo_set_line_cap(pen->cairo, CAIRO_LINE_CAP_ROUND);
    draw_title(pen, layer);
    int level = nw_vec_get(plan->box.low, plan->axis) + layer;
    for (size_t i = 0; i < envelope->count; i++) {
        NwVec at = nw_cell_at(&envelope->cells[i]);
        if (nw_vec_get(at, plan->axis) == level && is_seen(self, origin, at))
            draw_cell(pen, &envelope->cells[i]);
    }
    cairo_destroy(pen->cairo);
    return node;
}

static void drop_layer(gpointer node) {
    if (node)
        gsk_render_node_unref(node);
}

/* Draws the layers that are not drawn yet. */
static void draw_sheet(NwLayerBoard *self) {
    NwBoardPoint origin = nw_layer_board_origin(self);
    if (!self->sheet) {
        self->sheet = g_ptr_array_new_with_free_func(drop_layer);
        g_ptr_array_set_size(self->sheet, nw_board_layers(&self->plan));
    }
    Pen pen = pen_new(self);
    for (guint layer = 0; layer < self->sheet->len; layer++)
        if (!self->sheet->pdata[layer])
            self->sheet->pdata[layer] = draw_layer(&pen, origin, (int)layer);
    pen_clear(&pen);
}

/* ---- what moves ---------------------------------------------------------------------------- */

/* The selection: a second, dashed outline inside each part. */
static void draw_selection(NwLayerBoard *self, cairo_t *cairo, GdkRGBA ink) {
    static const double dashes[] = {3, 2};
    NwDocument *document = nw_view_state_get_document(self->view_state);
    const NwSolid *selection = nw_document_get_selection(document);
    cairo_set_dash(cairo, dashes, 2, 0);
    cairo_set_line_width(cairo, 1.6);
    set_colour(cairo, ink, 0.95);
    for (size_t i = 0; i < selection->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++)
            if (selection->cells[i].mask >> bit & 1 &&
                nw_owner_map_get(self->owners, (NwPart){nw_cell_at(&selection->cells[i]), bit}) !=
                    NW_OWNER_OUTSIDE)
                inner_outline(cairo, &self->plan, (NwPart){nw_cell_at(&selection->cells[i]), bit},
                              0.78);
    cairo_stroke(cairo);
    cairo_set_dash(cairo, NULL, 0, 0);
}

static void draw_hover(NwLayerBoard *self, cairo_t *cairo, GdkRGBA ink) {
    NwPart part;
    if (!nw_view_state_get_hover(self->view_state, &part))
        return;
    set_colour(cairo, ink, 1);
    if (self->touched) {
        cairo_set_line_width(cairo, 1.2);
        for (size_t i = 0; i < self->touched->count; i++)
            for (int bit = 0; bit < NW_PARTS; bit++)
                if (self->touched->cells[i].mask >> bit & 1)
                    outline(cairo, &self->plan,
                            (NwPart){nw_cell_at(&self->touched->cells[i]), bit});
        cairo_stroke(cairo);
    }
    outline(cairo, &self->plan, part);
    cairo_set_line_width(cairo, 3);
    cairo_stroke(cairo);
}

/* The parts of a proposal, each with a ring round it that shows where parts are too small for an
 * outline, and that keeps clear of what is under it. */
static void draw_advice(NwLayerBoard *self, cairo_t *cairo, GdkRGBA ink) {
    gsize kill;
    NwProposalItem *advice = nw_view_state_get_proposal(self->view_state, &kill);
    const NwSolid *here = advice ? nw_proposal_item_get_here(advice) : NULL;
    GdkRGBA clear = nw_piece_style_ink(&ink);
    for (size_t i = 0; here && i < here->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++)
            if (here->cells[i].mask >> bit & 1) {
                NwPart part = {nw_cell_at(&here->cells[i]), bit};
                NwBoardPoint at = nw_board_centre(&self->plan, part);
                outline(cairo, &self->plan, part);
                cairo_new_sub_path(cairo);
                cairo_arc(cairo, at.x, at.y, fmax(8, 0.5 * self->plan.side), 0, 2 * G_PI);
            }
    set_colour(cairo, clear, 0.9);
    cairo_set_line_width(cairo, 4.5);
    cairo_stroke_preserve(cairo);
    set_colour(cairo, ink, 1);
    cairo_set_line_width(cairo, 2);
    cairo_stroke(cairo);
}

/* The keyboard cursor: a frame round its square, for the part itself is the hovered one. */
static void draw_cursor(NwLayerBoard *self, cairo_t *cairo, GdkRGBA ink) {
    if (!self->has_cursor || !gtk_widget_has_visible_focus(GTK_WIDGET(self)))
        return;
    NwPart part = nw_board_cursor_part(&self->plan, self->cursor);
    NwBoardPoint at = nw_board_square(&self->plan, part.cell);
    set_colour(cairo, ink, 1);
    cairo_set_line_width(cairo, 2);
    cairo_rectangle(cairo, at.x - 2, at.y - 2, self->plan.side + 4, self->plan.side + 4);
    cairo_stroke(cairo);
}

static gboolean has_overlay(NwLayerBoard *self) {
    NwPart part;
    gsize kill;
    return nw_view_state_get_hover(self->view_state, &part) || self->has_cursor ||
           nw_view_state_get_proposal(self->view_state, &kill) ||
           nw_document_get_selection(nw_view_state_get_document(self->view_state))->count > 0;
}

void nw_layer_board_snapshot(GtkWidget *widget, GtkSnapshot *snapshot) {
    NwLayerBoard *self = NW_LAYER_BOARD(widget);
    if (!self->view_state || !nw_document_get_design(nw_view_state_get_document(self->view_state)))
        return;
    graphene_rect_t bounds = GRAPHENE_RECT_INIT(0, 0, (float)gtk_widget_get_width(widget),
                                                (float)gtk_widget_get_height(widget));
    if (!self->sheet || g_ptr_array_find(self->sheet, NULL, NULL))
        draw_sheet(self);
    for (guint layer = 0; layer < self->sheet->len; layer++)
        gtk_snapshot_append_node(snapshot, self->sheet->pdata[layer]);
    if (!has_overlay(self))
        return;
    cairo_t *cairo = gtk_snapshot_append_cairo(snapshot, &bounds);
    NwBoardPoint origin = nw_layer_board_origin(self);
    GdkRGBA ink;
    gtk_style_context_get_color(gtk_widget_get_style_context(widget), &ink);
    cairo_translate(cairo, -origin.x, -origin.y);
    cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
    draw_selection(self, cairo, ink);
    draw_advice(self, cairo, ink);
    draw_hover(self, cairo, ink);
    draw_cursor(self, cairo, ink);
    cairo_destroy(cairo);
}
