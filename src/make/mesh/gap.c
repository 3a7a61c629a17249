#include "make/mesh/gap.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

typedef struct Box {
    double low[3], high[3];
} Box;

static double dot(const double a[3], const double b[3]) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

static void sub(const double a[3], const double b[3], double out[3]) {
    for (int k = 0; k < 3; k++)
        out[k] = a[k] - b[k];
}

static void cross(const double a[3], const double b[3], double out[3]) {
    for (int k = 0; k < 3; k++)
        out[k] = a[(k + 1) % 3] * b[(k + 2) % 3] - a[(k + 2) % 3] * b[(k + 1) % 3];
}

static double clamp(double t) {
    return t < 0 ? 0 : t > 1 ? 1 : t;
}

/* Squared distance of the segments p1-q1 and p2-q2. */
static double segment_gap2(const double p1[3], const double q1[3], const double p2[3],
                           const double q2[3]) {
    double d1[3], d2[3], r[3], s, t, apart[3];
    sub(q1, p1, d1);
    sub(q2, p2, d2);
    sub(p1, p2, r);
    double a = dot(d1, d1), e = dot(d2, d2), f = dot(d2, r), c = dot(d1, r), b = dot(d1, d2);
    double denominator = a * e - b * b;
    s = denominator > 1e-12 * a * e ? clamp((b * f - c * e) / denominator) : 0;
    t = (b * s + f) / e;
    if (t < 0 || t > 1) {
        t = clamp(t);
        s = clamp((b * t - c) / a);
    }
    for (int k = 0; k < 3; k++)
        apart[k] = r[k] + d1[k] * s - d2[k] * t;
    return dot(apart, apart);
}

/* Whether p lies over the triangle, along its normal n: on the inner side of all three edges. */
static bool is_over(const double p[3], double t[3][3], const double n[3]) {
    for (int k = 0; k < 3; k++) {
        double along[3], to[3], side[3];
        sub(t[(k + 1) % 3], t[k], along);
        sub(p, t[k], to);
        cross(along, to, side);
        if (dot(side, n) < 0)
            return false;
    }
    return true;
}

/* How near corners of `a` come to the inner part of `b`; 0 if an edge of `a` goes through it. */
static double corner_gap2(double a[3][3], double b[3][3], double best) {
    double u[3], v[3], n[3], height[3];
    sub(b[1], b[0], u);
    sub(b[2], b[0], v);
    cross(u, v, n);
    double n2 = dot(n, n);
    for (int i = 0; i < 3; i++) {
        double to[3];
        sub(a[i], b[0], to);
        height[i] = dot(to, n);
        if (height[i] * height[i] / n2 < best && is_over(a[i], b, n))
            best = height[i] * height[i] / n2;
    }
    for (int i = 0; i < 3; i++) {
        int k = (i + 1) % 3;
        if (height[i] * height[k] >= 0)
            continue;
        double share = height[i] / (height[i] - height[k]), p[3];
        for (int axis = 0; axis < 3; axis++)
            p[axis] = a[i][axis] + share * (a[k][axis] - a[i][axis]);
        if (is_over(p, b, n))
            return 0;
    }
    return best;
}

static double triangle_gap2(double a[3][3], double b[3][3]) {
    double best = INFINITY;
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++)
            best = fmin(best, segment_gap2(a[i], a[(i + 1) % 3], b[k], b[(k + 1) % 3]));
    best = corner_gap2(a, b, best);
    return corner_gap2(b, a, best);
}

double nw_triangle_gap(double a[3][3], double b[3][3]) {
    return sqrt(triangle_gap2(a, b));
}

