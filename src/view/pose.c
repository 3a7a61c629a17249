#include "view/pose.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

static const int margin = 1;   /* between what went out and the rest, in cells */
static const double gap = 1.5; /* between pieces side by side */

/* The bounds of every body, to be moved in whole steps. Bodies of different groups have parted for
 * ever: their boxes are apart, and stay so. */
typedef struct Stage {
    int count;
    NwBounds bounds[NW_BODIES_MAX];
    NwVec at[NW_BODIES_MAX];
    int group[NW_BODIES_MAX];
    int groups;
} Stage;

static NwColour colour_of(const NwDesign *design, int piece) {
    NwColour colour;
    if (nw_palette_parse(design->pieces[piece].colour, &colour))
        return colour;
    return nw_palette_piece(piece);
}

static NwPosedScene *make(int body_count, int slide_count) {
    NwPosedScene *show = nw_alloc(1, sizeof *show);
    size_t bodies = (size_t)body_count, slides = (size_t)slide_count;
    show->body_count = body_count;
    show->slide_count = slide_count;
    show->pieces = nw_alloc(bodies, sizeof *show->pieces);
    show->copies = nw_alloc(bodies, sizeof *show->copies);
    show->solids = nw_alloc(bodies, sizeof(NwSolid *));
    show->colours = nw_alloc(bodies, sizeof *show->colours);
    show->movers = nw_alloc(slides, sizeof *show->movers);
    show->offsets = nw_alloc((slides + 1) * bodies, sizeof *show->offsets);
    return show;
}

void nw_posed_scene_free(NwPosedScene *show) {
    if (!show)
        return;
    for (int b = 0; b < show->body_count; b++)
        nw_solid_free(show->solids[b]);
    free(show->pieces);
    free(show->copies);
    free(show->solids);
    free(show->colours);
    free(show->movers);
    free(show->offsets);
    free(show);
}

/* Copies of one piece take lighter and darker shades of its colour in turn. */
static bool set_body(NwPosedScene *show, const NwDesign *design, int body, NwPlacement placement) {
    int copy = 0;
    for (int b = 0; b < body; b++)
        copy += show->pieces[b] == placement.piece;
    show->pieces[body] = placement.piece;
    show->copies[body] = copy;
    show->colours[body] = nw_palette_shade(colour_of(design, placement.piece), copy);
    return nw_solid_moved(design->pieces[placement.piece].solid, placement.motion,
                          &show->solids[body]) == NW_OK;
}

/* Whether the box of a, moved, comes within `room` of that of b, moved. */
static bool meet(const Stage *stage, int a, NwVec move_a, int b, NwVec move_b, int room) {
    for (int axis = 0; axis < 3; axis++) {
        int shift = nw_vec_get(stage->at[a], axis) + nw_vec_get(move_a, axis) -
                    nw_vec_get(stage->at[b], axis) - nw_vec_get(move_b, axis);
        if (nw_vec_get(stage->bounds[a].low, axis) + shift >=
                nw_vec_get(stage->bounds[b].high, axis) + room ||
            nw_vec_get(stage->bounds[a].high, axis) + shift + room <=
                nw_vec_get(stage->bounds[b].low, axis))
            return false;
    }
    return true;
}

/* How many steps out: until no mover is near anything that its group leaves behind. */
static int steps_out(const Stage *stage, uint32_t movers, NwVec step) {
    for (int steps = 1;; steps++) {
        bool near = false;
        for (int a = 0; a < stage->count && !near; a++)
            for (int b = 0; b < stage->count && !near; b++)
                near = movers >> a & 1 && !(movers >> b & 1) &&
                       stage->group[a] == stage->group[b] &&
                       meet(stage, a, nw_vec_scale(step, steps), b, nw_vec(0, 0, 0), margin);
        if (!near)
            return steps;
    }
}

/* Whether group g, which makes `pushed` steps while the movers make `steps`, is run into. */
static bool is_run_into(const Stage *stage, uint32_t movers, NwVec step, int steps, int g,
                        int pushed) {
    for (int k = 0; k <= steps; k++)
        for (int a = 0; a < stage->count; a++)
            for (int b = 0; movers >> a & 1 && b < stage->count; b++)
                if (stage->group[b] == g && stage->group[a] != g &&
                    meet(stage, a, nw_vec_scale(step, k), b, nw_vec_scale(step, pushed * k / steps),
                         k == steps ? margin : 0))
                    return true;
    return false;
}

static uint32_t members(const Stage *stage, int g) {
    uint32_t bodies = 0;
    for (int b = 0; b < stage->count; b++)
        bodies |= (uint32_t)(stage->group[b] == g) << b;
    return bodies;
}

