#include "make/mesh/fan.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { MAX = NW_FAN_OPEN_MAX + 2 };

/* a + b sqrt(3), over a whole number that is kept elsewhere. */
typedef struct Surd {
    long a, b;
} Surd;

enum { SEAM = MAX }; /* as an edge: the first end of a seam; the second is one more */

/* What lies across a side of a triangle: another triangle, or an old edge. */
typedef struct Link {
    int triangle; /* -1: an edge */
    size_t edge;
} Link;

/* Three faces, counter-clockwise, and the point of their planes, times `det`. */
typedef struct Triangle {
    size_t face[3];
    Link across[3]; /* of the side from face[k] to the next */
    int det;
    Surd at[3];
} Triangle;

/* A polygon whose corners are faces. After a pinch there are several. edges[i] is the old edge
 * between corner i and the next; outs[i] is the face on whose rim one leaves corner i. */
typedef struct Ring {
    size_t faces[MAX], edges[MAX], outs[MAX];
    size_t count;
} Ring;

/* A part of a ring that still needs a triangle on its base, which is across from `base`. */
typedef struct Gap {
    size_t ring, from, to;
    Link base;
    int base_side;
} Gap;

typedef struct Opener {
    const NwSpot *spot;
    NwEffort *effort;
    Ring rings[MAX];
    size_t ring_count;
    Triangle triangles[MAX];
    int found;
    NwFanWay *ways;
    double *reach; /* of each way, how far its farthest point is, squared */
    size_t way_count, way_capacity;
} Opener;

bool nw_spot_has_point(const NwSpot *spot) {
    return spot->count == spot->first_count + 1;
}

size_t nw_spot_previous(const NwSpot *spot, size_t at) {
    return at == 0 ? spot->first_count - 1 : at == spot->first_count ? spot->count - 1 : at - 1;
}

size_t nw_spot_next(const NwSpot *spot, size_t at) {
    return at + 1 == spot->first_count ? 0 : at + 1 == spot->count ? spot->first_count : at + 1;
}

NwVec nw_spot_ray(const NwSpot *spot, size_t at) {
    NwVec ray = nw_vec_cross(spot->normals[at], spot->normals[nw_spot_previous(spot, at)]);
    return spot->reflex[at] ? nw_vec_scale(ray, -1) : ray;
}

static int sign_of(Surd s) {
    int a = (s.a > 0) - (s.a < 0), b = (s.b > 0) - (s.b < 0);
    if (a == b || !b)
        return a;
    if (!a)
        return b;
    return s.a * s.a > 3 * s.b * s.b ? a : b;
}

/* The point with normal . p = -|normal| for all three, by Cramer's rule. */
static bool meet(const Opener *opener, Triangle *t) {
    NwVec n[3];
    for (int k = 0; k < 3; k++)
        n[k] = opener->spot->normals[t->face[k]];
    t->det = nw_vec_dot(n[0], nw_vec_cross(n[1], n[2]));
    if (!t->det)
        return false;
    memset(t->at, 0, sizeof t->at);
    for (int k = 0; k < 3; k++) {
        NwVec across = nw_vec_cross(n[(k + 1) % 3], n[(k + 2) % 3]);
        bool oblique = nw_vec_dot(n[k], n[k]) == 3;
        for (int axis = 0; axis < 3; axis++)
            *(oblique ? &t->at[axis].b : &t->at[axis].a) -= nw_vec_get(across, axis);
    }
    return true;
}

/* The sign of (q - p) . e. */
static int sign_along(const Triangle *p, const Triangle *q, NwVec e) {
    Surd sum = {0, 0};
    for (int axis = 0; axis < 3; axis++) {
        long part = nw_vec_get(e, axis);
        sum.a += part * (q->at[axis].a * p->det - p->at[axis].a * q->det);
        sum.b += part * (q->at[axis].b * p->det - p->at[axis].b * q->det);
    }
    int sign = sign_of(sum);
    return (p->det > 0) == (q->det > 0) ? sign : -sign;
}

/* What a side is: 1 for a convex edge, -1 for a reflex one, 0 for one of no length. */
static int kind_of(const Opener *opener, const Triangle *t, int k) {
    if (t->across[k].triangle < 0)
        return opener->spot->reflex[t->across[k].edge] ? -1 : 1;
    NwVec from = opener->spot->normals[t->face[k]],
          to = opener->spot->normals[t->face[(k + 1) % 3]];
    return sign_along(t, &opener->triangles[t->across[k].triangle], nw_vec_cross(to, from));
}

