#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "make/mesh/facets.h"
#include "make/mesh/fan.h"
#include "make/mesh/gap.h"

/* How far along an edge the faces are looked at; new vertices lie within some 5 of the old one. */
static const double FAR = 100;

/* What looking at one way takes, in steps of an effort. */
enum { PLAIN_STEPS = 2000 };

/* The faces, moved by `depth`, as a skin that is open far off. */
typedef struct Sample {
    const NwSpot *spot;
    const NwFanWay *way;
    double depth;
    NwOffsetSurface surface;
    size_t ends[NW_FAN_FACES_MAX]; /* the far end of each old edge */
} Sample;

static void scale_to(NwVec v, double length, double out[3]) {
    double factor = length / sqrt(nw_vec_dot(v, v));
    out[0] = factor * v.x;
    out[1] = factor * v.y;
    out[2] = factor * v.z;
}

/* The far end of an edge lies on the moved planes of both its faces: where those meet nearest to
 * the old line, and on along it. With unit normals p, q at an angle, that is -(p + q) / (1 + p.q).
 */
static void far_end(const Sample *sample, size_t edge, double out[3]) {
    double p[3], q[3], along[3];
    scale_to(sample->spot->normals[edge], 1, p);
    scale_to(sample->spot->normals[nw_spot_previous(sample->spot, edge)], 1, q);
    scale_to(nw_spot_ray(sample->spot, edge), FAR, along);
    double cosine = p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
    for (int k = 0; k < 3; k++)
        out[k] = along[k] - sample->depth * (p[k] + q[k]) / (1 + cosine);
}

/* Closes a face far off, from its edge `out` counter-clockwise to its edge `in`: over two points in
 * between, so that no step is half a turn or more. */
static size_t close_far(Sample *sample, size_t in, size_t out, NwVec normal, size_t *ring) {
    double a[3], b[3], n[3], left[3];
    size_t own = 0;
    scale_to(nw_spot_ray(sample->spot, out), 1, a);
    scale_to(nw_spot_ray(sample->spot, in), 1, b);
    scale_to(normal, 1, n);
    for (int k = 0; k < 3; k++)
        left[k] = n[(k + 1) % 3] * a[(k + 2) % 3] - n[(k + 2) % 3] * a[(k + 1) % 3];
    double turn = atan2(left[0] * b[0] + left[1] * b[1] + left[2] * b[2],
                        a[0] * b[0] + a[1] * b[1] + a[2] * b[2]);
    turn += turn < 1e-9 ? 2 * 3.14159265358979323846 : 0;
    for (int step = 1; step <= 2; step++) {
        double *p = sample->surface.points[sample->surface.point_count];
        double angle = turn * step / 3;
        for (int k = 0; k < 3; k++)
            p[k] = 2 * FAR * (cos(angle) * a[k] + sin(angle) * left[k]) - sample->depth * n[k];
        ring[own++] = sample->surface.point_count++;
    }
    return own;
}

/* Adds a moved face that the spot has only a point of: without end, and with a hole if that has
 * been broken through. */
static void add_open_face(Sample *sample, size_t place) {
    NwOffsetSurfaceFace *face = &sample->surface.faces[sample->surface.face_count++];
    const NwFanCorner *corner = &sample->way->corners[place];
    NwVec normal = sample->spot->normals[place];
    /* Three directions across the normal, counter-clockwise: those of the axes, less their share
     * along it; of a face of the cube, two axes and the opposite of their sum. */
    int axis = normal.x ? 0 : normal.y ? 1 : 2, sign = nw_vec_get(normal, axis);
    double n[3];
    scale_to(normal, 1, n);
    size_t *rim = nw_alloc(3, sizeof *rim);
    for (size_t i = 0; i < 3; i++) {
        static const int flat[3][2] = {{1, 0}, {0, 1}, {-1, -1}};
        double *p = sample->surface.points[sample->surface.point_count], along = 0;
        p[axis] = 0;
        p[(axis + 1) % 3] = 2 * FAR * flat[i][sign < 0];
        p[(axis + 2) % 3] = 2 * FAR * flat[i][sign > 0];
        for (int k = 0; k < 3; k++)
            along += p[k] * n[k];
        p[axis] -= along / n[axis];
        for (int k = 0; k < 3; k++)
            p[k] -= sample->depth * n[k];
        rim[i] = sample->surface.point_count++;
    }
    face->normal = normal;
    face->count = corner->count >= 3 ? 2 : 1;
    face->rings = nw_alloc(face->count, sizeof *face->rings);
    face->rings[0] = (NwOffsetSurfaceRing){rim, 3};
    if (face->count == 1)
        return;
    size_t *hole = nw_alloc(corner->count, sizeof *hole);
    for (size_t i = 0; i < corner->count; i++)
        hole[i] = corner->points[i];
    face->rings[1] = (NwOffsetSurfaceRing){hole, corner->count};
}

