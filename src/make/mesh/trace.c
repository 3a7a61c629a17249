#include "make/mesh/trace.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

/* What is left of an old edge must be longer than this, in millimetres. */
static const double LEAST_MM = 1e-3;

/* A corner of the shell's rims. */
typedef struct Corner {
    size_t face, next; /* the next corner of its rim */
    size_t fan, place;
} Corner;

typedef struct Traced {
    NwOffsetSurfaceRing ring;
    size_t face; /* the least face that it bounds */
    double area;
    bool taken;
} Traced;

typedef struct Tracer {
    const NwManifold *manifold;
    const NwOpening *openings;
    NwOffsetSurface *surface;
    NwThin *thin;
    Corner *corners;
    size_t count;
    size_t *starts; /* of each fan, where its places begin in `at_place` */
    size_t *at_place;
    size_t *parent; /* faces that have grown together, by union and find */
    Traced *rings;
    size_t ring_count, ring_capacity;
} Tracer;

static size_t root_of(size_t *parent, size_t member) {
    while (parent[member] != member)
        member = parent[member] = parent[parent[member]];
    return member;
}

static void list_corners(Tracer *tracer) {
    const NwManifold *manifold = tracer->manifold;
    size_t count = 0;
    tracer->starts = nw_alloc(manifold->fan_count + 1, sizeof(size_t));
    for (size_t v = 0; v < manifold->fan_count; v++) {
        tracer->starts[v] = count;
        count += manifold->fans[v].count;
    }
    tracer->at_place = nw_alloc(count, sizeof(size_t));
    tracer->corners = nw_alloc(count, sizeof(Corner));
    for (size_t f = 0; f < manifold->face_count; f++)
        for (size_t k = 0; k < manifold->faces[f].count; k++) {
            const NwManifoldRim *rim = &manifold->faces[f].rims[k];
            size_t first = tracer->count;
            for (size_t i = 0; i < rim->count; i++) {
                NwManifoldCorner c = rim->corners[i];
                size_t next = i + 1 < rim->count ? first + i + 1 : first;
                tracer->at_place[tracer->starts[c.fan] + c.place] = tracer->count;
                tracer->corners[tracer->count++] = (Corner){f, next, c.fan, c.place};
            }
        }
}

/* What the rim does at a corner. */
static const NwFanCorner *passed_at(const Tracer *tracer, size_t at) {
    const Corner *c = &tracer->corners[at];
    const NwOpening *opening = &tracer->openings[c->fan];
    size_t before = c->fan == opening->fans[0] ? 0 : opening->first_count;
    return &opening->way->corners[before + c->place];
}

/* The corner from which the rim that comes in at one goes out. */
static size_t leaves_at(const Tracer *tracer, size_t at) {
    const NwOpening *opening = &tracer->openings[tracer->corners[at].fan];
    size_t place = passed_at(tracer, at)->leaves;
    bool second = place >= opening->first_count;
    return tracer->at_place[tracer->starts[opening->fans[second]] + place -
                            (second ? opening->first_count : 0)];
}

/* Faces that a rim passes between have grown together. */
static void join_faces(Tracer *tracer) {
    size_t count = tracer->manifold->face_count;
    tracer->parent = nw_alloc(count, sizeof(size_t));
    for (size_t f = 0; f < count; f++)
        tracer->parent[f] = f;
    for (size_t i = 0; i < tracer->count; i++) {
        size_t a = root_of(tracer->parent, tracer->corners[i].face);
        size_t b = root_of(tracer->parent, tracer->corners[leaves_at(tracer, i)].face);
        tracer->parent[a < b ? b : a] = a < b ? a : b;
    }
}

/* How far it is from point p to q along a lattice direction. */
static double ahead(const NwOffsetSurface *surface, size_t p, size_t q, NwVec way) {
    double sum = 0;
    for (int k = 0; k < 3; k++)
        sum += (surface->points[q][k] - surface->points[p][k]) * nw_vec_get(way, k);
    return sum / sqrt(nw_vec_dot(way, way));
}

static bool edge_vanishes(Tracer *tracer, NwVec from, NwVec to) {
    *tracer->thin = (NwThin){NW_THIN_EDGE, from, to};
    return false;
}

/* The corner that the rim comes to after corner `at`. */
static size_t step(const Tracer *tracer, size_t at) {
    return tracer->corners[leaves_at(tracer, at)].next;
}

static NwVec vertex_at(const Tracer *tracer, size_t at) {
    return tracer->manifold->fans[tracer->corners[at].fan].at;
}

/* Adds the points of a corner to a ring. */
static void pass(const Tracer *tracer, size_t at, NwOffsetSurfaceRing *ring, size_t *capacity) {
    const NwFanCorner *passed = passed_at(tracer, at);
    size_t first = tracer->openings[tracer->corners[at].fan].first_point;
    for (size_t i = 0; i < passed->count; i++) {
        ring->points = nw_grow(ring->points, ring->count, capacity, sizeof(size_t));
        ring->points[ring->count++] = first + passed->points[i];
    }
}

/* Follows the rim that comes in at a corner, all the way round, and sees to it that every old edge
 * still runs its way. */