/* Whether p lies within the prism that t sweeps along `way`. */
static bool is_swept(const double p[3], double t[3][3], const double way[3]) {
    double u[3], v[3], n[3], to[3], foot[3];
    sub(t[1], t[0], u);
    sub(t[2], t[0], v);
    cross(u, v, n);
    double across = dot(way, n);
    if (across * across < 1e-18 * dot(way, way) * dot(n, n))
        return false;
    sub(p, t[0], to);
    double share = dot(to, n) / across;
    if (share <= 0 || share >= 1)
        return false;
    for (int k = 0; k < 3; k++)
        foot[k] = p[k] - share * way[k];
    return is_over(foot, t, n);
}

static double swept_gap2(double t[3][3], const double way[3], double other[3][3]) {
    double best = triangle_gap2(t, other), end[3][3];
    if (dot(way, way) == 0)
        return best;
    if (is_swept(other[0], t, way))
        return 0;
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++)
            end[i][k] = t[i][k] + way[k];
    best = fmin(best, triangle_gap2(end, other));
    for (int i = 0; i < 3; i++) {
        int k = (i + 1) % 3;
        double halves[2][3][3], u[3], n[3];
        sub(t[k], t[i], u);
        cross(u, way, n);
        if (dot(n, n) < 1e-18 * dot(u, u) * dot(way, way)) /* the edge slides along itself */
            continue;
        memcpy(halves[0][0], t[i], sizeof t[i]);
        memcpy(halves[0][1], t[k], sizeof t[k]);
        memcpy(halves[0][2], end[k], sizeof end[k]);
        memcpy(halves[1][0], t[i], sizeof t[i]);
        memcpy(halves[1][1], end[k], sizeof end[k]);
        memcpy(halves[1][2], end[i], sizeof end[i]);
        for (int h = 0; h < 2; h++)
            best = fmin(best, triangle_gap2(halves[h], other));
    }
    return best;
}

static void corners_of(const NwFacets *facets, size_t i, const double shift[3], double out[3][3]) {
    for (int v = 0; v < 3; v++)
        for (int k = 0; k < 3; k++)
            out[v][k] = facets->points[facets->facets[i].points[v]][k] + shift[k];
}

/* The box of a triangle and of what it sweeps. */
static Box box_of(double t[3][3], const double way[3]) {
    Box box;
    for (int k = 0; k < 3; k++) {
        box.low[k] = fmin(t[0][k], fmin(t[1][k], t[2][k])) + fmin(0, way[k]);
        box.high[k] = fmax(t[0][k], fmax(t[1][k], t[2][k])) + fmax(0, way[k]);
    }
    return box;
}

static double box_gap2(const Box *a, const Box *b) {
    double sum = 0;
    for (int k = 0; k < 3; k++) {
        double apart = fmax(0, fmax(a->low[k] - b->high[k], b->low[k] - a->high[k]));
        sum += apart * apart;
    }
    return sum;
}

static void tell(NwNear *near, double gap2, double a[3][3], double b[3][3]) {
    near->mm = sqrt(gap2);
    for (int k = 0; k < 3; k++) {
        near->at[0][k] = (a[0][k] + a[1][k] + a[2][k]) / 3;
        near->at[1][k] = (b[0][k] + b[1][k] + b[2][k]) / 3;
    }
}

bool nw_facets_nearer(const NwFacets *moving, const NwFacets *resting, const double from_mm[3],
                      const double way_mm[3], NwNear *near) {
    static const double nowhere[3] = {0, 0, 0};
    double(*other)[3][3] = nw_alloc(resting->facet_count, sizeof *other);
    Box *boxes = nw_alloc(resting->facet_count, sizeof *boxes);
    bool nearer = false;
    for (size_t i = 0; i < resting->facet_count; i++) {
        corners_of(resting, i, nowhere, other[i]);
        boxes[i] = box_of(other[i], nowhere);
    }
    for (size_t i = 0; i < moving->facet_count && !nw_progress_is_stopped(near->progress); i++) {
        double t[3][3];
        corners_of(moving, i, from_mm, t);
        Box box = box_of(t, way_mm);
        for (size_t k = 0; k < resting->facet_count; k++) {
            if (box_gap2(&box, &boxes[k]) >= near->mm * near->mm)
                continue;
            double gap2 = swept_gap2(t, way_mm, other[k]);
            if (gap2 >= near->mm * near->mm)
                continue;
            tell(near, gap2, t, other[k]);
            nearer = true;
        }
    }
    free(other);
    free(boxes);
    return nearer;
}