/* Makes the slide, and pushes other groups on that are in its way, and those in their way. */
static void slide(Stage *stage, uint32_t movers, NwVec step, int steps) {
    int pushed[NW_BODIES_MAX] = {0};
    bool changed = true;
    for (int round = 0; changed && round < NW_BODIES_MAX; round++) {
        changed = false;
        for (int g = 0; g < stage->groups; g++) {
            if (members(stage, g) & movers)
                continue;
            int need = pushed[g];
            while (need < steps && is_run_into(stage, movers, step, steps, g, need))
                need++;
            for (int h = 0; h < stage->groups; h++)
                while (pushed[h] && h != g && need < steps &&
                       is_run_into(stage, members(stage, h), step, pushed[h], g, need))
                    need++;
            changed = changed || need != pushed[g];
            pushed[g] = need;
        }
    }
    for (int b = 0; b < stage->count; b++) {
        int made = movers >> b & 1 ? steps : pushed[stage->group[b]];
        stage->at[b] = nw_vec_add(stage->at[b], nw_vec_scale(step, made));
    }
}

/* After an out slide its movers are a group of their own. */
static void part(Stage *stage, uint32_t movers) {
    for (int b = 0; b < stage->count; b++)
        if (movers >> b & 1)
            stage->group[b] = stage->groups;
    stage->groups++;
}

static void store(NwPosedScene *show, const Stage *stage, int slide_index) {
    for (int b = 0; b < show->body_count; b++)
        for (int k = 0; k < 3; k++)
            show->offsets[slide_index * show->body_count + b][k] = nw_vec_get(stage->at[b], k);
}

NwPosedScene *nw_posed_scene_new(const NwDesign *design, const NwFoundAssembly *finding) {
    bool fits = finding->placement_count <= NW_BODIES_MAX;
    NwPosedScene *show = make(finding->placement_count, fits ? finding->slide_count : 0);
    Stage stage = {.count = fits ? show->body_count : 0, .groups = 1};
    for (int b = 0; b < show->body_count; b++) {
        if (!set_body(show, design, b, finding->placements[b])) {
            nw_posed_scene_free(show);
            return NULL;
        }
        if (fits)
            stage.bounds[b] = nw_solid_bounds(show->solids[b]);
    }
    for (int s = 0; s < show->slide_count; s++) {
        const NwSlide *one = &finding->slides[s];
        NwVec step = nw_direction_step(one->direction);
        bool out = one->cells == NW_SLIDE_OUT;
        show->movers[s] = one->bodies;
        slide(&stage, one->bodies, step, out ? steps_out(&stage, one->bodies, step) : one->cells);
        if (out && stage.groups < NW_BODIES_MAX)
            part(&stage, one->bodies);
        store(show, &stage, s + 1);
    }
    return show;
}

/* Puts the bodies in rows, on one ground, about as wide as all rows together are deep. */
static void lay_out(NwPosedScene *show) {
    double x = 0, y = 0, deepest = 0, area = 0;
    for (int pass = 0; pass < 2; pass++)
        for (int b = 0; b < show->body_count; b++) {
            NwBounds bounds = nw_solid_bounds(show->solids[b]);
            NwVec size = nw_vec_sub(bounds.high, bounds.low);
            if (pass == 0) {
                area += (size.x + gap) * (size.y + 2 * gap);
                continue;
            }
            if (x > 0 && x + size.x > 1.2 * sqrt(area)) {
                x = 0;
                y -= deepest + 2 * gap; /* rows hide each other, neighbours do not */
                deepest = 0;
            }
            show->offsets[b][0] = x - bounds.low.x;
            show->offsets[b][1] = y - bounds.high.y;
            show->offsets[b][2] = -bounds.low.z;
            x += size.x + gap;
            deepest = fmax(deepest, size.y);
        }
}

NwPosedScene *nw_posed_scene_sketch(const NwDesign *design) {
    int count = design->intended_count ? (int)design->intended_count : (int)design->piece_count;
    NwPosedScene *show = make(count, 0);
    bool good = true, shared = false;
    for (int b = 0; good && b < count; b++) {
        NwPlacement drawn = {b, {0, {0, 0, 0}}};
        good = set_body(show, design, b, design->intended_count ? design->intended[b] : drawn);
        for (int a = 0; good && a < b; a++)
            shared = shared || nw_solid_overlaps(show->solids[a], show->solids[b]);
    }
    if (!good) {
        nw_posed_scene_free(show);
        return NULL;
    }
    if (shared && !design->intended_count)
        lay_out(show);
    return show;
}

/* The middle of a body's volume. */
static void middle_of(const NwSolid *solid, double middle[3], double *weight) {
    middle[0] = middle[1] = middle[2] = *weight = 0;
    for (size_t i = 0; i < solid->count; i++) {
        double volume = nw_mask_volume6(solid->cells[i].mask);
        NwVec cell = nw_cell_at(&solid->cells[i]);
        for (int k = 0; k < 3; k++)
            middle[k] += volume * (nw_vec_get(cell, k) + 0.5);
        *weight += volume;
    }
    for (int k = 0; k < 3 && *weight > 0; k++)
        middle[k] /= *weight;
}

