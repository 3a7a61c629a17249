#include "make/card/unfold.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "make/card/tiles.h"

enum { DIRECTIONS = 12, FIRST_ATTEMPTS = 32, ATTEMPTS_MAX = 1500 };
static const unsigned long long default_effort = 8000000;

/* How far a net reaches to both sides along directions 15 degrees apart. */
typedef struct Reach {
    double low[DIRECTIONS], high[DIRECTIONS];
} Reach;

typedef struct Unfolder {
    const NwPieceFaces *faces;
    const NwUnfoldOptions *options;
    NwPoint ways[DIRECTIONS]; /* unit vectors 15 degrees apart */
    NwNets *nets;             /* the attempt in work */
    NwPosedTiles *posed;
    NwRegion *regions; /* posed outlines; only with an inset */
    bool *placed;
    size_t placed_count;
    double *weights;
    double jitter;
    uint64_t chance;
    unsigned long long effort;
} Unfolder;

static NwNets *nets_new(const NwPieceFaces *faces) {
    NwNets *nets = nw_alloc(1, sizeof *nets);
    size_t n = faces->count;
    nets->net = nw_alloc(n, sizeof *nets->net);
    nets->parent = nw_alloc(n, sizeof *nets->parent);
    nets->hinge = nw_alloc(n, sizeof *nets->hinge);
    nets->pose = nw_alloc(n, sizeof *nets->pose);
    nets->drift = nw_alloc(n, sizeof *nets->drift);
    nets->order = nw_alloc(n, sizeof *nets->order);
    nets->insets = nw_alloc(n, sizeof *nets->insets);
    return nets;
}

void nw_nets_free(NwNets *nets, const NwPieceFaces *faces) {
    if (!nets)
        return;
    for (size_t i = 0; i < faces->count; i++)
        nw_inset_clear(&nets->insets[i]);
    free(nets->net);
    free(nets->parent);
    free(nets->hinge);
    free(nets->pose);
    free(nets->drift);
    free(nets->order);
    free(nets->insets);
    free(nets);
}

static void copy_attempt(NwNets *to, const NwNets *from, size_t n) {
    to->count = from->count;
    memcpy(to->net, from->net, n * sizeof *to->net);
    memcpy(to->parent, from->parent, n * sizeof *to->parent);
    memcpy(to->hinge, from->hinge, n * sizeof *to->hinge);
    memcpy(to->pose, from->pose, n * sizeof *to->pose);
    memcpy(to->drift, from->drift, n * sizeof *to->drift);
    memcpy(to->order, from->order, n * sizeof *to->order);
}

NwPoint nw_nets_point(const NwNets *nets, size_t face, double cell_mm, NwPoint own) {
    NwPoint turned = nw_point_turned(own, 30 * nets->pose[face].twelfths);
    NwPoint shift = nw_exact_point_mm(nets->pose[face].shift, cell_mm);
    return nw_point_add(nw_point_add(turned, shift), nets->drift[face]);
}

static Reach reach_of(const Unfolder *u, size_t face) {
    Reach reach;
    const NwOutline *loop = &u->nets->insets[face].region.loops[0];
    for (int k = 0; k < DIRECTIONS; k++) {
        reach.low[k] = INFINITY;
        reach.high[k] = -INFINITY;
    }
    for (size_t i = 0; i < loop->count; i++) {
        NwPoint at = nw_nets_point(u->nets, face, u->options->cell_mm, loop->points[i]);
        for (int k = 0; k < DIRECTIONS; k++) {
            double along = nw_point_dot(at, u->ways[k]);
            reach.low[k] = fmin(reach.low[k], along);
            reach.high[k] = fmax(reach.high[k], along);
        }
    }
    return reach;
}

static Reach reach_of_both(const Reach *a, const Reach *b) {
    Reach both;
    for (int k = 0; k < DIRECTIONS; k++) {
        both.low[k] = fmin(a->low[k], b->low[k]);
        both.high[k] = fmax(a->high[k], b->high[k]);
    }
    return both;
}

static bool fits_page(const Unfolder *u, const Reach *reach) {
    const NwUnfoldOptions *o = u->options;
    if (o->room_x_mm <= 0)
        return true;
    for (int k = 0; k < DIRECTIONS; k++) {
        int across = (k + DIRECTIONS / 2) % DIRECTIONS;
        if (reach->high[k] - reach->low[k] <= o->room_x_mm + NW_REGION_TOUCH_MM &&
            reach->high[across] - reach->low[across] <= o->room_y_mm + NW_REGION_TOUCH_MM)
            return true;
    }
    return false;
}

static double least_paper(const Reach *reach) {
    double least = INFINITY;
    for (int k = 0; k < DIRECTIONS / 2; k++) {
        int across = k + DIRECTIONS / 2;
        least = fmin(least,
                     (reach->high[k] - reach->low[k]) * (reach->high[across] - reach->low[across]));
    }
    return least;
}

