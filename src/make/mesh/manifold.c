#include "make/mesh/manifold.h"

#include <stdlib.h>

#include "base/memory.h"
#include "lattice/connect.h"

static const size_t NOWHERE = (size_t)-1;

/* A side of a seen triangle, which it has to its left. Sides 3t to 3t+2 are those of triangle t. */
typedef struct Side {
    NwVec from, to;
    NwVec normal;
    size_t twin;       /* the same edge as seen from the other triangle */
    bool flat;         /* the two are of one face */
    size_t face;       /* once faces are made: its number */
    size_t fan, place; /* of `from`; NOWHERE in the middle of an edge */
} Side;

/* A shell in the making. */
typedef struct Builder {
    Side *sides;
    size_t count, capacity;
    NwManifold *manifold;
    size_t fan_capacity, face_capacity;
} Builder;

static NwVec along(const Side *side) {
    return nw_vec_sub(side->to, side->from);
}

static void add_triangle(Builder *builder, const NwVec t[3]) {
    NwVec normal = nw_vec_cross(nw_vec_sub(t[1], t[0]), nw_vec_sub(t[2], t[0]));
    for (int k = 0; k < 3; k++) {
        builder->sides = nw_grow(builder->sides, builder->count, &builder->capacity, sizeof(Side));
        builder->sides[builder->count++] = (Side){
            .from = t[k], .to = t[(k + 1) % 3], .normal = normal, .face = NOWHERE, .fan = NOWHERE};
    }
}

static void add_seen(Builder *builder, const NwSolid *solid) {
    for (size_t i = 0; i < solid->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++) {
            NwPart part = {nw_cell_at(&solid->cells[i]), bit};
            for (int face = 0; face < 4 && solid->cells[i].mask >> bit & 1; face++) {
                NwVec triangle[3];
                if (nw_solid_has(solid, nw_part_across(part, face)))
                    continue;
                nw_part_face(part, face, triangle);
                add_triangle(builder, triangle);
            }
        }
}

static bool is_rising(const Side *side) {
    return nw_vec_compare(side->from, side->to) < 0;
}

/* Brings the sides of one edge together. */
static int compare_edges(const void *a, const void *b) {
    const Side *p = *(const Side *const *)a, *q = *(const Side *const *)b;
    NwVec p_low = is_rising(p) ? p->from : p->to, p_high = is_rising(p) ? p->to : p->from;
    NwVec q_low = is_rising(q) ? q->from : q->to, q_high = is_rising(q) ? q->to : q->from;
    int order = nw_vec_compare(p_low, q_low);
    return order ? order : nw_vec_compare(p_high, q_high);
}

/* The direction, across the side, in which its triangle lies. */
static NwVec inward(const Side *side) {
    return nw_vec_cross(side->normal, along(side));
}

/* Turning counter-clockwise about the rising direction one enters the solid at a falling side and
 * leaves it at the next rising one: those two enclose solid, and are twins. */
static void pair_edge(Builder *builder, Side *const *group, size_t count) {
    for (size_t i = 0; i < count; i++) {
        if (is_rising(group[i]))
            continue;
        NwVec axis = nw_vec_scale(along(group[i]), -1), start = inward(group[i]);
        Side *best = NULL;
        for (size_t k = 0; k < count; k++)
            if (is_rising(group[k]) &&
                (!best || nw_vec_meets_first(axis, start, inward(group[k]), inward(best))))
                best = group[k];
        group[i]->twin = (size_t)(best - builder->sides);
        best->twin = (size_t)(group[i] - builder->sides);
        group[i]->flat = best->flat = nw_vec_equal(group[i]->normal, best->normal);
    }
}

static void pair_all(Builder *builder) {
    Side **order = nw_alloc(builder->count, sizeof *order);
    for (size_t i = 0; i < builder->count; i++)
        order[i] = &builder->sides[i];
    if (builder->count)
        qsort(order, builder->count, sizeof *order, compare_edges);
    for (size_t first = 0, past; first < builder->count; first = past) {
        for (past = first; past < builder->count && compare_edges(&order[first], &order[past]) == 0;
             past++)
            ;
        pair_edge(builder, &order[first], past - first);
    }
    free(order);
}

static size_t next_in_triangle(size_t side) {
    return side % 3 == 2 ? side - 2 : side + 1;
}

/* The next side of the rim: across all flat pairs at the vertex. */
static size_t next_of(const Builder *builder, size_t side) {
    size_t next = next_in_triangle(side);
    while (builder->sides[next].flat)
        next = next_in_triangle(builder->sides[next].twin);
    return next;
}

