#include "make/mesh/flips.h"

#include <math.h>
#include <stdbool.h>

/* Of the sine that decides: what is nearer to 0 is taken for a circle. */
static const double CIRCLE = 1e-9;

typedef struct Angle {
    double cosine, sine; /* both times the lengths of the two sides */
    double sides;        /* the product of those */
} Angle;

/* The angle at `apex` from a to b, seen from outside. */
static Angle angle_at(const double (*points)[3], NwVec normal, size_t apex, size_t a, size_t b) {
    double u[3], v[3], cosine = 0, sine = 0, u2 = 0, v2 = 0;
    for (int k = 0; k < 3; k++) {
        u[k] = points[a][k] - points[apex][k];
        v[k] = points[b][k] - points[apex][k];
        cosine += u[k] * v[k];
        u2 += u[k] * u[k];
        v2 += v[k] * v[k];
    }
    for (int k = 0; k < 3; k++)
        sine += nw_vec_get(normal, k) *
                (u[(k + 1) % 3] * v[(k + 2) % 3] - u[(k + 2) % 3] * v[(k + 1) % 3]);
    return (Angle){cosine, sine / sqrt(nw_vec_dot(normal, normal)), sqrt(u2 * v2)};
}

/* Whether the angles at c and d, to either side of the diagonal from a to b, come to more than 180
 * degrees: whether the sine of their sum is below 0. */
static bool wants_flip(const double (*points)[3], NwVec normal, size_t a, size_t b, size_t c,
                       size_t d) {
    Angle left = angle_at(points, normal, c, a, b), right = angle_at(points, normal, d, b, a);
    return left.cosine * right.sine + left.sine * right.cosine < -CIRCLE * left.sides * right.sides;
}

/* The side of a triangle that runs from a to b; 3 if none does. */
static int side_along(const size_t triangle[3], size_t a, size_t b) {
    int k = 0;
    while (k < 3 && (triangle[k] != a || triangle[(k + 1) % 3] != b))
        k++;
    return k;
}

/* Flips the diagonal that two triangles share, if there is one and it wants to be. */
static bool flip(const double (*points)[3], NwVec normal, size_t first[3], size_t second[3]) {
    for (int k = 0; k < 3; k++) {
        size_t a = first[k], b = first[(k + 1) % 3], c = first[(k + 2) % 3];
        int back = side_along(second, b, a);
        if (back == 3)
            continue;
        size_t d = second[(back + 2) % 3];
        if (!wants_flip(points, normal, a, b, c, d))
            continue;
        first[0] = c;
        first[1] = a;
        first[2] = d;
        second[0] = d;
        second[1] = b;
        second[2] = c;
        return true;
    }
    return false;
}

void nw_flips_make(const double (*points)[3], NwVec normal, NwProgress *progress,
                   size_t (*triangles)[3], size_t count) {
    bool flipped;
    do {
        flipped = false;
        for (size_t i = 0; i < count && !nw_progress_is_stopped(progress); i++)
            for (size_t k = i + 1; k < count; k++)
                flipped = flip(points, normal, triangles[i], triangles[k]) || flipped;
    } while (flipped);
}
