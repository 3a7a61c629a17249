#include "make/safety/small_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { REASONS = 48, MIXES = 4, PARTS = 10 };

/* A turn, in radians, that moves no vertex of a piece by more than the slack. */
static const double FIRST_TURN = 0.2, LAST_TURN = 5e-4;

/* A reason that is this many times farther below 0 in a cube than above at its middle is not worth
 * mixing: the cube is too large. */
static const double HOPELESS = 30;

/* A part of the space of orientations: on the side of the hypercube where coordinate `side` is 1,
 * the cube about `middle` that reaches `half` each way. */
typedef struct Cube {
    int side;
    double middle[3];
    double half;
} Cube;

typedef struct Search {
    double (*points)[3]; /* about the middle of the piece */
    double (*turned)[3];
    size_t count;
    NwSmallPartsCylinderReason reasons[REASONS]; /* the one that held last comes first */
    int reason_count;
    NwSmallPart best;
    NwProgress *progress;
    double done; /* the share of the space that is settled */
} Search;

/* ---- single orientations --------------------------------------------------------------------- */

/* By how much the piece sticks out; `turn` may have any length. */
static double try_turn(Search *search, const double turn[4], NwSmallPartsCylinderReason *reason) {
    double unit[4], size = 0;
    for (int i = 0; i < 4; i++)
        size += turn[i] * turn[i];
    for (int i = 0; i < 4; i++)
        unit[i] = turn[i] / sqrt(size);
    double out = nw_small_parts_cylinder_try((const double(*)[3])search->points, search->count,
                                             unit, search->turned, reason);
    NwSmallPart *best = &search->best;
    best->work += 4 * (long)search->count;
    if (out < best->sticks_out_mm) {
        best->sticks_out_mm = out;
        memcpy(best->turn, unit, sizeof unit);
        best->fits = out <= NW_SMALL_PARTS_SLACK_MM;
    }
    return out;
}

/* Turned farther, by twice the vector's length in radians. */
static void turn_on(const double turn[4], double x, double y, double z, double on[4]) {
    double w = turn[0], a = turn[1], b = turn[2], c = turn[3];
    on[0] = w - x * a - y * b - z * c;
    on[1] = a + x * w + y * c - z * b;
    on[2] = b + y * w + z * a - x * c;
    on[3] = c + z * w + x * b - y * a;
}

/* Turns the best orientation about edges and diagonals of a cube for as long as that helps. */
static void improve(Search *search) {
    static const double axes[7][3] = {{1, 0, 0},  {0, 1, 0},  {0, 0, 1}, {1, 1, 1},
                                      {-1, 1, 1}, {1, -1, 1}, {1, 1, -1}};
    double angle = FIRST_TURN;
    while (angle > LAST_TURN && !search->best.fits) {
        double from[4], before = search->best.sticks_out_mm;
        memcpy(from, search->best.turn, sizeof from);
        for (int axis = 0; axis < 7; axis++)
            for (int sign = -1; sign < 2; sign += 2) {
                double on[4], by = sign * angle / 2;
                turn_on(from, by * axes[axis][0], by * axes[axis][1], by * axes[axis][2], on);
                try_turn(search, on, NULL);
            }
        if (search->best.sticks_out_mm >= before)
            angle /= 2;
    }
}

static double try_and_improve(Search *search, const double turn[4],
                              NwSmallPartsCylinderReason *reason) {
    double before = search->best.sticks_out_mm, out = try_turn(search, turn, reason);
    if (out < before)
        improve(search);
    return out;
}

/* ---- cubes of orientations ------------------------------------------------------------------- */

static void middle_of(const Cube *cube, double turn[4]) {
    for (int k = 0, at = 0; k < 4; k++)
        turn[k] = k == cube->side ? 1 : cube->middle[at++];
}

/* How the form rises at the middle along the three axes of the cube. Returns what it is there. */
static double slope_of(const NwSmallPartsCylinderReason *reason, const Cube *cube,
                       double slope[3]) {
    double turn[4], row[4], value = 0;
    middle_of(cube, turn);
    for (int i = 0; i < 4; i++) {
        row[i] = 0;
        for (int k = 0; k < 4; k++)
            row[i] += reason->form[i][k] * turn[k];
        value += turn[i] * row[i];
    }
    for (int k = 0, at = 0; k < 4; k++)
        if (k != cube->side)
            slope[at++] = 2 * row[k];
    return value;
}

/* A bound from below of the form on the cube: above 0, the piece sticks out all over it. */
static double least_of(const NwSmallPartsCylinderReason *reason, const Cube *cube) {
    double slope[3], least = slope_of(reason, cube, slope), half = cube->half;
    for (int k = 0; k < 3; k++)
        least -= fabs(slope[k]) * half;
    for (int k = 0; k < 4; k++)
        for (int l = k; l < 4; l++)
            if (k != cube->side && l != cube->side)
                least -= half * half *
                         (k == l ? fmax(0, -reason->form[k][k]) : 2 * fabs(reason->form[k][l]));
    return least;
}