static bool follow(Tracer *tracer, size_t start, bool *done) {
    Traced traced = {.face = root_of(tracer->parent, tracer->corners[start].face)};
    size_t capacity = 0, corners = 1;
    for (size_t at = step(tracer, start); at != start; at = step(tracer, at))
        corners++;
    for (size_t i = 0; i < corners && !passed_at(tracer, start)->count; i++)
        start = step(tracer, start);
    NwVec from = {0, 0, 0};
    bool hold = true;
    for (size_t i = 0, at = start; i <= corners && hold; i++, at = step(tracer, at)) {
        size_t last = traced.ring.count;
        NwVec to = vertex_at(tracer, at);
        done[at] = true;
        if (i < corners)
            pass(tracer, at, &traced.ring, &capacity);
        else if (traced.ring.count < 3)
            hold = edge_vanishes(tracer, from, to);
        const NwFanCorner *passed = passed_at(tracer, at);
        if (i && passed->count && hold &&
            ahead(tracer->surface, traced.ring.points[last - 1],
                  tracer->openings[tracer->corners[at].fan].first_point + passed->points[0],
                  nw_vec_sub(to, from)) < LEAST_MM)
            hold = edge_vanishes(tracer, from, to);
        from = to;
    }
    if (!hold) {
        free(traced.ring.points);
        return false;
    }
    tracer->rings =
        nw_grow(tracer->rings, tracer->ring_count, &tracer->ring_capacity, sizeof(Traced));
    tracer->rings[tracer->ring_count++] = traced;
    return true;
}

/* Places in the plane of the face, counter-clockwise as seen from outside. */
static void flat_of(const Tracer *tracer, const Traced *traced, size_t i, double flat[2]) {
    NwVec normal = tracer->manifold->faces[traced->face].normal;
    const double *p = tracer->surface->points[traced->ring.points[i % traced->ring.count]];
    int axis = normal.x ? 0 : normal.y ? 1 : 2;
    bool front = nw_vec_get(normal, axis) > 0;
    flat[!front] = p[(axis + 1) % 3];
    flat[front] = p[(axis + 2) % 3];
}

static void measure(const Tracer *tracer, Traced *traced) {
    for (size_t i = 0; i < traced->ring.count; i++) {
        double a[2], b[2], origin[2];
        flat_of(tracer, traced, 0, origin);
        flat_of(tracer, traced, i, a);
        flat_of(tracer, traced, i + 1, b);
        traced->area +=
            (a[0] - origin[0]) * (b[1] - origin[1]) - (b[0] - origin[0]) * (a[1] - origin[1]);
    }
}

/* Whether most points of a hole lie within an outer ring: some may lie on it. */
static bool is_within(const Tracer *tracer, const Traced *hole, const Traced *outer) {
    size_t inside = 0;
    for (size_t i = 0; i < hole->ring.count; i++) {
        double p[2], a[2], b[2];
        bool in = false;
        flat_of(tracer, hole, i, p);
        for (size_t k = 0; k < outer->ring.count; k++) {
            flat_of(tracer, outer, k, a);
            flat_of(tracer, outer, k + 1, b);
            if ((a[1] > p[1]) != (b[1] > p[1]) &&
                p[0] < a[0] + (b[0] - a[0]) * (p[1] - a[1]) / (b[1] - a[1]))
                in = !in;
        }
        inside += in;
    }
    return 2 * inside > hole->ring.count;
}

static void add_ring(NwOffsetSurfaceFace *face, Traced *traced) {
    face->rings = nw_resize(face->rings, face->count + 1, sizeof *face->rings);
    face->rings[face->count++] = traced->ring;
    traced->taken = true;
}

/* Makes a face of every outer ring and its holes. */
static bool gather(Tracer *tracer) {
    NwOffsetSurface *surface = tracer->surface;
    size_t left = tracer->ring_count, outers = 0;
    for (size_t i = 0; i < tracer->ring_count; i++) {
        measure(tracer, &tracer->rings[i]);
        outers += tracer->rings[i].area > 0;
    }
    surface->faces = nw_alloc(outers, sizeof *surface->faces);
    for (size_t i = 0; i < tracer->ring_count; i++) {
        Traced *outer = &tracer->rings[i];
        if (outer->area <= 0)
            continue;
        NwOffsetSurfaceFace *face = &surface->faces[surface->face_count++];
        face->normal = tracer->manifold->faces[outer->face].normal;
        add_ring(face, outer);
        left--;
        for (size_t k = 0; k < tracer->ring_count; k++) {
            Traced *hole = &tracer->rings[k];
            if (hole->face != outer->face || hole->area > 0 || hole->taken ||
                !is_within(tracer, hole, outer))
                continue;
            add_ring(face, hole);
            left--;
        }
    }
    for (size_t i = 0; i < tracer->ring_count; i++)
        if (!tracer->rings[i].taken) {
            NwVec at =
                tracer->manifold
                    ->fans[tracer->manifold->faces[tracer->rings[i].face].rims[0].corners[0].fan]
                    .at;
            *tracer->thin = (NwThin){NW_THIN_WALL, at, at};
            free(tracer->rings[i].ring.points);
        }
    return left == 0;
}

/* A point within a face, which nothing has broken through. */
static bool is_point(const Tracer *tracer, size_t at) {
    return tracer->corners[at].next == at && !passed_at(tracer, at)->count;
}

bool nw_trace_faces(const NwManifold *manifold, const NwOpening *openings, NwOffsetSurface *surface,
                    NwThin *thin) {
    Tracer tracer = {.manifold = manifold, .openings = openings, .surface = surface, .thin = thin};
    list_corners(&tracer);
    join_faces(&tracer);
    bool *done = nw_alloc(tracer.count, sizeof *done), traced = true;
    for (size_t i = 0; i < tracer.count && traced; i++)
        if (!done[i] && !is_point(&tracer, i))
            traced = follow(&tracer, i, done);
    if (traced)
        traced = gather(&tracer);
    else
        for (size_t i = 0; i < tracer.ring_count; i++)
            free(tracer.rings[i].ring.points);
    free(done);
    free(tracer.rings);
    free(tracer.parent);
    free(tracer.corners);
    free(tracer.at_place);
    free(tracer.starts);
    return traced;
}
