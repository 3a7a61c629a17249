#include "view/order.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* A group as the eye sees it. */
typedef struct Entry {
    NwOrderItem item;
    float cell_far, far; /* of the cell's middle and of the group's own */
    int rank;            /* -1: a corner behind its cut, 0: the core, 1: a corner before its cut */
    float way[3], sine, cosine; /* the cone that holds it */
    float low[NW_MESH_AXES], high[NW_MESH_AXES];
} Entry;

struct NwOrder {
    Entry *entries;
    size_t capacity;
    NwOrderItem *items;
    size_t item_capacity;
    uint64_t *hides; /* row a, bit b: a may hide b */
    int *hidden;     /* how many that are left it may hide */
};

/* The eye: a point, or the direction that leads to it. */
typedef struct Eye {
    bool parallel;
    float at[3], back[3];
    float along[NW_MESH_AXES]; /* scalar product of each axis with `at`, or with `back` */
} Eye;

NwOrder *nw_order_new(void) {
    return nw_alloc(1, sizeof(NwOrder));
}

void nw_order_free(NwOrder *order) {
    if (!order)
        return;
    free(order->entries);
    free(order->items);
    free(order->hides);
    free(order->hidden);
    free(order);
}

static Eye eye_of(const NwCamera *camera) {
    NwCameraAxes axes = nw_camera_axes(camera);
    Eye eye = {.parallel = camera->parallel};
    for (int k = 0; k < 3; k++) {
        eye.at[k] = (float)axes.eye[k];
        eye.back[k] = (float)axes.back[k];
    }
    const float *from = eye.parallel ? eye.back : eye.at;
    for (int a = 0; a < NW_MESH_AXES; a++) {
        NwVec n = nw_mesh_axis(a);
        eye.along[a] = (float)n.x * from[0] + (float)n.y * from[1] + (float)n.z * from[2];
    }
    return eye;
}

/* Distance squared from the eye; of a parallel picture the depth. */
static float distance_of(const Eye *eye, const float p[3]) {
    float sum = 0;
    for (int k = 0; k < 3; k++)
        sum += eye->parallel ? -eye->back[k] * p[k] : (p[k] - eye->at[k]) * (p[k] - eye->at[k]);
    return sum;
}

/* Whether the eye is on the corner's side of the cut between it and the core. */
static bool is_before_cut(const Eye *eye, const NwMeshGroup *group, const float offset[3]) {
    NwVec cut[3];
    nw_part_face((NwPart){group->cell, group->bit}, 0, cut);
    NwVec n = nw_vec_cross(nw_vec_sub(cut[1], cut[0]), nw_vec_sub(cut[2], cut[0]));
    float sum = 0;
    for (int k = 0; k < 3; k++)
        sum +=
            (float)nw_vec_get(n, k) *
            (eye->parallel ? eye->back[k] : eye->at[k] - offset[k] - (float)nw_vec_get(cut[0], k));
    return sum < 0; /* the normal leads out of the corner, into the core */
}

static void look_at(Entry *entry, const Eye *eye, const NwSceneBody *body) {
    const NwMeshGroup *group = &body->mesh->groups[entry->item.group];
    float centre[3], middle[3], length = 0;
    for (int k = 0; k < 3; k++) {
        centre[k] = group->centre[k] + body->offset[k];
        middle[k] = (float)nw_vec_get(group->cell, k) + 0.5f + body->offset[k];
    }
    entry->cell_far = distance_of(eye, middle);
    entry->far = distance_of(eye, centre);
    entry->rank = !group->bit ? 0 : is_before_cut(eye, group, body->offset) ? 1 : -1;
    for (int k = 0; k < 3; k++) {
        entry->way[k] = centre[k] - (eye->parallel ? 0 : eye->at[k]);
        length += entry->way[k] * entry->way[k];
    }
    length = sqrtf(length);
    if (eye->parallel) {
        entry->sine = group->radius;
    } else {
        for (int k = 0; k < 3; k++)
            entry->way[k] /= length;
        entry->sine = fminf(1, group->radius / length);
        entry->cosine = sqrtf(1 - entry->sine * entry->sine);
    }
    for (int a = 0; a < NW_MESH_AXES; a++) {
        NwVec n = nw_mesh_axis(a);
        float shift = (float)n.x * body->offset[0] + (float)n.y * body->offset[1] +
                      (float)n.z * body->offset[2];
        entry->low[a] = (float)group->low[a] + shift;
        entry->high[a] = (float)group->high[a] + shift;
    }
}

static int compare(const void *a, const void *b) {
    const Entry *p = a, *q = b;
    if (p->cell_far != q->cell_far)
        return p->cell_far > q->cell_far ? -1 : 1;
    if (p->rank != q->rank)
        return p->rank - q->rank;
    if (p->far != q->far)
        return p->far > q->far ? -1 : 1;
    return p->item.body != q->item.body ? (p->item.body < q->item.body ? -1 : 1)
                                        : (p->item.group < q->item.group ? -1 : 1);
}

