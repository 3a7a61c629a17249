#include "lattice/surface.h"

#include <stdlib.h>

#include "base/memory.h"
#include "lattice/connect.h"

/* A seen face of a part. */
typedef struct Triangle {
    NwVec normal;
    int offset;
    NwVec vertices[3];
} Triangle;

/* A directed edge with the polygon to its left. `owner` is a triangle, later the least triangle of
 * the polygon that the edge bounds. */
typedef struct Side {
    NwVec from, to;
    size_t owner;
} Side;

/* A surface in the making: how many polygons it has room for matters only now. */
typedef struct Builder {
    NwSurface *surface;
    size_t capacity;
} Builder;

static int compare_triangles(const void *a, const void *b) {
    const Triangle *p = a, *q = b;
    int order = nw_vec_compare(p->normal, q->normal);
    if (order)
        return order;
    if (p->offset != q->offset)
        return p->offset < q->offset ? -1 : 1;
    for (int k = 0; k < 3; k++)
        if ((order = nw_vec_compare(p->vertices[k], q->vertices[k])))
            return order;
    return 0;
}

static bool same_plane(const Triangle *a, const Triangle *b) {
    return nw_vec_equal(a->normal, b->normal) && a->offset == b->offset;
}

static NwVec low_end(const Side *side) {
    return nw_vec_compare(side->from, side->to) < 0 ? side->from : side->to;
}

static NwVec high_end(const Side *side) {
    return nw_vec_compare(side->from, side->to) < 0 ? side->to : side->from;
}

/* Brings the two sides of one edge together. */
static int compare_edges(const void *a, const void *b) {
    int order = nw_vec_compare(low_end(a), low_end(b));
    return order ? order : nw_vec_compare(high_end(a), high_end(b));
}

/* Brings the sides of one polygon together, and those that leave one vertex. */
static int compare_sides(const void *a, const void *b) {
    const Side *p = a, *q = b;
    if (p->owner != q->owner)
        return p->owner < q->owner ? -1 : 1;
    int order = nw_vec_compare(p->from, q->from);
    return order ? order : nw_vec_compare(p->to, q->to);
}

static size_t seen_faces(const NwSolid *solid, Triangle **seen) {
    Triangle *triangles = NULL;
    size_t count = 0, capacity = 0;
    for (size_t i = 0; i < solid->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++) {
            NwPart part = {nw_cell_at(&solid->cells[i]), bit};
            if (!(solid->cells[i].mask >> bit & 1))
                continue;
            for (int face = 0; face < 4; face++) {
                if (nw_solid_has(solid, nw_part_across(part, face)))
                    continue;
                triangles = nw_grow(triangles, count, &capacity, sizeof *triangles);
                Triangle *t = &triangles[count++];
                nw_part_face(part, face, t->vertices);
                t->normal = nw_vec_cross(nw_vec_sub(t->vertices[1], t->vertices[0]),
                                         nw_vec_sub(t->vertices[2], t->vertices[0]));
                t->offset = nw_vec_dot(t->normal, t->vertices[0]);
            }
        }
    if (count)
        qsort(triangles, count, sizeof *triangles, compare_triangles);
    *seen = triangles;
    return count;
}

/* The side that goes on from sides[at]: turning from the way back through what is outside the
 * polygon, the first that leaves. `sides` are those of one polygon, sorted by vertex. */
