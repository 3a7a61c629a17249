#include "make/smallparts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

static const double RADIUS = NW_SMALL_PARTS_BORE_MM / 2;

/* The points of a piece about a middle, and how far the farthest is from it. */
typedef struct Cloud {
    double (*points)[3];
    double (*turned)[3];
    size_t count;
    double reach;
    NwSmallPart best;
    NwProgress *progress;
    double done; /* the share of the space that is settled */
} Cloud;

/* A part of the space of orientations: on the side of the hypercube where coordinate `side` is 1,
 * the cube about `middle` that reaches `half` each way. */
typedef struct Cube {
    int side;
    double middle[3];
    double half;
} Cube;

static void turn_points(const double (*points)[3], size_t count, const double q[4],
                        double (*turned)[3]) {
    double w = q[0], x = q[1], y = q[2], z = q[3];
    const double rows[3][3] = {{1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)},
                               {2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)},
                               {2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)}};
    for (size_t i = 0; i < count; i++)
        for (int k = 0; k < 3; k++)
            turned[i][k] =
                rows[k][0] * points[i][0] + rows[k][1] * points[i][1] + rows[k][2] * points[i][2];
}

/* How far the farthest point is from (x, y), seen from above. */
static double spread_at(const double (*p)[3], size_t count, double x, double y) {
    double most = 0;
    for (size_t i = 0; i < count; i++)
        most = fmax(most, (p[i][0] - x) * (p[i][0] - x) + (p[i][1] - y) * (p[i][1] - y));
    return sqrt(most);
}

/* The least of that over all y, for one x: a convex function of y, so thirds close in on it. */
static double spread_along(const double (*p)[3], size_t count, double x, double close) {
    double low = INFINITY, high = -INFINITY;
    for (size_t i = 0; i < count; i++) {
        low = fmin(low, p[i][1]);
        high = fmax(high, p[i][1]);
    }
    while (high - low > close) {
        double a = low + (high - low) / 3, b = high - (high - low) / 3;
        if (spread_at(p, count, x, a) < spread_at(p, count, x, b))
            high = b;
        else
            low = a;
    }
    return spread_at(p, count, x, (low + high) / 2);
}

/* By how much turned points stick out, over all shifts: at most 2 `close` more than the least.
 *
 * The floor is deep towards +x. Let the bore's middle be at x, and let the top stick out of the rim
 * by e. Then the floor is met first by the point with the least z + x, which sticks out of it by
 * (x - allowed - e) / sqrt(2); and both are equal, so that neither is worse, at
 * e = (x - allowed) / (1 + sqrt(2)). What sticks out of the wall is convex in x and e rises with x,
 * so that thirds close in on the least of the larger one. */
static double sticks_out(const double (*p)[3], size_t count, double close) {
    double top = -INFINITY, least = INFINITY, low = INFINITY, high = -INFINITY;
    for (size_t i = 0; i < count; i++) {
        top = fmax(top, p[i][2]);
        least = fmin(least, p[i][2] + p[i][0]);
        low = fmin(low, p[i][0]);
        high = fmax(high, p[i][0]);
    }
    double allowed = least - top + RADIUS + NW_SMALL_PARTS_SHALLOW_MM;
    double from = fmin(low, allowed) - RADIUS, to = high, best = INFINITY;
    while (to - from > close) {
        double x[2] = {from + (to - from) / 3, to - (to - from) / 3}, out[2];
        for (int k = 0; k < 2; k++) {
            out[k] = fmax(spread_along(p, count, x[k], close) - RADIUS,
                          (x[k] - allowed) / (1 + M_SQRT2));
            best = fmin(best, out[k]);
        }
        if (out[0] < out[1])
            to = x[1];
        else
            from = x[0];
    }
    return best;
}

/* A quick bound from below: half the width across eight directions; and what the wall on the deep
 * side and the slanted floor ask of x at once, x >= high - R - e and x <= allowed + (1 + sqrt 2) e.
 */
static double sticks_out_at_least(const double (*p)[3], size_t count) {
    double most = 0, top = -INFINITY, least = INFINITY, far = -INFINITY;
    for (int d = 0; d < 8; d++) {
        double c = cos(M_PI * d / 8), s = sin(M_PI * d / 8), low = INFINITY, high = -INFINITY;
        for (size_t i = 0; i < count; i++) {
            double at = c * p[i][0] + s * p[i][1];
            low = fmin(low, at);
            high = fmax(high, at);
        }
        most = fmax(most, high - low);
    }
    for (size_t i = 0; i < count; i++) {
        top = fmax(top, p[i][2]);
        least = fmin(least, p[i][2] + p[i][0]);
        far = fmax(far, p[i][0]);
    }
    double allowed = least - top + RADIUS + NW_SMALL_PARTS_SHALLOW_MM;
    return fmax(most / 2 - RADIUS, (far - RADIUS - allowed) / (2 + M_SQRT2));
}