/* Whether every vertex is one that a solid can have, with edges of no length taken as is best. */
static bool is_right(const Opener *opener) {
    for (int i = 0; i < opener->found; i++) {
        const Triangle *t = &opener->triangles[i];
        int reflex = 0, open = 0;
        for (int k = 0; k < 3; k++) {
            int kind = kind_of(opener, t, k);
            reflex += kind < 0;
            open += kind == 0;
        }
        bool right = false;
        for (int all = reflex; all <= reflex + open; all++)
            right = right || (t->det > 0) == (all == 0 || all == 3);
        if (!right)
            return false;
    }
    return true;
}

/* Numbers the points: triangles joined by edges of no length are one. */
static size_t number_points(const Opener *opener, size_t numbers[MAX]) {
    int same[MAX];
    size_t count = 0;
    for (int i = 0; i < opener->found; i++)
        same[i] = i;
    for (int round = 0; round < opener->found; round++)
        for (int i = 0; i < opener->found; i++)
            for (int k = 0; k < 3; k++) {
                int other = opener->triangles[i].across[k].triangle;
                if (other >= 0 && kind_of(opener, &opener->triangles[i], k) == 0)
                    same[i] = same[other] < same[i] ? same[other] : same[i];
            }
    for (int i = 0; i < opener->found; i++)
        numbers[i] = same[i] == i ? count++ : numbers[same[i]];
    return count;
}

/* The side of triangle t that begins, counter-clockwise, at a face. */
static int side_from(const Triangle *t, size_t face) {
    for (int k = 0; k < 3; k++)
        if (t->face[k] == face)
            return k;
    return -1;
}

/* Adds the points of the triangles round a face to its corner, from triangle t on, until it comes
 * to an edge or back to `stop`. False where that is no walk: triangles that meet in two places. */
static bool walk_round(const Opener *opener, size_t face, int t, int stop, const size_t *numbers,
                       NwFanCorner *corner) {
    int left = opener->found;
    do {
        const Triangle *triangle = &opener->triangles[t];
        int side = side_from(triangle, face);
        if (side < 0 || left-- == 0)
            return false;
        if (!corner->count || corner->points[corner->count - 1] != numbers[t]) {
            if (corner->count == NW_FAN_FACES_MAX)
                return false;
            corner->points[corner->count++] = numbers[t];
        }
        t = triangle->across[(side + 2) % 3].triangle;
    } while (t >= 0 && t != stop);
    return t == stop;
}

/* Goes round the corner of a ring from the triangle on the side after it to that before it. */
static bool pass_corner(const Opener *opener, const Ring *ring, size_t at, const size_t *numbers,
                        NwFanCorner *corner) {
    size_t face = ring->faces[at], edge = ring->edges[at];
    corner->leaves = ring->outs[at];
    corner->count = 0;
    int t = -1;
    for (int i = 0; i < opener->found && t < 0; i++) {
        int k = side_from(&opener->triangles[i], face);
        if (k >= 0 && opener->triangles[i].across[k].triangle < 0 &&
            opener->triangles[i].across[k].edge == edge)
            t = i;
    }
    return t < 0 || walk_round(opener, face, t, -1, numbers, corner);
}

/* Goes round a face that the spot has only a point of. */
static bool pass_round(const Opener *opener, size_t face, const size_t *numbers,
                       NwFanCorner *corner) {
    int start = 0;
    *corner = (NwFanCorner){.leaves = face};
    while (start < opener->found && side_from(&opener->triangles[start], face) < 0)
        start++;
    if (start == opener->found || !walk_round(opener, face, start, start, numbers, corner))
        return false;
    if (corner->count > 1 && corner->points[0] == corner->points[corner->count - 1])
        corner->count--;
    return true;
}

/* Whether every face is left for exactly one other or itself, so that rims close. */
static bool rims_close(const NwSpot *spot, const NwFanWay *way) {
    bool left_for[NW_FAN_FACES_MAX] = {false};
    for (size_t i = 0; i < spot->count; i++) {
        size_t leaves = way->corners[i].leaves;
        if (left_for[leaves])
            return false;
        left_for[leaves] = true;
    }
    return true;
}

/* Keeps the way that is now in `triangles`, if its faces go round their corners and back to
 * where they began. */
static void keep(Opener *opener) {
    size_t numbers[MAX], capacity = opener->way_capacity;
    opener->ways =
        nw_grow(opener->ways, opener->way_count, &opener->way_capacity, sizeof(NwFanWay));
    opener->reach = nw_grow(opener->reach, opener->way_count, &capacity, sizeof(double));
    NwFanWay *way = &opener->ways[opener->way_count];
    memset(way, 0, sizeof *way);
    way->point_count = number_points(opener, numbers);
    double reach = 0;
    for (int i = 0; i < opener->found; i++) {
        double far = 0;
        for (int axis = 0; axis < 3; axis++) {
            Surd s = opener->triangles[i].at[axis];
            double value = ((double)s.a + (double)s.b * sqrt(3)) / opener->triangles[i].det;
            way->points[numbers[i]][axis] = value;
            far += value * value;
        }
        reach = fmax(reach, far);
    }
    bool goes_round = true;
    for (size_t r = 0; r < opener->ring_count; r++)
        for (size_t i = 0; i < opener->rings[r].count && goes_round; i++) {
            /* One comes in along the edge after the corner, on the face before that edge. */
            size_t edge = opener->rings[r].edges[i];
            if (edge < SEAM)
                goes_round = pass_corner(opener, &opener->rings[r], i, numbers,
                                         &way->corners[nw_spot_previous(opener->spot, edge)]);
        }
    if (goes_round && nw_spot_has_point(opener->spot))
        goes_round = pass_round(opener, opener->spot->first_count, numbers,
                                &way->corners[opener->spot->first_count]);
    if (goes_round && rims_close(opener->spot, way))
        opener->reach[opener->way_count++] = reach;
}