/* The side of a rim before this one. */
static size_t previous_of(const Builder *builder, size_t side) {
    size_t previous = next_in_triangle(next_in_triangle(side));
    while (builder->sides[previous].flat) {
        previous = builder->sides[previous].twin;
        previous = next_in_triangle(next_in_triangle(previous));
    }
    return previous;
}

/* The next rim side that leaves the same vertex, counter-clockwise: across the side before this. */
static size_t turn(const Builder *builder, size_t side) {
    return builder->sides[previous_of(builder, side)].twin;
}

static bool is_straight(const Builder *builder, size_t side) {
    return nw_vec_equal(along(&builder->sides[side]),
                        along(&builder->sides[previous_of(builder, side)]));
}

/* The angle inside the solid is over 180 degrees when the face to the left of the side rises out of
 * the plane of the other. */
static bool is_reflex(const Builder *builder, const Side *side) {
    return nw_vec_dot(inward(side), builder->sides[side->twin].normal) > 0;
}

/* Numbers the face of a triangle and of all that lie flat with it. */
static void add_face(Builder *builder, size_t triangle) {
    NwManifold *manifold = builder->manifold;
    const Side *side = &builder->sides[3 * triangle];
    manifold->faces = nw_grow(manifold->faces, manifold->face_count, &builder->face_capacity,
                              sizeof(NwManifoldFace));
    manifold->faces[manifold->face_count] =
        (NwManifoldFace){side->normal, nw_vec_dot(side->normal, side->from), NULL, 0};
    size_t *waiting = NULL, count = 0, capacity = 0;
    waiting = nw_grow(waiting, count, &capacity, sizeof *waiting);
    waiting[count++] = triangle;
    builder->sides[3 * triangle].face = manifold->face_count;
    while (count) {
        size_t t = waiting[--count];
        for (size_t s = 3 * t; s < 3 * t + 3; s++) {
            builder->sides[s].face = manifold->face_count;
            size_t other = builder->sides[s].twin / 3;
            if (!builder->sides[s].flat || builder->sides[3 * other].face != NOWHERE)
                continue;
            builder->sides[3 * other].face = manifold->face_count;
            waiting = nw_grow(waiting, count, &capacity, sizeof *waiting);
            waiting[count++] = other;
        }
    }
    free(waiting);
    manifold->face_count++;
}

/* The way round a vertex: triangles that follow on one another. */
typedef struct Round {
    NwVec at;
    size_t start; /* a rim side that leaves the vertex; any side of it where there is none */
    size_t count; /* of rim sides */
    bool straight;
} Round;

/* The next side that leaves the same vertex, over all triangles. */
static size_t step_round(const Builder *builder, size_t side) {
    return builder->sides[next_in_triangle(next_in_triangle(side))].twin;
}

static Round round_of(const Builder *builder, size_t start, bool *seen) {
    Round round = {builder->sides[start].from, start, 0, false};
    for (size_t side = start; !seen[side]; side = step_round(builder, side)) {
        seen[side] = true;
        if (builder->sides[side].flat)
            continue;
        round.start = side;
        round.count++;
    }
    round.straight = round.count == 2 && is_straight(builder, round.start);
    return round;
}

/* By place; at one place, those with most edges first. */
static int compare_rounds(const void *a, const void *b) {
    const Round *p = a, *q = b;
    int order = nw_vec_compare(p->at, q->at);
    if (order)
        return order;
    if (p->count != q->count)
        return p->count > q->count ? -1 : 1;
    return (p->start > q->start) - (p->start < q->start);
}

static NwFan *begin_fan(Builder *builder, NwVec at, size_t count) {
    NwManifold *manifold = builder->manifold;
    manifold->fans =
        nw_grow(manifold->fans, manifold->fan_count, &builder->fan_capacity, sizeof(NwFan));
    NwFan *fan = &manifold->fans[manifold->fan_count++];
    *fan = (NwFan){at, nw_alloc(count, sizeof(size_t)), nw_alloc(count, sizeof(bool)), count};
    return fan;
}

/* A point of a face: a rim of one corner. */
static void add_point(Builder *builder, const Round *round) {
    size_t f = builder->sides[round->start].face;
    NwManifoldFace *face = &builder->manifold->faces[f];
    NwManifoldCorner *corner = nw_alloc(1, sizeof *corner);
    *corner = (NwManifoldCorner){builder->manifold->fan_count, 0};
    face->rims = nw_resize(face->rims, face->count + 1, sizeof *face->rims);
    face->rims[face->count++] = (NwManifoldRim){corner, 1};
    begin_fan(builder, round->at, 1)->faces[0] = f;
}