double nw_small_part_sticks_out(const double (*points)[3], size_t count, const double turn[4]) {
    double(*turned)[3] = nw_alloc(count, sizeof *turned);
    turn_points(points, count, turn, turned);
    double out = sticks_out((const double(*)[3])turned, count, 1e-5);
    free(turned);
    return out;
}

/* How far a vertex can be moved within a cube: the angle between two rotations is twice that of
 * their quaternions, and seen from the middle of the hypercube a step on its side at the distance D
 * is an angle of at most the step over D. */
static double reach_within(const Cloud *cloud, const Cube *cube) {
    double out = 0, step = sqrt(3) * cube->half;
    for (int k = 0; k < 3; k++)
        out += cube->middle[k] * cube->middle[k];
    double nearest = fmax(0, sqrt(out) - step);
    double angle = fmin(M_PI, 2 * step / sqrt(1 + nearest * nearest));
    return 2 * sin(angle / 2) * cloud->reach;
}

static void middle_of(const Cube *cube, double turn[4]) {
    double size = 1;
    for (int k = 0; k < 3; k++)
        size += cube->middle[k] * cube->middle[k];
    for (int k = 0, at = 0; k < 4; k++)
        turn[k] = (k == cube->side ? 1 : cube->middle[at++]) / sqrt(size);
}

static void divide(Cloud *cloud, const Cube *cube);

/* Nothing within the cube fits: the four sides of the hypercube are the whole. */
static void settle(Cloud *cloud, const Cube *cube) {
    cloud->done += cube->half * cube->half * cube->half / 4;
}

/* Settles a cube, or divides it. */
static void try_cube(Cloud *cloud, Cube cube) {
    NwSmallPart *best = &cloud->best;
    if (best->fits)
        return;
    gboolean wanted = nw_progress_tell(cloud->progress, cloud->done);
    if (!wanted || best->steps++ >= NW_SMALL_PARTS_STEPS_MAX) {
        best->settled = false;
        best->fits = true;
        return;
    }
    double turn[4], within = reach_within(cloud, &cube);
    middle_of(&cube, turn);
    turn_points((const double(*)[3])cloud->points, cloud->count, turn, cloud->turned);
    const double(*turned)[3] = (const double(*)[3])cloud->turned;
    double bound = sticks_out_at_least(turned, cloud->count);
    if (bound > within) {
        settle(cloud, &cube);
        return;
    }
    if (bound > NW_SMALL_PARTS_SLACK_MM && bound < 0.7 * within) { /* nothing to be gained yet */
        divide(cloud, &cube);
        return;
    }
    double close = fmax(1e-4, within / 10);
    double out = sticks_out(turned, cloud->count, close);
    if (out > NW_SMALL_PARTS_SLACK_MM && out < NW_SMALL_PARTS_SLACK_MM + 2 * close) {
        close = 1e-4;
        out = sticks_out(turned, cloud->count, close);
    }
    if (out < best->sticks_out_mm) {
        best->sticks_out_mm = out;
        memcpy(best->turn, turn, sizeof turn);
        best->fits = out <= NW_SMALL_PARTS_SLACK_MM;
    }
    if (out - 2 * close > within)
        settle(cloud, &cube);
    else
        divide(cloud, &cube);
}

static void divide(Cloud *cloud, const Cube *cube) {
    for (int child = 0; child < 8; child++) {
        Cube part = {cube->side, {0, 0, 0}, cube->half / 2};
        for (int k = 0; k < 3; k++)
            part.middle[k] = cube->middle[k] + (child >> k & 1 ? part.half : -part.half);
        try_cube(cloud, part);
    }
}

NwSmallPart nw_small_part_try(const NwFacets *facets, NwProgress *progress) {
    double low[3], high[3];
    nw_facets_bounds(facets, low, high);
    Cloud cloud = {.points = nw_alloc(facets->point_count, sizeof *cloud.points),
                   .turned = nw_alloc(facets->point_count, sizeof *cloud.turned),
                   .count = facets->point_count,
                   .best = {.settled = true, .sticks_out_mm = INFINITY},
                   .progress = progress};
    for (size_t i = 0; i < cloud.count; i++) {
        double far = 0;
        for (int k = 0; k < 3; k++) {
            cloud.points[i][k] = facets->points[i][k] - (low[k] + high[k]) / 2;
            far += cloud.points[i][k] * cloud.points[i][k];
        }
        cloud.reach = fmax(cloud.reach, sqrt(far));
    }
    for (int side = 0; side < 4; side++)
        try_cube(&cloud, (Cube){side, {0, 0, 0}, 1});
    free(cloud.points);
    free(cloud.turned);
    return cloud.best;
}
