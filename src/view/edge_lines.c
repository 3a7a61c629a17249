#include "view/edge_lines.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

/* A step, filed under one of its ends and its polygon's plane. */
typedef struct Step {
    NwVec normal;
    NwVec end, from, to;
    NwVec beyond;
    int offset;
} Step;

struct NwEdgeLines {
    Step *steps; /* each step twice: under its first end and under its second */
    size_t count;
};

static int compare(const void *a, const void *b) {
    const Step *p = a, *q = b;
    int order = nw_vec_compare(p->end, q->end);
    return order ? order : nw_vec_compare(p->normal, q->normal);
}

static int largest(NwVec v) {
    int x = abs(v.x), y = abs(v.y), z = abs(v.z);
    return x > y ? (x > z ? x : z) : (y > z ? y : z);
}

/* Files the steps of an edge under the polygon to the left of from -> to. */
static void add_steps(NwEdgeLines *rim, size_t *capacity, const NwPolygon *polygon,
                      const NwPolygon *beyond, NwVec from, NwVec to) {
    NwVec way = nw_vec_sub(to, from);
    int length = largest(way);
    NwVec unit = nw_vec(way.x / length, way.y / length, way.z / length);
    for (int s = 0; s < length; s++) {
        NwVec a = nw_vec_add(from, nw_vec_scale(unit, s)), b = nw_vec_add(a, unit);
        for (int k = 0; k < 2; k++) {
            rim->steps = nw_grow(rim->steps, rim->count, capacity, sizeof(Step));
            rim->steps[rim->count++] =
                (Step){polygon->normal, k ? b : a, a, b, beyond->normal, beyond->offset};
        }
    }
}

NwEdgeLines *nw_edge_lines_new(const NwSurface *surface, const NwEdge *edges, size_t edge_count) {
    NwEdgeLines *rim = nw_alloc(1, sizeof *rim);
    size_t capacity = 0;
    for (size_t i = 0; i < edge_count; i++) {
        const NwEdge *edge = &edges[i];
        const NwPolygon *left = &surface->polygons[edge->left];
        const NwPolygon *right = &surface->polygons[edge->right];
        add_steps(rim, &capacity, left, right, edge->from, edge->to);
        add_steps(rim, &capacity, right, left, edge->to, edge->from);
    }
    if (rim->count)
        qsort(rim->steps, rim->count, sizeof *rim->steps, compare);
    return rim;
}

void nw_edge_lines_free(NwEdgeLines *rim) {
    if (!rim)
        return;
    free(rim->steps);
    free(rim);
}

/* The first step filed under this vertex in the plane of this normal; *count says how many. */
static const Step *steps_at(const NwEdgeLines *rim, NwVec vertex, NwVec normal, size_t *count) {
    Step wanted = {.normal = normal, .end = vertex};
    size_t low = 0, high = rim->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (compare(&rim->steps[middle], &wanted) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    size_t past = low;
    while (past < rim->count && compare(&rim->steps[past], &wanted) == 0)
        past++;
    *count = past - low;
    return rim->steps + low;
}

/* How far a point of the plane lies to the left of a step's line, as a multiple of `unit`. */
static int left_of(const Step *step, NwVec point, double *unit) {
    NwVec along = nw_vec_sub(step->to, step->from);
    NwVec in = nw_vec_cross(step->normal, along);
    *unit = 1 / sqrt(nw_vec_dot(in, in));
    return nw_vec_dot(in, nw_vec_sub(point, step->from));
}

static NwEdgeLine line_of(const Step *step, const NwVec triangle[3]) {
    NwEdgeLine line = {.beyond = step->beyond, .offset = step->offset};
    for (int v = 0; v < 3; v++) {
        double unit;
        int left = left_of(step, triangle[v], &unit);
        line.distance[v] = (float)(left * unit);
    }
    return line;
}

/* Whether the triangle lies to the left of the step's line and touches it at vertex k alone. */
static bool touches(const Step *step, const NwVec triangle[3], int k) {
    for (int v = 0; v < 3; v++) {
        double unit;
        int left = left_of(step, triangle[v], &unit);
        if (v == k ? left != 0 : left <= 0)
            return false;
    }
    return true;
}

static bool is_listed(const NwEdgeLine *lines, int count, const NwEdgeLine *line) {
    for (int i = 0; i < count; i++)
        if (lines[i].distance[0] == line->distance[0] &&
            lines[i].distance[1] == line->distance[1] && lines[i].distance[2] == line->distance[2])
            return true;
    return false;
}

void nw_edge_lines_get(const NwEdgeLines *rim, NwVec normal, const NwVec triangle[3], int most,
                       float none, NwEdgeLine *lines) {
    for (int i = 0; i < most; i++)
        lines[i] = (NwEdgeLine){{none, none, none}, normal, 0};
    int used = 3;
    for (int k = 0; k < 3; k++) {
        size_t count;
        const Step *steps = steps_at(rim, triangle[k], normal, &count);
        for (size_t i = 0; i < count; i++) {
            NwEdgeLine line = line_of(&steps[i], triangle);
            if (nw_vec_equal(steps[i].from, triangle[k]) &&
                nw_vec_equal(steps[i].to, triangle[(k + 1) % 3]))
                lines[k] = line;
            else if (used < most && touches(&steps[i], triangle, k) &&
                     !is_listed(lines + 3, used - 3, &line))
                lines[used++] = line;
        }
    }
}