static void keep_reason(Search *search, const NwSmallPartsCylinderReason *reason) {
    if (search->reason_count < REASONS)
        search->reason_count++;
    memmove(&search->reasons[1], &search->reasons[0],
            (size_t)(search->reason_count - 1) * sizeof *reason);
    search->reasons[0] = *reason;
}

static bool is_settled_by_old(Search *search, const Cube *cube) {
    for (int i = 0; i < search->reason_count; i++) {
        search->best.work++;
        if (least_of(&search->reasons[i], cube) <= 0)
            continue;
        NwSmallPartsCylinderReason reason = search->reasons[i];
        memmove(&search->reasons[1], &search->reasons[0], (size_t)i * sizeof reason);
        search->reasons[0] = reason;
        return true;
    }
    return false;
}

/* The corner where the form is least, as far as its slope tells. */
static void weakest_of(const NwSmallPartsCylinderReason *reason, const Cube *cube, double turn[4]) {
    double slope[3];
    Cube corner = *cube;
    slope_of(reason, cube, slope);
    for (int k = 0; k < 3; k++)
        corner.middle[k] -= slope[k] > 0 ? cube->half : -cube->half;
    middle_of(&corner, turn);
}

static NwSmallPartsCylinderReason mean_of(const NwSmallPartsCylinderReason *a,
                                          const NwSmallPartsCylinderReason *b, double share) {
    NwSmallPartsCylinderReason mean;
    for (int i = 0; i < 4; i++)
        for (int k = 0; k < 4; k++)
            mean.form[i][k] = (1 - share) * a->form[i][k] + share * b->form[i][k];
    return mean;
}

/* Mixes in as much of another as helps most. Returns the bound. */
static double mix(Search *search, NwSmallPartsCylinderReason *reason,
                  const NwSmallPartsCylinderReason *other, const Cube *cube) {
    NwSmallPartsCylinderReason best = *reason;
    double most = least_of(reason, cube);
    search->best.work += PARTS;
    for (int part = 1; part <= PARTS; part++) {
        NwSmallPartsCylinderReason mean = mean_of(reason, other, (double)part / PARTS);
        double least = least_of(&mean, cube);
        if (least > most) {
            most = least;
            best = mean;
        }
    }
    *reason = best;
    return most;
}

static bool is_settled_by_new(Search *search, const Cube *cube) {
    double turn[4];
    NwSmallPartsCylinderReason reason, other;
    middle_of(cube, turn);
    double out = try_and_improve(search, turn, &reason), least = least_of(&reason, cube);
    for (int i = 0; i < MIXES && least <= 0 && least > -HOPELESS * out && !search->best.fits; i++) {
        weakest_of(&reason, cube, turn);
        try_and_improve(search, turn, &other);
        double better = mix(search, &reason, &other, cube);
        if (better <= least)
            break;
        least = better;
    }
    if (least > 0)
        keep_reason(search, &reason);
    return least > 0;
}

static bool is_to_stop(Search *search) {
    NwSmallPart *best = &search->best;
    if (nw_progress_tell(search->progress, search->done) && best->work < NW_SMALL_PARTS_WORK_MAX)
        return false;
    best->settled = false;
    best->fits = true;
    return true;
}

/* Settles a cube, or divides it. The four sides of the hypercube are the whole. */
static void try_cube(Search *search, Cube cube) {
    if (search->best.fits || is_to_stop(search))
        return;
    search->best.cubes++;
    if (is_settled_by_old(search, &cube) || is_settled_by_new(search, &cube)) {
        search->done += cube.half * cube.half * cube.half / 4;
        return;
    }
    for (int child = 0; child < 8; child++) {
        Cube part = {cube.side, {0, 0, 0}, cube.half / 2};
        for (int k = 0; k < 3; k++)
            part.middle[k] = cube.middle[k] + (child >> k & 1 ? part.half : -part.half);
        try_cube(search, part);
    }
}

NwSmallPart nw_small_part_try(const NwFacets *facets, NwProgress *progress) {
    double low[3], high[3];
    nw_facets_bounds(facets, low, high);
    Search search = {.points = nw_alloc(facets->point_count, sizeof *search.points),
                     .turned = nw_alloc(facets->point_count, sizeof *search.turned),
                     .count = facets->point_count,
                     .best = {.settled = true, .sticks_out_mm = INFINITY},
                     .progress = progress};
    for (size_t i = 0; i < search.count; i++)
        for (int k = 0; k < 3; k++)
            search.points[i][k] = facets->points[i][k] - (low[k] + high[k]) / 2;
    for (int side = 0; side < 4; side++)
        try_cube(&search, (Cube){side, {0, 0, 0}, 1});
    free(search.points);
    free(search.turned);
    return search.best;
}