static const NwSide *side_at(const NwPieceFaces *faces, size_t face, size_t edge) {
    for (size_t k = 0; k < faces->faces[face].ring_count; k++)
        for (size_t i = 0; i < faces->faces[face].rings[k].count; i++)
            if (faces->faces[face].rings[k].sides[i].edge == edge)
                return &faces->faces[face].rings[k].sides[i];
    return NULL;
}

/* The pose that lays `side` of a new face against `base`, a side of a posed one: backwards along
 * it. */
static NwPose pose_against(const NwSide *base, NwPose base_pose, const NwSide *side) {
    NwExactPoint from = nw_exact_point_posed(base->to, base_pose),
                 to = nw_exact_point_posed(base->from, base_pose);
    NwPose pose = {0, {{0, 0}, {0, 0}}};
    while (!nw_exact_point_equal(
        nw_exact_point_turned(nw_exact_point_sub(side->to, side->from), pose.twelfths),
        nw_exact_point_sub(to, from)))
        pose.twelfths++;
    pose.shift = nw_exact_point_sub(from, nw_exact_point_turned(side->from, pose.twelfths));
    return pose;
}

/* Both sides of the fold moved in, so the new face moves up to meet the other by both depths. */
static NwPoint drift_against(const Unfolder *u, size_t base, const NwSide *side, size_t edge) {
    NwPoint from = nw_exact_point_mm(side->from, u->options->cell_mm);
    NwPoint along = nw_point_sub(nw_exact_point_mm(side->to, u->options->cell_mm), from);
    along = nw_point_turned(nw_point_scale(along, 1 / nw_point_length(along)),
                            30 * u->nets->pose[base].twelfths);
    double depth = 2 * nw_inset_depth(&u->faces->edges[edge], u->options->inset_mm);
    NwPoint inwards = {-along.y, along.x};
    return nw_point_add(u->nets->drift[base], nw_point_scale(inwards, depth));
}

static void set_region(Unfolder *u, size_t face) {
    NwRegion *region = &u->regions[face];
    const NwRegion *own = &u->nets->insets[face].region;
    nw_region_clear(region);
    for (size_t k = 0; k < own->count; k++) {
        nw_region_begin(region);
        for (size_t i = 0; i < own->loops[k].count; i++)
            nw_region_add(
                region, nw_nets_point(u->nets, face, u->options->cell_mm, own->loops[k].points[i]));
    }
}

/* Whether the face, posed, overlaps one that is in net `net`. */
static bool overlaps(Unfolder *u, size_t face, size_t net) {
    for (size_t i = u->placed_count; i > 0; i--) {
        size_t other = u->nets->order[i - 1];
        if (u->nets->net[other] != net)
            break; /* nets grow one after the other */
        if (nw_posed_tiles_overlap(&u->posed[face], &u->posed[other], &u->effort) ||
            (u->options->inset_mm > 0 && nw_region_overlap(&u->regions[face], &u->regions[other])))
            return true;
    }
    return false;
}

static void pose_face(Unfolder *u, size_t face, NwPose pose, NwPoint drift) {
    u->nets->pose[face] = pose;
    u->nets->drift[face] = drift;
    nw_posed_tiles_set(&u->posed[face], &u->faces->faces[face], pose);
    if (u->options->inset_mm > 0)
        set_region(u, face);
}

static void let_in(Unfolder *u, size_t face, size_t net, size_t parent, size_t hinge) {
    u->nets->net[face] = net;
    u->nets->parent[face] = parent;
    u->nets->hinge[face] = hinge;
    u->nets->order[u->placed_count++] = face;
    u->placed[face] = true;
}

static double draw(Unfolder *u) {
    return (double)(nw_mix(++u->chance) >> 11) * 0x1p-53;
}

/* The first face of a net: among those left, a heavy one. */
static size_t first_face(Unfolder *u) {
    size_t best = NW_NO_EDGE;
    double best_score = -1;
    for (size_t i = 0; i < u->faces->count; i++) {
        if (u->placed[i])
            continue;
        double score = u->weights[i] + (1 + u->jitter) * draw(u);
        if (score > best_score) {
            best_score = score;
            best = i;
        }
    }
    return best;
}

/* The fold that promises most, of those from the net to a face that is not placed yet: heavy faces
 * first, then long folds. A used edge is not tried again in this net. */
static size_t best_fold(Unfolder *u, size_t net, const bool *used) {
    size_t best = NW_NO_EDGE;
    double best_score = -1;
    for (size_t e = 0; e < u->faces->edge_count; e++) {
        const NwEdge *edge = &u->faces->edges[e];
        size_t in = u->placed[edge->left] ? edge->left : edge->right;
        size_t out = nw_edge_other(edge, in);
        if (used[e] || !u->placed[in] || u->placed[out] || u->nets->net[in] != net)
            continue;
        double score = 2 * u->weights[out] + nw_edge_length(edge) + u->jitter * draw(u);
        if (score > best_score) {
            best_score = score;
            best = e;
        }
    }
    return best;
}

