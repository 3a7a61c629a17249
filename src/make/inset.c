#include "make/inset.h"

#include <stdlib.h>

#include "base/memory.h"

/* With c = cos D: cot(D/2) = (1 + c) / sin D. In a groove, D is 360 degrees less what the normals
 * say, which changes the sign. */
double nw_inset_depth(const NwEdge *edge, double inset_mm) {
    double c = -edge->dot / sqrt(edge->norms2);
    double cotangent = (1 + c) / sqrt(1 - c * c);
    return edge->reflex ? -inset_mm * cotangent : inset_mm * cotangent;
}

/* A moved side: the line through `at` along the unit vector `way`. */
typedef struct Line {
    NwPoint at, way;
} Line;

static Line moved(const NwPieceFaces *faces, const NwSide *side, double cell_mm, NwDepthRule *rule,
                  const void *data) {
    NwPoint from = nw_exact_point_mm(side->from, cell_mm),
            to = nw_exact_point_mm(side->to, cell_mm);
    NwPoint along = nw_point_sub(to, from);
    NwPoint way = nw_point_scale(along, 1 / nw_point_length(along));
    double depth = rule(&faces->edges[side->edge], data);
    return (Line){{from.x - depth * way.y, from.y + depth * way.x}, way};
}

/* The end of line `a` and the start of line `b`, which follows it at the corner `corner`. */
static void join(Line a, Line b, NwPoint corner, NwPoint *end, NwPoint *start) {
    double sine = nw_point_cross(a.way, b.way);
    if (fabs(sine) < 1e-9) { /* straight on: each keeps its own depth */
        *end = nw_point_add(a.at,
                            nw_point_scale(a.way, nw_point_dot(a.way, nw_point_sub(corner, a.at))));
        *start = nw_point_add(
            b.at, nw_point_scale(b.way, nw_point_dot(b.way, nw_point_sub(corner, b.at))));
    } else {
        double t = nw_point_cross(nw_point_sub(b.at, a.at), b.way) / sine;
        *end = *start = nw_point_add(a.at, nw_point_scale(a.way, t));
    }
}

bool nw_inset_make_by(const NwPieceFaces *faces, size_t index, double cell_mm, NwDepthRule *rule,
                      const void *data, NwInset *inset) {
    const NwFace *face = &faces->faces[index];
    size_t total = 0;
    bool sound = true;
    *inset = (NwInset){NULL, nw_alloc(face->ring_count, sizeof(size_t)), {NULL, 0, 0}};
    for (size_t k = 0; k < face->ring_count; k++) {
        inset->first[k] = total;
        total += face->rings[k].count;
    }
    inset->sides = nw_alloc(total, sizeof *inset->sides);
    for (size_t k = 0; k < face->ring_count; k++) {
        const NwRing *ring = &face->rings[k];
        NwStretch *sides = &inset->sides[inset->first[k]];
        for (size_t i = 0; i < ring->count; i++) {
            size_t next = (i + 1) % ring->count;
            join(moved(faces, &ring->sides[i], cell_mm, rule, data),
                 moved(faces, &ring->sides[next], cell_mm, rule, data),
                 nw_exact_point_mm(ring->sides[i].to, cell_mm), &sides[i].to, &sides[next].from);
        }
        nw_region_begin(&inset->region);
        for (size_t i = 0; i < ring->count; i++) {
            NwPoint way = moved(faces, &ring->sides[i], cell_mm, rule, data).way;
            sound = sound && nw_point_dot(nw_point_sub(sides[i].to, sides[i].from), way) >
                                 NW_REGION_TOUCH_MM;
            nw_region_add(&inset->region, sides[i].from);
            nw_region_add(&inset->region, sides[i].to);
        }
        NwOutline *loop = &inset->region.loops[k];
        if (loop->count > 1 &&
            nw_point_length(nw_point_sub(loop->points[0], loop->points[loop->count - 1])) <
                NW_REGION_TOUCH_MM)
            loop->count--;
    }
    sound = sound && !nw_region_is_crossed(&inset->region);
    if (!sound)
        nw_inset_clear(inset);
    return sound;
}

static double depth_by_inset(const NwEdge *edge, const void *data) {
    return nw_inset_depth(edge, *(const double *)data);
}

bool nw_inset_make(const NwPieceFaces *faces, size_t face, double cell_mm, double inset_mm,
                   NwInset *inset) {
    return nw_inset_make_by(faces, face, cell_mm, depth_by_inset, &inset_mm, inset);
}

void nw_inset_clear(NwInset *inset) {
    free(inset->sides);
    free(inset->first);
    nw_region_clear(&inset->region);
    inset->sides = NULL;
    inset->first = NULL;
}