/* Adds the moved face that has the corner of a place: more than one old face where these have grown
 * together. */
static void add_face(Sample *sample, size_t start, bool *done) {
    NwOffsetSurfaceFace *face = &sample->surface.faces[sample->surface.face_count++];
    /* A point may lie on the corners of several faces that have grown together. */
    size_t capacity = 0, count = 0, place = start;
    do {
        capacity += 4 + sample->way->corners[place].count;
        place = sample->way->corners[place].leaves;
    } while (place != start);
    size_t *ring = nw_alloc(capacity, sizeof *ring);
    do {
        const NwFanCorner *corner = &sample->way->corners[place];
        done[place] = true;
        ring[count++] = sample->ends[nw_spot_next(sample->spot, place)];
        for (size_t i = 0; i < corner->count; i++)
            ring[count++] = corner->points[i];
        place = corner->leaves;
        ring[count++] = sample->ends[place];
        count += close_far(sample, nw_spot_next(sample->spot, place), place,
                           sample->spot->normals[place], &ring[count]);
    } while (place != start);
    face->normal = sample->spot->normals[start];
    face->count = 1;
    face->rings = nw_alloc(1, sizeof *face->rings);
    face->rings[0] = (NwOffsetSurfaceRing){ring, count};
}

/* The triangles of the faces as a way leaves them; NULL where a face crosses itself. */
static NwFacets *facets_of(Sample *sample) {
    size_t count = sample->spot->count;
    NwOffsetSurface *surface = &sample->surface;
    *surface = (NwOffsetSurface){
        .points = nw_alloc(sample->way->point_count + 3 * count, sizeof *surface->points),
        .point_count = sample->way->point_count,
        .faces = nw_alloc(count, sizeof *surface->faces)};
    memcpy(surface->points, sample->way->points, surface->point_count * sizeof *surface->points);
    size_t edged = nw_spot_has_point(sample->spot) ? count - 1 : count;
    for (size_t i = 0; i < edged; i++) {
        sample->ends[i] = surface->point_count++;
        far_end(sample, i, surface->points[sample->ends[i]]);
    }
    bool done[NW_FAN_FACES_MAX] = {false};
    for (size_t i = 0; i < edged; i++)
        if (!done[i])
            add_face(sample, i, done);
    if (edged < count)
        add_open_face(sample, edged);
    NwFacets *facets = nw_facets_new(surface, NULL);
    for (size_t f = 0; f < surface->face_count; f++) {
        for (size_t k = 0; k < surface->faces[f].count; k++)
            free(surface->faces[f].rings[k].points);
        free(surface->faces[f].rings);
    }
    free(surface->faces);
    free(surface->points);
    return facets;
}

bool nw_spot_is_plain(const NwSpot *spot, NwEffort *effort, const NwFanWay *way) {
    static const double nowhere[3] = {0, 0, 0};
    if (!nw_effort_spend(effort, PLAIN_STEPS))
        return false;
    Sample *sample = nw_alloc(1, sizeof *sample);
    *sample = (Sample){spot, way, .depth = 1};
    NwFacets *after = facets_of(sample);
    NwFanWay old = {.point_count = 1};
    for (size_t i = 0; i < spot->count; i++)
        old.corners[i] = (NwFanCorner){.leaves = i, .count = 1};
    *sample = (Sample){spot, &old, .depth = 0};
    NwFacets *before = facets_of(sample);
    NwNear near = {.mm = 1 - 1e-9};
    bool plain = before && after && !nw_facets_meet_themselves(after, 1e-6, &near) &&
                 !nw_facets_nearer(after, before, nowhere, nowhere, &near);
    nw_facets_free(after);
    nw_facets_free(before);
    free(sample);
    return plain;
}
