/* A flat region in millimetres: an outer loop and holes, as outlines to cut.
 *
 * Overlap is judged with a tolerance of NW_REGION_TOUCH_MM: regions that touch, or that rounding
 * makes overlap by less, do not. (Nets are first laid out exactly, exact_plane.h; this judges what
 * the thickness of the card then moves, and tabs.) Ownership: `clear` frees the loops. Thread: any.
 * Cost of an overlap test: the product of the numbers of corners. */
#ifndef NW_MAKE_REGION_H
#define NW_MAKE_REGION_H

#include <stddef.h>

#include "make/exact_plane.h"

#define NW_REGION_TOUCH_MM 1e-6

typedef struct NwOutline {
    NwPoint *points;
    size_t count, capacity;
} NwOutline;

typedef struct NwRegion {
    NwOutline *loops;
    size_t count, capacity;
} NwRegion;

typedef struct NwBox {
    NwPoint low, high;
} NwBox;

void nw_region_clear(NwRegion *region);

/* Begins a new loop; points are added to the last one begun, without repeating a place. */
void nw_region_begin(NwRegion *region);
void nw_region_add(NwRegion *region, NwPoint point);

NwBox nw_region_box(const NwRegion *region);
double nw_region_area(const NwRegion *region); /* holes, running clockwise, count less */

/* Whether the point is inside by more than `margin`. */
bool nw_region_holds(const NwRegion *region, NwPoint point, double margin);

/* The distance from a point to the nearest side. */
double nw_region_rim_distance(const NwRegion *region, NwPoint point);

bool nw_region_overlap(const NwRegion *a, const NwRegion *b);

/* Whether some loop crosses itself or another: no sheet can be cut so. */
bool nw_region_is_crossed(const NwRegion *region);

static inline NwPoint nw_point_add(NwPoint a, NwPoint b) {
    return (NwPoint){a.x + b.x, a.y + b.y};
}

static inline NwPoint nw_point_sub(NwPoint a, NwPoint b) {
    return (NwPoint){a.x - b.x, a.y - b.y};
}

static inline NwPoint nw_point_scale(NwPoint a, double k) {
    return (NwPoint){k * a.x, k * a.y};
}

static inline double nw_point_dot(NwPoint a, NwPoint b) {
    return a.x * b.x + a.y * b.y;
}

static inline double nw_point_cross(NwPoint a, NwPoint b) {
    return a.x * b.y - a.y * b.x;
}

static inline double nw_point_length(NwPoint a) {
    return hypot(a.x, a.y);
}

/* Turned counter-clockwise. */
static inline NwPoint nw_point_turned(NwPoint a, double degrees) {
    double c = cos(degrees * acos(-1) / 180), s = sin(degrees * acos(-1) / 180);
    return (NwPoint){c * a.x - s * a.y, s * a.x + c * a.y};
}

#endif
