#include "view/pick.h"

#include <math.h>
#include <stdint.h>

#include "lattice/connect.h"

enum { ORIGIN_BITS = 20, WAY_BITS = 26 };
static const int64_t origin_unit = INT64_C(1) << ORIGIN_BITS;

/* A rounded ray: origin in units of 2^-20 cell, direction with a largest component of 2^26. */
typedef struct Line {
    int64_t origin[3], way[3];
} Line;

/* Where the line meets a plane: (distance - normal . (e, e^2, e^3)) / slope, slope not 0. */
typedef struct Crossing {
    int64_t distance, slope;
    NwVec normal;
} Crossing;

static int64_t dot(NwVec n, const int64_t v[3]) {
    return n.x * v[0] + n.y * v[1] + n.z * v[2];
}

/* Sign of a - b. Slopes are positive, so fractions are compared by cross products, then by the
 * coefficients of e, e^2, e^3. |distance| < 2^34 and slope < 2^28, so nothing overflows. */
static int compare(const Crossing *a, const Crossing *b) {
    int64_t difference = a->distance * b->slope - b->distance * a->slope;
    for (int axis = 0; axis < 3 && !difference; axis++)
        difference =
            nw_vec_get(b->normal, axis) * a->slope - nw_vec_get(a->normal, axis) * b->slope;
    return (difference > 0) - (difference < 0);
}

/* The plane of a face with its normal outwards, as seen along the line. */
static Crossing cross_face(const Line *line, NwPart part, int face) {
    NwVec t[3];
    nw_part_face(part, face, t);
    Crossing c;
    c.normal = nw_vec_cross(nw_vec_sub(t[1], t[0]), nw_vec_sub(t[2], t[0]));
    c.slope = dot(c.normal, line->way);
    c.distance = nw_vec_dot(c.normal, t[0]) * origin_unit - dot(c.normal, line->origin);
    return c;
}

/* Whether the shifted origin lies inside the part. */
static bool holds_origin(const Line *line, NwPart part) {
    for (int face = 0; face < 4; face++) {
        Crossing c = cross_face(line, part, face);
        int64_t inside = c.distance;
        for (int axis = 0; axis < 3 && !inside; axis++)
            inside = -nw_vec_get(c.normal, axis);
        if (inside < 0)
            return false;
    }
    return true;
}

static NwPart part_at_origin(const Line *line) {
    NwPart part = {{0, 0, 0}, 0};
    for (int axis = 0; axis < 3; axis++) /* an arithmetic shift: the floor */
        nw_vec_set(&part.cell, axis, (int)(line->origin[axis] >> ORIGIN_BITS));
    for (part.bit = 1; part.bit < NW_PARTS; part.bit++)
        if (holds_origin(line, part))
            return part;
    part.bit = 0;
    return part;
}

/* Cuts the ray down to where it may be inside the bounds, a little early. False if it misses. */
static bool clip(const double origin[3], const double way[3], NwBounds bounds, double *from) {
    double enter = 0, leave = INFINITY;
    for (int axis = 0; axis < 3; axis++) {
        double low = nw_vec_get(bounds.low, axis) - 0.01, high = nw_vec_get(bounds.high, axis);
        high += 0.01;
        if (fabs(way[axis]) < 1e-12) {
            if (origin[axis] < low || origin[axis] > high)
                return false;
            continue;
        }
        double a = (low - origin[axis]) / way[axis], b = (high - origin[axis]) / way[axis];
        enter = fmax(enter, fmin(a, b));
        leave = fmin(leave, fmax(a, b));
    }
    *from = enter;
    return enter <= leave;
}

static Line round_ray(const double origin[3], const double way[3], double from, double *unit) {
    double largest = fmax(fabs(way[0]), fmax(fabs(way[1]), fabs(way[2])));
    Line line;
    for (int axis = 0; axis < 3; axis++) {
        line.origin[axis] = llrint(ldexp(origin[axis] + from * way[axis], ORIGIN_BITS));
        line.way[axis] = llrint(ldexp(way[axis] / largest, WAY_BITS));
    }
    *unit = ldexp(1, WAY_BITS - ORIGIN_BITS) / largest; /* of distance / slope, in cells */
    return line;
}

/* Whether the walk has left the bounds for good. */
static bool is_past(const Line *line, NwVec cell, NwBounds bounds) {
    for (int axis = 0; axis < 3; axis++) {
        int at = nw_vec_get(cell, axis);
        if ((at < nw_vec_get(bounds.low, axis) && line->way[axis] <= 0) ||
            (at >= nw_vec_get(bounds.high, axis) && line->way[axis] >= 0))
            return true;
    }
    return false;
}

/* The face through which the line leaves a part that it crosses. */
static int leaving_face(const Line *line, NwPart part, Crossing *leaving) {
    int best = -1;
    for (int face = 0; face < 4; face++) {
        Crossing c = cross_face(line, part, face);
        if (c.slope > 0 && (best < 0 || compare(&c, leaving) < 0)) {
            *leaving = c;
            best = face;
        }
    }
    return best;
}

static int face_towards(NwPart part, NwPart neighbour) {
    for (int face = 0; face < 4; face++) {
        NwPart across = nw_part_across(part, face);
        if (across.bit == neighbour.bit && nw_vec_equal(across.cell, neighbour.cell))
            return face;
    }
    return -1;
}

bool nw_pick(const NwRay *ray, NwBounds bounds, const double offset[3], NwPickPresent *present,
             const void *data, NwPick *pick) {
    double origin[3], from, unit;
    for (int axis = 0; axis < 3; axis++) {
        origin[axis] = ray->origin[axis] - (offset ? offset[axis] : 0);
        if (!isfinite(origin[axis]) || !isfinite(ray->way[axis]))
            return false;
    }
    if (nw_vec_equal(bounds.low, bounds.high) || !clip(origin, ray->way, bounds, &from))
        return false;
    Line line = round_ray(origin, ray->way, from, &unit);
    if (!line.way[0] && !line.way[1] && !line.way[2])
        return false;
    NwPart part = part_at_origin(&line);
    *pick = (NwPick){.face = -1, .neighbour = part, .distance = from};
    while (!present(part, data)) {
        Crossing leaving = {0};
        int face = leaving_face(&line, part, &leaving);
        if (face < 0 || is_past(&line, part.cell, bounds))
            return false;
        pick->neighbour = part;
        part = nw_part_across(part, face);
        pick->face = face_towards(part, pick->neighbour);
        pick->distance = from + unit * (double)leaving.distance / (double)leaving.slope;
    }
    pick->part = part;
    return true;
}

static bool is_in_solid(NwPart part, const void *data) {
    return nw_solid_has(data, part);
}

bool nw_pick_solid(const NwRay *ray, const NwSolid *solid, const double offset[3], NwPick *pick) {
    return nw_pick(ray, nw_solid_bounds(solid), offset, is_in_solid, solid, pick);
}
