#include "make/mesh/facets.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "make/mesh/ears.h"
#include "make/mesh/flips.h"

NwFacets *nw_facets_new(const NwOffsetSurface *surface, NwProgress *progress) {
    NwFacets *facets = nw_alloc(1, sizeof *facets);
    facets->points = nw_alloc(surface->point_count, sizeof *facets->points);
    facets->point_count = surface->point_count;
    if (surface->point_count)
        memcpy(facets->points, surface->points, surface->point_count * sizeof *facets->points);
    for (size_t f = 0; f < surface->face_count; f++) {
        const NwOffsetSurfaceFace *face = &surface->faces[f];
        size_t(*triangles)[3];
        size_t count = nw_ears_cut(face, (const double(*)[3])surface->points, progress, &triangles);
        nw_flips_make((const double(*)[3])surface->points, face->normal, progress, triangles,
                      count);
        facets->facets =
            nw_resize(facets->facets, facets->facet_count + count, sizeof *facets->facets);
        for (size_t i = 0; i < count; i++) {
            NwFacet *facet = &facets->facets[facets->facet_count++];
            memcpy(facet->points, triangles[i], sizeof facet->points);
            facet->normal = face->normal;
        }
        free(triangles);
        if (!count) {
            nw_facets_free(facets);
            return NULL;
        }
    }
    return facets;
}

NwFacets *nw_facets_copy(const NwFacets *facets) {
    NwFacets *copy = nw_alloc(1, sizeof *copy);
    nw_facets_add(copy, facets);
    return copy;
}

void nw_facets_free(NwFacets *facets) {
    if (!facets)
        return;
    free(facets->points);
    free(facets->facets);
    free(facets);
}

void nw_facets_move(NwFacets *facets, double rows[3][3], const double shift_mm[3]) {
    for (size_t i = 0; i < facets->point_count; i++) {
        double old[3];
        memcpy(old, facets->points[i], sizeof old);
        for (int k = 0; k < 3; k++)
            facets->points[i][k] =
                rows[k][0] * old[0] + rows[k][1] * old[1] + rows[k][2] * old[2] + shift_mm[k];
    }
}

void nw_facets_add(NwFacets *facets, const NwFacets *more) {
    size_t points = facets->point_count, own = facets->facet_count;
    facets->points = nw_resize(facets->points, points + more->point_count, sizeof *facets->points);
    facets->facets = nw_resize(facets->facets, own + more->facet_count, sizeof *facets->facets);
    if (more->point_count)
        memcpy(facets->points + points, more->points, more->point_count * sizeof *more->points);
    for (size_t i = 0; i < more->facet_count; i++) {
        facets->facets[own + i] = more->facets[i];
        for (int k = 0; k < 3; k++)
            facets->facets[own + i].points[k] += points;
    }
    facets->point_count += more->point_count;
    facets->facet_count += more->facet_count;
}

static void cross(const double a[3], const double b[3], double out[3]) {
    for (int k = 0; k < 3; k++)
        out[k] = a[(k + 1) % 3] * b[(k + 2) % 3] - a[(k + 2) % 3] * b[(k + 1) % 3];
}

static double dot(const double a[3], const double b[3]) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/* Twice the facet's area times its normal. */
static void area_vector(const NwFacets *facets, size_t i, double out[3]) {
    const double *a = facets->points[facets->facets[i].points[0]];
    double b[3], c[3];
    for (int k = 0; k < 3; k++) {
        b[k] = facets->points[facets->facets[i].points[1]][k] - a[k];
        c[k] = facets->points[facets->facets[i].points[2]][k] - a[k];
    }
    cross(b, c, out);
}

double nw_facets_volume_mm3(const NwFacets *facets) {
    double sum = 0;
    for (size_t i = 0; i < facets->facet_count; i++) {
        double area[3], from[3];
        area_vector(facets, i, area);
        for (int k = 0; k < 3; k++)
            from[k] = facets->points[facets->facets[i].points[0]][k] - facets->points[0][k];
        sum += dot(area, from);
    }
    return sum / 6;
}

double nw_facets_area_mm2(const NwFacets *facets) {
    double sum = 0;
    for (size_t i = 0; i < facets->facet_count; i++) {
        double area[3];
        area_vector(facets, i, area);
        sum += sqrt(dot(area, area));
    }
    return sum / 2;
}

void nw_facets_bounds(const NwFacets *facets, double low_mm[3], double high_mm[3]) {
    for (int k = 0; k < 3; k++) {
        low_mm[k] = INFINITY;
        high_mm[k] = -INFINITY;
        for (size_t i = 0; i < facets->point_count; i++) {
            low_mm[k] = fmin(low_mm[k], facets->points[i][k]);
            high_mm[k] = fmax(high_mm[k], facets->points[i][k]);
        }
    }
}

static int compare_pairs(const void *a, const void *b) {
    return memcmp(a, b, 2 * sizeof(size_t));
}

bool nw_facets_are_closed(const NwFacets *facets) {
    size_t count = 3 * facets->facet_count;
    size_t(*ways)[2] = nw_alloc(count, sizeof *ways), (*back)[2] = nw_alloc(count, sizeof *back);
    for (size_t i = 0; i < count; i++) {
        size_t from = facets->facets[i / 3].points[i % 3];
        size_t to = facets->facets[i / 3].points[(i + 1) % 3];
        ways[i][0] = back[i][1] = from;
        ways[i][1] = back[i][0] = to;
    }
    qsort(ways, count, sizeof *ways, compare_pairs);
    qsort(back, count, sizeof *back, compare_pairs);
    bool closed = count > 0 && memcmp(ways, back, count * sizeof *ways) == 0;
    for (size_t i = 1; i < count && closed; i++)
        closed = memcmp(ways[i - 1], ways[i], sizeof *ways) != 0;
    free(ways);
    free(back);
    return closed;
}