static void outwards(const NwPosedScene *show, int body, double way[3]) {
    double sum[3] = {0}, total = 0;
    for (int b = 0; b < show->body_count; b++) {
        double middle[3], weight;
        middle_of(show->solids[b], middle, &weight);
        for (int k = 0; k < 3; k++)
            sum[k] += weight * middle[k];
        total += weight;
        if (b == body)
            memcpy(way, middle, sizeof middle);
    }
    for (int k = 0; k < 3 && total > 0; k++)
        way[k] -= sum[k] / total;
}

void nw_posed_scene_offset(const NwPosedScene *show, int body, double position, double explode,
                           double offset[3]) {
    double at = fmax(0, fmin(position, show->slide_count)), way[3] = {0};
    int s = (int)fmin(floor(at), show->slide_count - 1);
    s = s < 0 ? 0 : s;
    double share = at - s;
    const double *from = show->offsets[s * show->body_count + body];
    const double *to = show->slide_count ? show->offsets[(s + 1) * show->body_count + body] : from;
    if (explode != 0)
        outwards(show, body, way);
    for (int k = 0; k < 3; k++)
        offset[k] = from[k] + share * (to[k] - from[k]) + explode * way[k];
}

uint32_t nw_posed_scene_moving(const NwPosedScene *show, double position) {
    if (!(position >= 0 && position < show->slide_count))
        return 0;
    return show->movers[(int)position];
}

void nw_posed_scene_fill(const NwPosedScene *show, NwScene *scene, bool wood) {
    for (int b = 0; b < show->body_count; b++)
        nw_scene_add(scene, show->solids[b],
                     wood ? nw_palette_wood(show->pieces[b] + show->copies[b]) : show->colours[b],
                     0);
}

void nw_posed_scene_place(const NwPosedScene *show, NwScene *scene, double position,
                          double explode) {
    for (int b = 0; b < show->body_count && b < (int)scene->body_count; b++) {
        double offset[3];
        nw_posed_scene_offset(show, b, position, explode, offset);
        nw_scene_move(scene, (size_t)b, offset);
    }
}

void nw_posed_scene_add_rest(const NwPosedScene *show, const NwDesign *design, NwScene *scene) {
    NwSolid *rest = nw_solid_copy(design->envelope);
    for (int b = 0; b < show->body_count; b++) {
        NwSolid *less = nw_solid_difference(rest, show->solids[b]);
        nw_solid_free(rest);
        rest = less;
    }
    if (rest->count)
        nw_scene_add(scene, rest, nw_palette_paper(scene->dark)->ghost, NW_BODY_GHOST);
    nw_solid_free(rest);
}

/* The longest side of the box of all bodies as they stand at first. */
static double reach_of(const NwPosedScene *show) {
    double reach = 0;
    for (int a = 0; a < show->body_count; a++)
        for (int b = 0; b < show->body_count; b++) {
            NwVec low = nw_solid_bounds(show->solids[a]).low;
            NwVec high = nw_solid_bounds(show->solids[b]).high;
            for (int k = 0; k < 3; k++)
                reach = fmax(reach, nw_vec_get(high, k) - nw_vec_get(low, k));
        }
    return reach;
}

static void shorten(double ends[2][3], double longest) {
    double length = 0;
    for (int k = 0; k < 3; k++)
        length += (ends[1][k] - ends[0][k]) * (ends[1][k] - ends[0][k]);
    length = sqrt(length);
    for (int k = 0; k < 3 && length > longest; k++)
        ends[1][k] = ends[0][k] + longest / length * (ends[1][k] - ends[0][k]);
}

void nw_posed_scene_add_path(const NwPosedScene *show, NwScene *scene, int slide_index,
                             double explode) {
    double ends[2][3] = {{0}}, total = 0;
    if (slide_index < 0 || slide_index >= show->slide_count)
        return;
    for (int b = 0; b < show->body_count; b++) {
        double middle[3], weight, offset[3];
        if (!(show->movers[slide_index] >> b & 1))
            continue;
        middle_of(show->solids[b], middle, &weight);
        for (int end = 0; end < 2; end++) {
            nw_posed_scene_offset(show, b, slide_index + end, explode, offset);
            for (int k = 0; k < 3; k++)
                ends[end][k] += weight * (middle[k] + offset[k]);
        }
        total += weight;
    }
    for (int end = 0; end < 2; end++)
        for (int k = 0; k < 3; k++)
            ends[end][k] /= total;
    shorten(ends, reach_of(show));
    nw_scene_add_path(scene, (const double(*)[3])ends, 2, nw_palette_paper(scene->dark)->mark);
}
