/* Exact points of an unfolded surface.
 *
 * Take half of half a face diagonal, sqrt(2)/4 of a cell, as the unit. In a plane x = k the face
 * diagonals are (+-4, 0) and (0, +-4) and the cube axes (+-2, +-2); in a plane x + y + z = k the
 * diagonals are turned by 60 degrees from one to the next. Two faces of the lattice always meet
 * along a diagonal or a cube axis, and a cube axis lies in planes of the first kind only. So, from
 * face to face, an unfolded surface turns by multiples of 30 degrees, and all its vertices have
 *
 *     x = p + q * sqrt(3),  y = r + s * sqrt(3),  with p, q, r, s whole:
 *
 * they are halves of whole combinations of the twelfth roots of unity. Whether a point lies to the
 * left of a line is the sign of such a number, found by comparing p^2 with 3 q^2: no rounding.
 * Room: parts of up to 10^4 keep the squares of cross products within 64 bits.
 * Thread: any; nothing to own. */
#ifndef NW_MAKE_EXACT_PLANE_H
#define NW_MAKE_EXACT_PLANE_H

#include <math.h>
#include <stdbool.h>

/* p + q * sqrt(3) */
typedef struct NwRoot3 {
    long p, q;
} NwRoot3;

typedef struct NwExactPoint {
    NwRoot3 x, y;
} NwExactPoint;

/* A point in millimetres, y upwards. */
typedef struct NwPoint {
    double x, y;
} NwPoint;

/* First a turn by so many twelfths of a full one, then a shift. */
typedef struct NwPose {
    int twelfths;
    NwExactPoint shift;
} NwPose;

static inline NwRoot3 nw_root3_add(NwRoot3 a, NwRoot3 b) {
    return (NwRoot3){a.p + b.p, a.q + b.q};
}

static inline NwRoot3 nw_root3_sub(NwRoot3 a, NwRoot3 b) {
    return (NwRoot3){a.p - b.p, a.q - b.q};
}

static inline NwRoot3 nw_root3_mul(NwRoot3 a, NwRoot3 b) {
    return (NwRoot3){a.p * b.p + 3 * a.q * b.q, a.p * b.q + a.q * b.p};
}

static inline int nw_root3_sign(NwRoot3 a) {
    if (a.p >= 0 && a.q >= 0)
        return a.p > 0 || a.q > 0;
    if (a.p <= 0 && a.q <= 0)
        return -1;
    long difference = a.p * a.p - 3 * a.q * a.q;
    return (a.p > 0) == (difference > 0) ? 1 : -1;
}

static inline NwExactPoint nw_exact_point(long xp, long xq, long yp, long yq) {
    return (NwExactPoint){{xp, xq}, {yp, yq}};
}

static inline NwExactPoint nw_exact_point_add(NwExactPoint a, NwExactPoint b) {
    return (NwExactPoint){nw_root3_add(a.x, b.x), nw_root3_add(a.y, b.y)};
}

static inline NwExactPoint nw_exact_point_sub(NwExactPoint a, NwExactPoint b) {
    return (NwExactPoint){nw_root3_sub(a.x, b.x), nw_root3_sub(a.y, b.y)};
}

static inline bool nw_exact_point_equal(NwExactPoint a, NwExactPoint b) {
    return a.x.p == b.x.p && a.x.q == b.x.q && a.y.p == b.y.p && a.y.q == b.y.q;
}

static inline NwRoot3 nw_exact_point_cross(NwExactPoint a, NwExactPoint b) {
    return nw_root3_sub(nw_root3_mul(a.x, b.y), nw_root3_mul(a.y, b.x));
}

static inline NwRoot3 nw_exact_point_dot(NwExactPoint a, NwExactPoint b) {
    return nw_root3_add(nw_root3_mul(a.x, b.x), nw_root3_mul(a.y, b.y));
}

/* Turned counter-clockwise by so many times 30 degrees. */
static inline NwExactPoint nw_exact_point_turned(NwExactPoint a, int twelfths) {
    for (; twelfths > 0; twelfths--)
        a = nw_exact_point((3 * a.x.q - a.y.p) / 2, (a.x.p - a.y.q) / 2, (a.x.p + 3 * a.y.q) / 2,
                           (a.x.q + a.y.p) / 2);
    return a;
}

static inline NwExactPoint nw_exact_point_posed(NwExactPoint a, NwPose pose) {
    return nw_exact_point_add(nw_exact_point_turned(a, pose.twelfths), pose.shift);
}

static inline NwPoint nw_exact_point_mm(NwExactPoint a, double cell_mm) {
    double unit = sqrt(2) / 4 * cell_mm, root = sqrt(3);
    return (NwPoint){((double)a.x.p + (double)a.x.q * root) * unit,
                     ((double)a.y.p + (double)a.y.q * root) * unit};
}

#endif
