#include "make/region.h"

#include <stdlib.h>

#include "base/memory.h"

void nw_region_clear(NwRegion *region) {
    for (size_t k = 0; k < region->count; k++)
        free(region->loops[k].points);
    free(region->loops);
    *region = (NwRegion){NULL, 0, 0};
}

void nw_region_begin(NwRegion *region) {
    region->loops = nw_grow(region->loops, region->count, &region->capacity, sizeof(NwOutline));
    region->loops[region->count++] = (NwOutline){NULL, 0, 0};
}

static bool same_place(NwPoint a, NwPoint b) {
    return nw_point_length(nw_point_sub(a, b)) < NW_REGION_TOUCH_MM;
}

void nw_region_add(NwRegion *region, NwPoint point) {
    NwOutline *loop = &region->loops[region->count - 1];
    if (loop->count && same_place(loop->points[loop->count - 1], point))
        return;
    loop->points = nw_grow(loop->points, loop->count, &loop->capacity, sizeof(NwPoint));
    loop->points[loop->count++] = point;
}

NwBox nw_region_box(const NwRegion *region) {
    NwBox box = {{INFINITY, INFINITY}, {-INFINITY, -INFINITY}};
    for (size_t k = 0; k < region->count; k++)
        for (size_t i = 0; i < region->loops[k].count; i++) {
            NwPoint p = region->loops[k].points[i];
            box.low = (NwPoint){fmin(box.low.x, p.x), fmin(box.low.y, p.y)};
            box.high = (NwPoint){fmax(box.high.x, p.x), fmax(box.high.y, p.y)};
        }
    return box;
}

/* The i-th side of a loop. */
static NwPoint side_from(const NwOutline *loop, size_t i) {
    return loop->points[i];
}

static NwPoint side_to(const NwOutline *loop, size_t i) {
    return loop->points[(i + 1) % loop->count];
}

double nw_region_area(const NwRegion *region) {
    double sum = 0;
    for (size_t k = 0; k < region->count; k++)
        for (size_t i = 0; i < region->loops[k].count; i++)
            sum += nw_point_cross(side_from(&region->loops[k], i), side_to(&region->loops[k], i));
    return sum / 2;
}

static double distance_to_side(NwPoint from, NwPoint to, NwPoint p) {
    NwPoint along = nw_point_sub(to, from), d = nw_point_sub(p, from);
    double length2 = nw_point_dot(along, along);
    double t = length2 > 0 ? fmin(1, fmax(0, nw_point_dot(d, along) / length2)) : 0;
    return nw_point_length(nw_point_sub(d, nw_point_scale(along, t)));
}

double nw_region_rim_distance(const NwRegion *region, NwPoint point) {
    double least = INFINITY;
    for (size_t k = 0; k < region->count; k++)
        for (size_t i = 0; i < region->loops[k].count; i++)
            least = fmin(least, distance_to_side(side_from(&region->loops[k], i),
                                                 side_to(&region->loops[k], i), point));
    return least;
}

bool nw_region_holds(const NwRegion *region, NwPoint point, double margin) {
    bool in = false;
    for (size_t k = 0; k < region->count; k++)
        for (size_t i = 0; i < region->loops[k].count; i++) {
            NwPoint a = side_from(&region->loops[k], i), b = side_to(&region->loops[k], i);
            if ((a.y > point.y) == (b.y > point.y))
                continue;
            double side = nw_point_cross(nw_point_sub(b, a), nw_point_sub(point, a));
            in ^= (side > 0) == (b.y > a.y);
        }
    return in && nw_region_rim_distance(region, point) > margin;
}

/* Whether two sides cross at a point inside both, by more than the tolerance. */
static bool sides_cross(NwPoint a, NwPoint b, NwPoint c, NwPoint d) {
    NwPoint ab = nw_point_sub(b, a), cd = nw_point_sub(d, c);
    double length_ab = nw_point_length(ab), length_cd = nw_point_length(cd);
    double c_off = nw_point_cross(ab, nw_point_sub(c, a)) / length_ab;
    double d_off = nw_point_cross(ab, nw_point_sub(d, a)) / length_ab;
    double a_off = nw_point_cross(cd, nw_point_sub(a, c)) / length_cd;
    double b_off = nw_point_cross(cd, nw_point_sub(b, c)) / length_cd;
    double e = NW_REGION_TOUCH_MM;
    return ((c_off > e && d_off < -e) || (c_off < -e && d_off > e)) &&
           ((a_off > e && b_off < -e) || (a_off < -e && b_off > e));
}

static bool rims_cross(const NwRegion *a, const NwRegion *b) {
    for (size_t k = 0; k < a->count; k++)
        for (size_t i = 0; i < a->loops[k].count; i++)
            for (size_t m = 0; m < b->count; m++)
                for (size_t j = 0; j < b->loops[m].count; j++)
                    if (sides_cross(side_from(&a->loops[k], i), side_to(&a->loops[k], i),
                                    side_from(&b->loops[m], j), side_to(&b->loops[m], j)))
                        return true;
    return false;
}

/* Whether a corner of `a`, the middle of a side, or a point just inside a side, lies in `b`. The
 * last finds a region that has all its corners and sides on the rim of the other. */
static bool reaches_into(const NwRegion *a, const NwRegion *b) {
    for (size_t k = 0; k < a->count; k++)
        for (size_t i = 0; i < a->loops[k].count; i++) {
            NwPoint from = side_from(&a->loops[k], i), to = side_to(&a->loops[k], i);
            NwPoint middle = nw_point_scale(nw_point_add(from, to), 0.5);
            NwPoint along = nw_point_sub(to, from);
            double length = nw_point_length(along);
            double step = fmin(length / 4, 8 * NW_REGION_TOUCH_MM) / length;
            NwPoint within = {middle.x - along.y * step, middle.y + along.x * step};
            if (nw_region_holds(b, from, NW_REGION_TOUCH_MM) ||
                nw_region_holds(b, middle, NW_REGION_TOUCH_MM) ||
                nw_region_holds(b, within, 2 * NW_REGION_TOUCH_MM))
                return true;
        }
    return false;
}

bool nw_region_overlap(const NwRegion *a, const NwRegion *b) {
    NwBox p = nw_region_box(a), q = nw_region_box(b);
    double e = NW_REGION_TOUCH_MM;
    if (p.high.x < q.low.x + e || q.high.x < p.low.x + e || p.high.y < q.low.y + e ||
        q.high.y < p.low.y + e)
        return false;
    return rims_cross(a, b) || reaches_into(a, b) || reaches_into(b, a);
}

bool nw_region_is_crossed(const NwRegion *region) {
    return rims_cross(region, region);
}