/* Ties the two triangles at a seam to each other. */
static void close_seam(Opener *opener) {
    int triangle[2] = {-1, -1}, side[2] = {0, 0};
    for (int i = 0; i < opener->found; i++)
        for (int k = 0; k < 3; k++) {
            size_t edge = opener->triangles[i].across[k].edge;
            if (edge < SEAM)
                continue;
            triangle[edge - SEAM] = i;
            side[edge - SEAM] = k;
        }
    for (int end = 0; end < 2 && triangle[0] >= 0; end++)
        opener->triangles[triangle[end]].across[side[end]].triangle = triangle[1 - end];
}

/* Whether the search goes on: there is effort left, and room for another way. */
static bool goes_on(Opener *opener, long steps) {
    return nw_effort_spend(opener->effort, steps) && opener->way_count < NW_FAN_WAYS_MAX;
}

/* Fills the last gap in all ways, then those before it. */
static void fill(Opener *opener, const Gap *gaps, size_t gap_count) {
    if (!goes_on(opener, 1))
        return;
    if (!gap_count) {
        close_seam(opener);
        if (goes_on(opener, opener->found) && is_right(opener))
            keep(opener);
        return;
    }
    Gap gap = gaps[gap_count - 1], more[2 * MAX];
    const Ring *ring = &opener->rings[gap.ring];
    int own = opener->found;
    for (size_t middle = gap.from + 1; middle < gap.to && goes_on(opener, 1); middle++) {
        Triangle *t = &opener->triangles[own];
        *t = (Triangle){.face = {ring->faces[gap.from], ring->faces[middle], ring->faces[gap.to]}};
        if (!meet(opener, t))
            continue;
        size_t ends[3] = {gap.from, middle, gap.to}, count = gap_count - 1;
        memcpy(more, gaps, count * sizeof *gaps);
        t->across[2] = gap.base;
        t->across[0] = t->across[1] = (Link){0, 0};
        if (gap.base.triangle >= 0)
            opener->triangles[gap.base.triangle].across[gap.base_side] = (Link){own, 0};
        for (int k = 0; k < 2; k++)
            if (ends[k + 1] == ends[k] + 1)
                t->across[k] = (Link){-1, ring->edges[ends[k]]};
            else
                more[count++] = (Gap){gap.ring, ends[k], ends[k + 1], {own, 0}, k};
        opener->found = own + 1;
        fill(opener, more, count);
        opener->found = own;
    }
}

/* A ring of two faces is the middle of a straight edge, or nothing. */
static bool is_straight(const Opener *opener, const Ring *ring) {
    if (ring->edges[0] >= SEAM || ring->edges[1] >= SEAM)
        return false;
    NwVec a = nw_spot_ray(opener->spot, ring->edges[0]);
    NwVec b = nw_spot_ray(opener->spot, ring->edges[1]);
    return nw_vec_equal(nw_vec_cross(a, b), nw_vec(0, 0, 0)) && nw_vec_dot(a, b) < 0;
}

static void triangulate(Opener *opener) {
    Gap gaps[MAX];
    size_t count = 0;
    for (size_t r = 0; r < opener->ring_count; r++) {
        const Ring *ring = &opener->rings[r];
        if (ring->count == 2 && !is_straight(opener, ring))
            return;
        if (ring->count > 2)
            gaps[count++] = (Gap){r, 0, ring->count - 1, {-1, ring->edges[ring->count - 1]}, 0};
    }
    fill(opener, gaps, count);
}

/* Corners a < b of a ring become one. What lies between them goes into a ring of its own, whose
 * first corner, that one, is come to on a's side and left on b's; for the rest it is the reverse.
 */