static void add_fan(Builder *builder, const Round *round) {
    size_t number = builder->manifold->fan_count, side = round->start;
    NwFan *fan = begin_fan(builder, round->at, round->count);
    for (size_t place = 0; place < fan->count; place++, side = turn(builder, side)) {
        fan->faces[place] = builder->sides[side].face;
        fan->reflex[place] = is_reflex(builder, &builder->sides[side]);
        builder->sides[side].fan = number;
        builder->sides[side].place = place;
    }
}

/* Fans of all vertices; of points within an edge or a face where something else touches them. */
static void add_fans(Builder *builder, Round *rounds, size_t count) {
    for (size_t i = 0; i < count; i++) {
        bool alone = (i == 0 || !nw_vec_equal(rounds[i - 1].at, rounds[i].at)) &&
                     (i + 1 == count || !nw_vec_equal(rounds[i + 1].at, rounds[i].at));
        if (rounds[i].count && !(alone && rounds[i].straight))
            add_fan(builder, &rounds[i]);
    }
}

static void add_points(Builder *builder, const Round *rounds, size_t count) {
    for (size_t i = 1; i < count; i++)
        if (!rounds[i].count && nw_vec_equal(rounds[i - 1].at, rounds[i].at))
            add_point(builder, &rounds[i]);
}

static Round *list_rounds(const Builder *builder, size_t *count) {
    Round *rounds = nw_alloc(builder->count, sizeof *rounds);
    bool *seen = nw_alloc(builder->count, sizeof *seen);
    *count = 0;
    for (size_t i = 0; i < builder->count; i++)
        if (!seen[i])
            rounds[(*count)++] = round_of(builder, i, seen);
    if (*count)
        qsort(rounds, *count, sizeof *rounds, compare_rounds);
    free(seen);
    return rounds;
}

/* Twice the area inside a rim, signed; the outer rim of a face is the only one above 0. */
static long area2_of(const Builder *builder, size_t first) {
    const Side *start = &builder->sides[first];
    long sum = 0;
    size_t side = first;
    do {
        NwVec a = nw_vec_sub(builder->sides[side].from, start->from);
        NwVec b = nw_vec_sub(builder->sides[side].to, start->from);
        sum += nw_vec_dot(nw_vec_cross(a, b), start->normal);
    } while ((side = next_of(builder, side)) != first);
    return sum;
}

static void add_rim(Builder *builder, size_t first, bool *seen) {
    NwManifoldFace *face = &builder->manifold->faces[builder->sides[first].face];
    face->rims = nw_resize(face->rims, face->count + 1, sizeof *face->rims);
    NwManifoldRim rim = {NULL, 0};
    size_t capacity = 0;
    for (size_t side = first; !seen[side]; side = next_of(builder, side)) {
        seen[side] = true;
        if (builder->sides[side].fan == NOWHERE)
            continue;
        rim.corners = nw_grow(rim.corners, rim.count, &capacity, sizeof *rim.corners);
        rim.corners[rim.count++] =
            (NwManifoldCorner){builder->sides[side].fan, builder->sides[side].place};
    }
    size_t at = face->count++;
    if (area2_of(builder, first) > 0 && at) { /* the outer rim comes first */
        face->rims[at] = face->rims[0];
        at = 0;
    }
    face->rims[at] = rim;
}

NwManifold *nw_manifold_new(const NwSolid *solid) {
    Builder builder = {.manifold = nw_alloc(1, sizeof(NwManifold))};
    add_seen(&builder, solid);
    pair_all(&builder);
    for (size_t t = 0; 3 * t < builder.count; t++)
        if (builder.sides[3 * t].face == NOWHERE)
            add_face(&builder, t);
    size_t round_count;
    Round *rounds = list_rounds(&builder, &round_count);
    add_fans(&builder, rounds, round_count);
    bool *seen = nw_alloc(builder.count, sizeof *seen);
    for (size_t i = 0; i < builder.count; i++)
        if (!seen[i] && !builder.sides[i].flat)
            add_rim(&builder, i, seen);
    add_points(&builder, rounds, round_count);
    free(rounds);
    free(seen);
    free(builder.sides);
    return builder.manifold;
}

void nw_manifold_free(NwManifold *manifold) {
    if (!manifold)
        return;
    for (size_t f = 0; f < manifold->face_count; f++) {
        for (size_t k = 0; k < manifold->faces[f].count; k++)
            free(manifold->faces[f].rims[k].corners);
        free(manifold->faces[f].rims);
    }
    for (size_t v = 0; v < manifold->fan_count; v++) {
        free(manifold->fans[v].faces);
        free(manifold->fans[v].reflex);
    }
    free(manifold->faces);
    free(manifold->fans);
    free(manifold);
}