/* Whether no line of sight can meet both balls. */
static bool are_apart(const Eye *eye, const Entry *a, const Entry *b) {
    if (!eye->parallel) {
        float angle = a->way[0] * b->way[0] + a->way[1] * b->way[1] + a->way[2] * b->way[2];
        return angle < a->cosine * b->cosine - a->sine * b->sine;
    }
    float d[3], along = 0, square = 0;
    for (int k = 0; k < 3; k++) {
        d[k] = a->way[k] - b->way[k];
        along += d[k] * eye->back[k];
        square += d[k] * d[k];
    }
    return square - along * along > (a->sine + b->sine) * (a->sine + b->sine);
}

/* Sets whether a may hide b and b may hide a. */
static void judge(const Eye *eye, const Entry *a, const Entry *b, bool *a_hides, bool *b_hides) {
    const float touch = 1e-3f;
    *a_hides = *b_hides = !are_apart(eye, a, b);
    for (int n = 0; (*a_hides || *b_hides) && n < NW_MESH_AXES; n++) {
        bool a_above = a->low[n] >= b->high[n] - touch, b_above = b->low[n] >= a->high[n] - touch;
        if (!a_above && !b_above)
            continue;
        const Entry *upper = a_above ? a : b, *lower = a_above ? b : a;
        bool *upper_hides = a_above ? a_hides : b_hides, *lower_hides = a_above ? b_hides : a_hides;
        if (eye->parallel) {
            *upper_hides = *upper_hides && eye->along[n] > 1e-6f;
            *lower_hides = *lower_hides && eye->along[n] < -1e-6f;
        } else {
            *upper_hides = *upper_hides && eye->along[n] > upper->low[n];
            *lower_hides = *lower_hides && eye->along[n] < lower->high[n];
        }
    }
    if (*a_hides && *b_hides) /* not disjoint after all: leave it to the key */
        *a_hides = *b_hides = false;
}

static void judge_pairs(NwOrder *order, const Eye *eye, size_t count, size_t words) {
    order->hides = nw_resize(order->hides, count * words, sizeof *order->hides);
    order->hidden = nw_resize(order->hidden, count, sizeof *order->hidden);
    memset(order->hides, 0, count * words * sizeof *order->hides);
    memset(order->hidden, 0, count * sizeof *order->hidden);
    for (size_t a = 0; a < count; a++)
        for (size_t b = a + 1; b < count; b++) {
            bool a_hides, b_hides;
            judge(eye, &order->entries[a], &order->entries[b], &a_hides, &b_hides);
            if (a_hides)
                order->hides[a * words + b / 64] |= UINT64_C(1) << b % 64;
            if (b_hides)
                order->hides[b * words + a / 64] |= UINT64_C(1) << a % 64;
            order->hidden[a] += a_hides;
            order->hidden[b] += b_hides;
        }
}

/* Takes out entries one by one; see the essay in the header. */
static void take_out(NwOrder *order, size_t count, size_t words) {
    for (size_t taken = 0; taken < count; taken++) {
        size_t best = count;
        for (size_t i = 0; i < count && (best == count || order->hidden[best]); i++)
            if (order->hidden[i] == 0 || (best == count && order->hidden[i] > 0))
                best = i;
        order->items[taken] = order->entries[best].item;
        order->hidden[best] = -1;
        for (size_t a = 0; a < count; a++)
            if (order->hidden[a] > 0 && order->hides[a * words + best / 64] >> best % 64 & 1)
                order->hidden[a]--;
    }
}

static bool same_offset(const NwSceneBody *a, const NwSceneBody *b) {
    return memcmp(a->offset, b->offset, sizeof a->offset) == 0;
}

const NwOrderItem *nw_order_sort(NwOrder *order, const NwScene *scene, const NwCamera *camera,
                                 bool ghosts_only, size_t *count) {
    Eye eye = eye_of(camera);
    const NwSceneBody *first = NULL;
    bool one_lattice = true;
    *count = 0;
    for (size_t i = 0; i < scene->body_count; i++) {
        const NwSceneBody *body = &scene->bodies[i];
        if (body->flags & NW_BODY_HIDDEN || (ghosts_only && !(body->flags & NW_BODY_GHOST)))
            continue;
        first = first ? first : body;
        one_lattice = one_lattice && same_offset(first, body);
        for (size_t g = 0; g < body->mesh->group_count; g++) {
            order->entries = nw_grow(order->entries, *count, &order->capacity, sizeof(Entry));
            Entry *entry = &order->entries[(*count)++];
            entry->item = (NwOrderItem){(unsigned)i, (unsigned)g};
            look_at(entry, &eye, body);
        }
    }
    if (*count)
        qsort(order->entries, *count, sizeof(Entry), compare);
    if (order->item_capacity < *count) {
        order->items = nw_resize(order->items, *count, sizeof *order->items);
        order->item_capacity = *count;
    }
    for (size_t i = 0; i < *count; i++)
        order->items[i] = order->entries[i].item;
    if (!one_lattice && *count <= NW_ORDER_PAIRS_MAX) {
        size_t words = (*count + 63) / 64;
        judge_pairs(order, &eye, *count, words);
        take_out(order, *count, words);
    }
    return order->items;
}
