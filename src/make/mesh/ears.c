#include "make/mesh/ears.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* A corner of the polygon in its plane. */
typedef struct Corner {
    double x, y;
    size_t point;
} Corner;

typedef struct Cutter {
    Corner *rim; /* the outer rim with the holes tied in so far */
    size_t count;
    Corner **holes; /* NULL once tied in */
    size_t *hole_counts;
    size_t hole_count;
    double tiny; /* areas below this are nothing */
} Cutter;

static double area2(Corner a, Corner b, Corner c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static int side(const Cutter *cutter, Corner a, Corner b, Corner c) {
    double area = area2(a, b, c);
    return area > cutter->tiny ? 1 : area < -cutter->tiny ? -1 : 0;
}

static double distance2(Corner a, Corner b) {
    return (b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y);
}

static bool same_place(const Cutter *cutter, Corner a, Corner b) {
    return distance2(a, b) <= cutter->tiny;
}

/* Whether p lies on the segment, not at its ends. */
static bool is_within(const Cutter *cutter, Corner a, Corner b, Corner p) {
    if (side(cutter, a, b, p) || same_place(cutter, a, p) || same_place(cutter, b, p))
        return false;
    return (p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y) > 0 &&
           (p.x - b.x) * (a.x - b.x) + (p.y - b.y) * (a.y - b.y) > 0;
}

static bool is_crossed(const Cutter *cutter, Corner p, Corner q, Corner a, Corner b) {
    if (is_within(cutter, p, q, a) || is_within(cutter, p, q, b))
        return true;
    return side(cutter, p, q, a) * side(cutter, p, q, b) < 0 &&
           side(cutter, a, b, p) * side(cutter, a, b, q) < 0;
}

static bool crosses_ring(const Cutter *cutter, Corner p, Corner q, const Corner *ring,
                         size_t count) {
    for (size_t i = 0; i < count; i++)
        if (is_crossed(cutter, p, q, ring[i], ring[(i + 1) % count]))
            return true;
    return false;
}

/* Whether the way from ring[at] to `goal` begins inside the polygon. */
static bool begins_inside(const Cutter *cutter, const Corner *ring, size_t count, size_t at,
                          Corner goal) {
    Corner before = ring[(at + count - 1) % count], own = ring[at], next = ring[(at + 1) % count];
    bool left_of_next = side(cutter, own, next, goal) > 0;
    bool left_of_last = side(cutter, before, own, goal) > 0;
    return side(cutter, before, own, next) > 0 ? left_of_next && left_of_last
                                               : left_of_next || left_of_last;
}

/* Ties one hole to the rim by the shortest bridge that crosses nothing. */
static bool tie_hole(Cutter *cutter) {
    size_t best_hole = 0, best_at = 0, best_in = 0;
    double best = INFINITY;
    for (size_t h = 0; h < cutter->hole_count; h++)
        for (size_t k = 0; cutter->holes[h] && k < cutter->hole_counts[h]; k++)
            for (size_t i = 0; i < cutter->count; i++) {
                Corner p = cutter->rim[i], q = cutter->holes[h][k];
                double length = distance2(p, q);
                if (length >= best || length <= cutter->tiny ||
                    !begins_inside(cutter, cutter->rim, cutter->count, i, q) ||
                    !begins_inside(cutter, cutter->holes[h], cutter->hole_counts[h], k, p))
                    continue;
                bool crossed = crosses_ring(cutter, p, q, cutter->rim, cutter->count);
                for (size_t o = 0; o < cutter->hole_count && !crossed; o++)
                    crossed = cutter->holes[o] &&
                              crosses_ring(cutter, p, q, cutter->holes[o], cutter->hole_counts[o]);
                if (crossed)
                    continue;
                best = length;
                best_hole = h;
                best_at = i;
                best_in = k;
            }
    if (best == INFINITY)
        return false;
    Corner *hole = cutter->holes[best_hole];
    size_t own = cutter->hole_counts[best_hole], count = cutter->count + own + 2, at = 0;
    Corner *rim = nw_alloc(count, sizeof *rim);
    for (size_t i = 0; i <= best_at; i++)
        rim[at++] = cutter->rim[i];
    for (size_t k = 0; k <= own; k++)
        rim[at++] = hole[(best_in + k) % own];
    for (size_t i = best_at; i < cutter->count; i++)
        rim[at++] = cutter->rim[i];
    free(cutter->rim);
    free(hole);
    cutter->holes[best_hole] = NULL;
    cutter->rim = rim;
    cutter->count = count;
    return true;
}

/* How round the ear at rim[i] is; 0 if it is none, or no rounder than `least`: that is seen at
 * once, while it takes a look at the whole rim whether it is an ear. */
static double roundness(const Cutter *cutter, size_t i, double least) {
    size_t n = cutter->count;
    Corner a = cutter->rim[(i + n - 1) % n], b = cutter->rim[i], c = cutter->rim[(i + 1) % n];
    double longest = fmax(distance2(a, b), fmax(distance2(b, c), distance2(c, a)));
    double round = area2(a, b, c) / longest;
    if (side(cutter, a, b, c) <= 0 || round <= least)
        return 0;
    if (n > 3 && crosses_ring(cutter, a, c, cutter->rim, n))
        return 0;
    for (size_t k = 0; k < n; k++) {
        Corner p = cutter->rim[k];
        if (side(cutter, a, b, p) < 0 || side(cutter, b, c, p) < 0 || side(cutter, c, a, p) < 0 ||
            same_place(cutter, a, p) || same_place(cutter, b, p) || same_place(cutter, c, p))
            continue;
        return 0;
    }
    return round;
}

static bool clip_ear(Cutter *cutter, size_t triangle[3]) {
    double best = 0;
    size_t at = 0, n = cutter->count;
    for (size_t i = 0; i < n; i++) {
        double round = roundness(cutter, i, best * (1 + 1e-9));
        if (round > 0) {
            best = round;
            at = i;
        }
    }
    if (best == 0)
        return false;
    triangle[0] = cutter->rim[(at + n - 1) % n].point;
    triangle[1] = cutter->rim[at].point;
    triangle[2] = cutter->rim[(at + 1) % n].point;
    memmove(&cutter->rim[at], &cutter->rim[at + 1], (n - at - 1) * sizeof(Corner));
    cutter->count--;
    return true;
}

/* Looks along the axis that the normal is largest on, from outside. */
static Corner *flatten(const NwOffsetSurfaceRing *ring, const double (*points)[3], NwVec normal) {
    Corner *corners = nw_alloc(ring->count, sizeof *corners);
    int axis = normal.x ? 0 : normal.y ? 1 : 2;
    for (size_t i = 0; i < ring->count; i++) {
        const double *p = points[ring->points[i]];
        double x = p[(axis + 1) % 3], y = p[(axis + 2) % 3];
        bool front = nw_vec_get(normal, axis) > 0;
        corners[i] = (Corner){front ? x : y, front ? y : x, ring->points[i]};
    }
    return corners;
}

static double tiny_of(const Cutter *cutter) {
    double size = 0;
    for (size_t i = 0; i < cutter->count; i++)
        size = fmax(size, distance2(cutter->rim[0], cutter->rim[i]));
    return size * 1e-11;
}

size_t nw_ears_cut(const NwOffsetSurfaceFace *face, const double (*points)[3], NwProgress *progress,
                   size_t (**triangles)[3]) {
    Cutter cutter = {.rim = flatten(&face->rings[0], points, face->normal),
                     .count = face->rings[0].count,
                     .holes = nw_alloc(face->count, sizeof(Corner *)),
                     .hole_counts = nw_alloc(face->count, sizeof(size_t)),
                     .hole_count = face->count - 1};
    cutter.tiny = tiny_of(&cutter);
    bool done = true;
    for (size_t h = 0; h < cutter.hole_count; h++) {
        cutter.holes[h] = flatten(&face->rings[h + 1], points, face->normal);
        cutter.hole_counts[h] = face->rings[h + 1].count;
    }
    for (size_t h = 0; h < cutter.hole_count && done; h++)
        done = !nw_progress_is_stopped(progress) && tie_hole(&cutter);
    size_t count = 0;
    *triangles = nw_alloc(cutter.count, sizeof **triangles);
    while (done && cutter.count >= 3) {
        done = !nw_progress_is_stopped(progress) && clip_ear(&cutter, (*triangles)[count]);
        count += done;
    }
    for (size_t h = 0; h < cutter.hole_count; h++)
        free(cutter.holes[h]);
    free(cutter.holes);
    free(cutter.hole_counts);
    free(cutter.rim);
    return done ? count : 0;
}
