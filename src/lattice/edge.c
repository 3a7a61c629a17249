#include "lattice/edge.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

/* One step of a polygon's rim: from one vertex of the lattice to the next on a straight line. */
typedef struct Step {
    NwVec low, high;
    size_t owner;
    bool rising; /* the polygon runs from low to high */
} Step;

static int compare_steps(const void *a, const void *b) {
    const Step *p = a, *q = b;
    int order = nw_vec_compare(p->low, q->low);
    return order ? order : nw_vec_compare(p->high, q->high);
}

static int largest_component(NwVec v) {
    int x = abs(v.x), y = abs(v.y), z = abs(v.z);
    return x > y ? (x > z ? x : z) : (y > z ? y : z);
}

/* Cuts all sides of all loops into steps. Sides run along cube axes or face diagonals, so their
 * largest component is the number of their steps. */
static size_t cut_into_steps(const NwSurface *surface, Step **steps) {
    Step *list = NULL;
    size_t count = 0, capacity = 0;
    for (size_t i = 0; i < surface->count; i++)
        for (size_t k = 0; k < surface->polygons[i].count; k++) {
            const NwLoop *loop = &surface->polygons[i].loops[k];
            for (size_t at = 0; at < loop->count; at++) {
                NwVec from = loop->vertices[at], to = loop->vertices[(at + 1) % loop->count];
                NwVec way = nw_vec_sub(to, from);
                int length = largest_component(way);
                NwVec unit = nw_vec(way.x / length, way.y / length, way.z / length);
                bool rising = nw_vec_compare(from, to) < 0;
                for (int s = 0; s < length; s++) {
                    NwVec a = nw_vec_add(from, nw_vec_scale(unit, s)), b = nw_vec_add(a, unit);
                    list = nw_grow(list, count, &capacity, sizeof *list);
                    list[count++] = (Step){rising ? a : b, rising ? b : a, i, rising};
                }
            }
        }
    if (count)
        qsort(list, count, sizeof *list, compare_steps);
    *steps = list;
    return count;
}

/* The direction, across the step, in which its polygon lies. */
static NwVec inward(const NwSurface *surface, const Step *step) {
    NwVec along = nw_vec_sub(step->high, step->low);
    NwVec in = nw_vec_cross(surface->polygons[step->owner].normal, along);
    return step->rising ? in : nw_vec_scale(in, -1);
}

/* Turning counter-clockwise about low -> high one enters the solid at a falling step and leaves it
 * at the next rising one. The same in all steps of one line: they alternate. */
static const Step *partner(const NwSurface *surface, const Step *steps, size_t count,
                           const Step *falling) {
    NwVec axis = nw_vec_sub(falling->high, falling->low), start = inward(surface, falling);
    const Step *best = NULL;
    for (size_t i = 0; i < count; i++)
        if (steps[i].rising && (!best || nw_vec_meets_first(axis, start, inward(surface, &steps[i]),
                                                            inward(surface, best))))
            best = &steps[i];
    return best;
}

static NwEdge edge_between(const NwSurface *surface, const Step *left, const Step *right) {
    NwVec n = surface->polygons[left->owner].normal, m = surface->polygons[right->owner].normal;
    return (NwEdge){
        .from = left->low,
        .to = left->high,
        .left = left->owner,
        .right = right->owner,
        .dot = nw_vec_dot(n, m),
        .norms2 = nw_vec_dot(n, n) * nw_vec_dot(m, m),
        .reflex = nw_vec_dot(inward(surface, left), m) > 0,
    };
}

/* A line of space by its direction and its moment (Pluecker's coordinates). */
static int compare_lines(const NwEdge *a, const NwEdge *b) {
    NwVec along_a = nw_vec_sub(a->to, a->from), along_b = nw_vec_sub(b->to, b->from);
    int order = nw_vec_compare(along_a, along_b);
    return order ? order
                 : nw_vec_compare(nw_vec_cross(a->from, along_a), nw_vec_cross(b->from, along_b));
}

/* By polygons, then by line: only for edges of one step. */
static int compare_runs(const NwEdge *a, const NwEdge *b) {
    if (a->left != b->left)
        return a->left < b->left ? -1 : 1;
    if (a->right != b->right)
        return a->right < b->right ? -1 : 1;
    return compare_lines(a, b);
}

static int compare_edges(const void *a, const void *b) {
    const NwEdge *p = a, *q = b;
    int order = compare_runs(p, q);
    return order ? order : nw_vec_compare(p->from, q->from);
}

/* Makes one edge of steps that follow each other; returns how many are left. */
static size_t merge(NwEdge *edges, size_t count) {
    size_t merged = 0;
    for (size_t first = 0, past; first < count; first = past) {
        NwEdge whole = edges[first];
        for (past = first + 1; past < count && compare_runs(&edges[first], &edges[past]) == 0 &&
                               nw_vec_equal(whole.to, edges[past].from);
             past++)
            whole.to = edges[past].to;
        edges[merged++] = whole;
    }
    return merged;
}

size_t nw_surface_edges(const NwSurface *surface, NwEdge **edges) {
    Step *steps;
    size_t count = cut_into_steps(surface, &steps);
    NwEdge *list = nw_alloc(count / 2, sizeof *list);
    size_t found = 0;
    for (size_t first = 0, past; first < count; first = past) {
        for (past = first; past < count && compare_steps(&steps[first], &steps[past]) == 0; past++)
            ;
        for (size_t i = first; i < past; i++) {
            if (steps[i].rising)
                continue;
            const Step *left = partner(surface, &steps[first], past - first, &steps[i]);
            list[found++] = edge_between(surface, left, &steps[i]);
        }
    }
    free(steps);
    qsort(list, found, sizeof *list, compare_edges);
    *edges = list;
    return merge(list, found);
}

double nw_edge_degrees(const NwEdge *edge) {
    double angle = acos(-edge->dot / sqrt(edge->norms2)) * 180 / acos(-1.0);
    return edge->reflex ? 360 - angle : angle;
}