static size_t next_side(const Side *sides, size_t count, NwVec normal, size_t at) {
    NwVec vertex = sides[at].to, back = nw_vec_sub(sides[at].from, vertex);
    size_t low = 0, high = count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (nw_vec_compare(sides[middle].from, vertex) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    size_t best = low;
    for (size_t i = low + 1; i < count && nw_vec_equal(sides[i].from, vertex); i++)
        if (nw_vec_meets_first(normal, back, nw_vec_sub(sides[i].to, vertex),
                               nw_vec_sub(sides[best].to, vertex)))
            best = i;
    return best;
}

/* The loop through sides[start], whose sides it marks. The least vertex of a loop is never in the
 * middle of a straight stretch, so a loop that starts there may drop straight vertices as it goes.
 */
static NwLoop trace(const Side *sides, size_t count, NwVec normal, size_t start, bool *used) {
    NwLoop loop = {NULL, 0};
    size_t capacity = 0;
    NwVec last = {0, 0, 0};
    size_t at = start;
    do {
        NwVec along = nw_vec_sub(sides[at].to, sides[at].from);
        if (!nw_vec_equal(along, last)) {
            loop.vertices = nw_grow(loop.vertices, loop.count, &capacity, sizeof(NwVec));
            loop.vertices[loop.count++] = sides[at].from;
        }
        last = along;
        used[at] = true;
        at = next_side(sides, count, normal, at);
    } while (at != start);
    return loop;
}

/* Makes one polygon from its sides. Loops come by their least vertices, so the outer one comes
 * first: the least vertex of all is its own. A hole can touch it even there, but leaves by a
 * later side, for the outer loop has both outermost sides of that corner. */
static void add_polygon(Builder *builder, const Triangle *plane, const Side *sides, size_t count) {
    NwSurface *surface = builder->surface;
    surface->polygons =
        nw_grow(surface->polygons, surface->count, &builder->capacity, sizeof(NwPolygon));
    NwPolygon *polygon = &surface->polygons[surface->count++];
    *polygon = (NwPolygon){plane->normal, plane->offset, NULL, 0};
    bool *used = nw_alloc(count, sizeof *used);
    size_t capacity = 0;
    for (size_t i = 0; i < count; i++) {
        if (used[i])
            continue;
        NwLoop loop = trace(sides, count, plane->normal, i, used);
        polygon->loops = nw_grow(polygon->loops, polygon->count, &capacity, sizeof(NwLoop));
        polygon->loops[polygon->count++] = loop;
    }
    free(used);
}

/* Groups by union and find: the root of a group is its least member. */
static size_t root_of(size_t *parent, size_t member) {
    while (parent[member] != member)
        member = parent[member] = parent[parent[member]];
    return member;
}

static void join(size_t *parent, size_t a, size_t b) {
    a = root_of(parent, a);
    b = root_of(parent, b);
    parent[a < b ? b : a] = a < b ? a : b;
}

/* Makes the polygons of one plane from its triangles. */
static void add_plane(Builder *builder, const Triangle *triangles, size_t count) {
    Side *sides = nw_alloc(3 * count, sizeof *sides);
    size_t *parent = nw_alloc(count, sizeof *parent);
    for (size_t i = 0; i < count; i++) {
        parent[i] = i;
        for (int k = 0; k < 3; k++)
            sides[3 * i + (size_t)k] =
                (Side){triangles[i].vertices[k], triangles[i].vertices[(k + 1) % 3], i};
    }
    qsort(sides, 3 * count, sizeof *sides, compare_edges);
    size_t rim = 0;
    for (size_t i = 0; i < 3 * count; i++)
        if (i + 1 < 3 * count && compare_edges(&sides[i], &sides[i + 1]) == 0) {
            join(parent, sides[i].owner, sides[i + 1].owner);
            i++;
        } else {
            sides[rim++] = sides[i];
        }
    for (size_t i = 0; i < rim; i++)
        sides[i].owner = root_of(parent, sides[i].owner);
    qsort(sides, rim, sizeof *sides, compare_sides);
    for (size_t first = 0, past; first < rim; first = past) {
        for (past = first; past < rim && sides[past].owner == sides[first].owner; past++)
            ;
        add_polygon(builder, triangles, &sides[first], past - first);
    }
    free(parent);
    free(sides);
}

NwSurface *nw_surface_new(const NwSolid *solid) {
    Builder builder = {nw_alloc(1, sizeof(NwSurface)), 0};
    Triangle *triangles;
    size_t count = seen_faces(solid, &triangles);
    for (size_t first = 0, past; first < count; first = past) {
        for (past = first; past < count && same_plane(&triangles[past], &triangles[first]); past++)
            ;
        add_plane(&builder, &triangles[first], past - first);
    }
    free(triangles);
    return builder.surface;
}

void nw_surface_free(NwSurface *surface) {
    if (!surface)
        return;
    for (size_t i = 0; i < surface->count; i++) {
        for (size_t k = 0; k < surface->polygons[i].count; k++)
            free(surface->polygons[i].loops[k].vertices);
        free(surface->polygons[i].loops);
    }
    free(surface->polygons);
    free(surface);
}

/* Every component of a loop's vector is its component along the normal, whose own are 0 or +-1. */
long nw_loop_area2(const NwLoop *loop, NwVec normal) {
    long sum = 0;
    for (size_t i = 1; i + 1 < loop->count; i++) {
        NwVec a = nw_vec_sub(loop->vertices[i], loop->vertices[0]);
        NwVec b = nw_vec_sub(loop->vertices[i + 1], loop->vertices[0]);
        sum += nw_vec_dot(nw_vec_cross(a, b), normal);
    }
    return sum / nw_vec_dot(normal, normal);
}

long nw_polygon_area2(const NwPolygon *polygon) {
    long sum = 0;
    for (size_t k = 0; k < polygon->count; k++)
        sum += nw_loop_area2(&polygon->loops[k], polygon->normal);
    return sum;
}

long nw_surface_volume6(const NwSurface *surface) {
    long sum = 0;
    for (size_t i = 0; i < surface->count; i++)
        sum += surface->polygons[i].offset * nw_polygon_area2(&surface->polygons[i]);
    return sum;
}