static void pinch(Opener *opener, size_t r, size_t a, size_t b) {
    Ring whole = opener->rings[r];
    Ring *inner = &opener->rings[opener->ring_count++], *outer = &opener->rings[r];
    inner->count = 0;
    for (size_t i = a; i < b; i++) {
        inner->faces[inner->count] = whole.faces[i];
        inner->edges[inner->count] = whole.edges[i];
        inner->outs[inner->count++] = i == a ? whole.outs[b] : whole.outs[i];
    }
    outer->count = 0;
    for (size_t i = 0; i < whole.count; i++) {
        if (i >= a && i < b)
            continue;
        outer->faces[outer->count] = whole.faces[i];
        outer->edges[outer->count] = whole.edges[i];
        outer->outs[outer->count++] = i == b ? whole.outs[a] : whole.outs[i];
    }
}

/* Tries all sets of pinches, each in one order: rings before `least` are done with. */
static void pinch_all(Opener *opener, size_t least_ring, size_t least_corner) {
    if (!goes_on(opener, 1))
        return;
    triangulate(opener);
    for (size_t r = least_ring; r < opener->ring_count; r++)
        for (size_t a = r == least_ring ? least_corner : 0; a < opener->rings[r].count; a++)
            for (size_t b = a + 2; b < opener->rings[r].count; b++) {
                const Ring *ring = &opener->rings[r];
                if (ring->count - (b - a) < 2 ||
                    !nw_vec_equal(opener->spot->normals[ring->faces[a]],
                                  opener->spot->normals[ring->faces[b]]))
                    continue;
                Ring saved[MAX];
                size_t ring_count = opener->ring_count;
                memcpy(saved, opener->rings, ring_count * sizeof *saved);
                pinch(opener, r, a, b);
                pinch_all(opener, r, a);
                memcpy(opener->rings, saved, ring_count * sizeof *saved);
                opener->ring_count = ring_count;
            }
}

/* The way with the least reach of those that are left; its reach becomes infinite. */
static const NwFanWay *next_way(Opener *opener) {
    size_t best = 0;
    for (size_t i = 1; i < opener->way_count; i++)
        if (opener->reach[i] < opener->reach[best] - 1e-9)
            best = i;
    if (!opener->way_count || opener->reach[best] == INFINITY)
        return NULL;
    opener->reach[best] = INFINITY;
    return &opener->ways[best];
}

/* A fan as a ring that begins at one of its faces. */
static void add_fan(const Opener *opener, size_t start, Ring *ring) {
    size_t at = start;
    do {
        size_t next = nw_spot_next(opener->spot, at);
        ring->faces[ring->count] = ring->outs[ring->count] = at;
        ring->edges[ring->count++] = next;
        at = next;
    } while (at != start);
}

static void add_seam(Ring *ring, size_t face, size_t end) {
    ring->faces[ring->count] = ring->outs[ring->count] = face;
    ring->edges[ring->count++] = SEAM + end;
}

/* Makes one ring of two fans: cut along a seam between faces a and b, or grown together there. */
static void join(Opener *opener, size_t a, size_t b) {
    const NwVec *n = opener->spot->normals;
    Ring *ring = &opener->rings[0];
    bool grow = nw_vec_equal(n[a], n[b]);
    if (grow && nw_spot_has_point(opener->spot))
        return;
    *ring = (Ring){.count = 0};
    opener->ring_count = 1;
    add_fan(opener, a, ring);
    size_t second = ring->count + !grow;
    if (!grow)
        add_seam(ring, a, 0);
    if (!nw_spot_has_point(opener->spot))
        add_fan(opener, b, ring);
    if (!grow)
        add_seam(ring, b, 1);
    if (grow) {
        ring->outs[0] = b;
        ring->outs[second] = a;
    }
    if (grow || !nw_vec_equal(nw_vec_cross(n[a], n[b]), nw_vec(0, 0, 0)))
        pinch_all(opener, 0, 0);
}

bool nw_spot_open(const NwSpot *spot, NwEffort *effort, NwFanWay *way) {
    bool two = spot->first_count < spot->count;
    if (spot->count < 3 || spot->count > (two ? NW_FAN_JOIN_MAX : NW_FAN_OPEN_MAX))
        return false;
    Opener *opener = nw_alloc(1, sizeof *opener);
    opener->spot = spot;
    opener->effort = effort;
    if (two) {
        for (size_t a = 0; a < spot->first_count; a++)
            for (size_t b = spot->first_count; b < spot->count; b++)
                join(opener, a, b);
    } else {
        opener->ring_count = 1;
        add_fan(opener, 0, &opener->rings[0]);
        pinch_all(opener, 0, 0);
    }
    const NwFanWay *found;
    int most = two ? NW_FAN_JOIN_TRIES_MAX : NW_FAN_TRIES_MAX;
    bool plain = false;
    for (int tries = 0; tries < most && !plain && (found = next_way(opener)); tries++) {
        plain = nw_spot_is_plain(spot, effort, found);
        if (plain)
            *way = *found;
    }
    free(opener->ways);
    free(opener->reach);
    free(opener);
    return plain;
}