static Reach grow(Unfolder *u, size_t net) {
    const NwPieceFaces *faces = u->faces;
    bool *used = nw_alloc(faces->edge_count, sizeof *used);
    size_t face = first_face(u), edge;
    pose_face(u, face, (NwPose){0, {{0, 0}, {0, 0}}}, (NwPoint){0, 0});
    let_in(u, face, net, face, NW_NO_EDGE);
    Reach reach = reach_of(u, face);
    while ((edge = best_fold(u, net, used)) != NW_NO_EDGE &&
           !nw_progress_is_stopped(u->options->progress)) {
        used[edge] = true;
        const NwEdge *fold = &faces->edges[edge];
        size_t base = u->placed[fold->left] ? fold->left : fold->right;
        face = nw_edge_other(fold, base);
        const NwSide *side = side_at(faces, base, edge);
        pose_face(u, face, pose_against(side, u->nets->pose[base], side_at(faces, face, edge)),
                  drift_against(u, base, side, edge));
        Reach own = reach_of(u, face), both = reach_of_both(&reach, &own);
        if (!fits_page(u, &both) || overlaps(u, face, net))
            continue;
        let_in(u, face, net, base, edge);
        reach = both;
    }
    free(used);
    return reach;
}

/* One attempt; the paper it takes goes to *paper. */
static void attempt(Unfolder *u, double *paper) {
    memset(u->placed, 0, u->faces->count * sizeof *u->placed);
    u->placed_count = 0;
    u->nets->count = 0;
    *paper = 0;
    while (u->placed_count < u->faces->count) {
        Reach reach = grow(u, u->nets->count++);
        *paper += least_paper(&reach);
    }
    for (size_t i = 0; i < u->faces->count; i++)
        if (u->nets->net[i] > 0)
            u->weights[i] += 1;
}

/* Insets of all faces, each alone on the page. */
static bool prepare(Unfolder *u, size_t *culprit, bool *too_large) {
    for (size_t i = 0; i < u->faces->count; i++) {
        *culprit = i;
        *too_large = false;
        if (!nw_inset_make(u->faces, i, u->options->cell_mm, u->options->inset_mm,
                           &u->nets->insets[i]))
            return false;
        Reach reach = reach_of(u, i);
        *too_large = true;
        if (!fits_page(u, &reach))
            return false;
    }
    return true;
}

/* False: stopped, and what is there is not to be used. */
static bool search(Unfolder *u, NwNets *best) {
    const NwUnfoldOptions *o = u->options;
    unsigned long long limit = o->effort ? o->effort : default_effort;
    double least_cost = INFINITY, least_paper_mm2 = INFINITY;
    for (int i = 0; i < ATTEMPTS_MAX; i++) {
        double paper, cost;
        u->jitter = (i % 8) * 0.5;
        double spent = fmax((double)u->effort / (double)limit, (double)i / ATTEMPTS_MAX);
        if (!nw_progress_tell(o->progress, spent))
            return false;
        attempt(u, &paper);
        if (!best->count || u->nets->count < best->count)
            least_cost = least_paper_mm2 = INFINITY;
        if (!best->count || u->nets->count <= best->count) {
            cost = o->cost ? o->cost(u->faces, u->nets, o->cost_data) : 0;
            if (cost < least_cost || (cost <= least_cost && paper < least_paper_mm2)) {
                copy_attempt(best, u->nets, u->faces->count);
                least_cost = cost;
                least_paper_mm2 = paper;
            }
        }
        if (u->effort > limit || (i >= FIRST_ATTEMPTS && best->count == u->faces->shells))
            break;
    }
    return !nw_progress_is_stopped(o->progress);
}

NwNets *nw_unfold(const NwPieceFaces *faces, const NwUnfoldOptions *options, size_t *culprit,
                  bool *too_large) {
    size_t n = faces->count;
    Unfolder u = {.faces = faces, .options = options, .nets = nets_new(faces)};
    for (int k = 0; k < DIRECTIONS; k++)
        u.ways[k] = nw_point_turned((NwPoint){1, 0}, 15 * k);
    u.posed = nw_alloc(n, sizeof *u.posed);
    u.regions = nw_alloc(n, sizeof *u.regions);
    u.placed = nw_alloc(n, sizeof *u.placed);
    u.weights = nw_alloc(n, sizeof *u.weights);
    NwNets *best = NULL;
    if (prepare(&u, culprit, too_large)) {
        best = nets_new(faces);
        bool wanted = search(&u, best);
        for (size_t i = 0; i < n; i++) { /* the insets change hands */
            best->insets[i] = u.nets->insets[i];
            u.nets->insets[i] = (NwInset){NULL, NULL, {NULL, 0, 0}};
        }
        if (!wanted) {
            nw_nets_free(best, faces);
            best = NULL;
        }
    }
    for (size_t i = 0; i < n; i++) {
        nw_posed_tiles_clear(&u.posed[i]);
        nw_region_clear(&u.regions[i]);
    }
    free(u.posed);
    free(u.regions);
    free(u.placed);
    free(u.weights);
    nw_nets_free(u.nets, faces);
    return best;
}