/* Two facets that share vertices: how near the rest of one comes to the other. With one shared
 * vertex, the edge across from it in each; with two, only a fold flat onto itself is a fault. */
static double sharing_gap2(const NwFacets *facets, size_t i, size_t k, int shared) {
    static const double nowhere[3] = {0, 0, 0};
    double t[2][3][3], gap2 = INFINITY;
    size_t which[2] = {i, k};
    corners_of(facets, i, nowhere, t[0]);
    corners_of(facets, k, nowhere, t[1]);
    for (int w = 0; w < 2; w++)
        for (int v = 0; v < 3; v++) {
            const size_t *own = facets->facets[which[w]].points;
            const size_t *other = facets->facets[which[1 - w]].points;
            size_t a = own[(v + 1) % 3], b = own[(v + 2) % 3];
            bool alone = true; /* whether edge v+1 - v+2 has no shared end */
            for (int o = 0; o < 3; o++)
                alone = alone && other[o] != a && other[o] != b;
            if (!alone || shared > 1)
                continue;
            double edge[3][3] = {
                {t[w][(v + 1) % 3][0], t[w][(v + 1) % 3][1], t[w][(v + 1) % 3][2]},
                {t[w][(v + 2) % 3][0], t[w][(v + 2) % 3][1], t[w][(v + 2) % 3][2]},
                {t[w][(v + 2) % 3][0], t[w][(v + 2) % 3][1], t[w][(v + 2) % 3][2]}};
            for (int o = 0; o < 3; o++)
                gap2 =
                    fmin(gap2, segment_gap2(edge[0], edge[1], t[1 - w][o], t[1 - w][(o + 1) % 3]));
            gap2 = corner_gap2(edge, t[1 - w], gap2);
        }
    if (shared == 2) {
        double n[2][3], u[3], v[3];
        for (int w = 0; w < 2; w++) {
            sub(t[w][1], t[w][0], u);
            sub(t[w][2], t[w][0], v);
            cross(u, v, n[w]);
        }
        double turn = dot(n[0], n[1]) / sqrt(dot(n[0], n[0]) * dot(n[1], n[1]));
        gap2 = turn < -1 + 1e-9 ? 0 : gap2;
    }
    return gap2;
}

bool nw_facets_meet_themselves(const NwFacets *facets, double least_mm, NwNear *near) {
    static const double nowhere[3] = {0, 0, 0};
    size_t count = facets->facet_count;
    double(*t)[3][3] = nw_alloc(count, sizeof *t);
    Box *boxes = nw_alloc(count, sizeof *boxes);
    bool meet = false;
    for (size_t i = 0; i < count; i++) {
        corners_of(facets, i, nowhere, t[i]);
        boxes[i] = box_of(t[i], nowhere);
    }
    for (size_t i = 0; i < count && !meet && !nw_progress_is_stopped(near->progress); i++)
        for (size_t k = i + 1; k < count && !meet; k++) {
            if (box_gap2(&boxes[i], &boxes[k]) >= least_mm * least_mm)
                continue;
            int shared = 0;
            for (int v = 0; v < 9; v++)
                shared += facets->facets[i].points[v / 3] == facets->facets[k].points[v % 3];
            double gap2 = shared ? sharing_gap2(facets, i, k, shared) : triangle_gap2(t[i], t[k]);
            meet = gap2 < least_mm * least_mm * (shared ? 1e-6 : 1);
            if (meet)
                tell(near, gap2, t[i], t[k]);
        }
    free(t);
    free(boxes);
    return meet;
}
