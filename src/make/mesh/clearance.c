#include "make/mesh/clearance.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "lattice/number_text.h"
#include "make/mesh/facets.h"
#include "make/mesh/gap.h"
#include "make/mesh/trace.h"

/* Faces of a skin that come closer to each other than this, in millimetres, meet. */
static const double LEAST_MM = 1e-6;

/* What opening the vertices of one piece may take, in steps: half a second or so. */
static const long OPENING_STEPS = 10000000;

/* The fans of a shell with their ways; `ways` has room for each. */
typedef struct Opener {
    const NwManifold *manifold;
    NwEffort *effort;
    NwFanWay *ways;
    NwOpening *openings;
} Opener;

/* Without clearance a vertex stays one, and rims keep to their faces; so do those of a point within
 * an edge or a face, which is no vertex. */
static void leave_closed(Opener *opener, size_t v) {
    size_t count = opener->manifold->fans[v].count, points = count > 2;
    opener->ways[v] = (NwFanWay){.point_count = points};
    for (size_t i = 0; i < count; i++)
        opener->ways[v].corners[i] = (NwFanCorner){.leaves = i, .count = points};
}

static void add_to_spot(const NwManifold *manifold, const NwFan *fan, NwSpot *spot) {
    for (size_t i = 0; i < fan->count; i++) {
        spot->normals[spot->count] = manifold->faces[fan->faces[i]].normal;
        spot->reflex[spot->count++] = fan->reflex[i];
    }
}

static bool open_fan(Opener *opener, size_t v) {
    const NwFan *fan = &opener->manifold->fans[v];
    NwSpot spot = {.count = 0};
    if (fan->count < 3) {
        leave_closed(opener, v);
        return true;
    }
    add_to_spot(opener->manifold, fan, &spot);
    spot.first_count = spot.count;
    return nw_spot_open(&spot, opener->effort, &opener->ways[v]);
}

/* Two ways side by side, as the way of a spot of two fans. */
static void put_together(const NwFanWay *a, const NwFanWay *b, const NwSpot *spot, NwFanWay *both) {
    *both = *a;
    for (size_t i = 0; i < b->point_count; i++)
        memcpy(both->points[both->point_count + i], b->points[i], sizeof b->points[i]);
    for (size_t i = spot->first_count; i < spot->count; i++) {
        NwFanCorner *corner = &both->corners[i];
        *corner = b->corners[i - spot->first_count];
        corner->leaves += spot->first_count;
        for (size_t k = 0; k < corner->count; k++)
            corner->points[k] += a->point_count;
    }
    both->point_count += b->point_count;
}

/* Two fans at one place that have been opened each for itself: if they are in each other's way,
 * they are opened together. False where that cannot be done. */
static bool settle(Opener *opener, size_t v, size_t w) {
    const NwFan *first = &opener->manifold->fans[v], *second = &opener->manifold->fans[w];
    NwSpot spot = {.count = 0};
    NwFanWay *both = &(NwFanWay){.point_count = 0};
    if (opener->ways[v].point_count + opener->ways[w].point_count > NW_FAN_FACES_MAX ||
        first->count + second->count > NW_FAN_FACES_MAX)
        return true; /* not looked into: the measuring of the skin will tell */
    add_to_spot(opener->manifold, first, &spot);
    spot.first_count = spot.count;
    add_to_spot(opener->manifold, second, &spot);
    put_together(&opener->ways[v], &opener->ways[w], &spot, both);
    if (nw_spot_is_plain(&spot, opener->effort, both))
        return true;
    if (!nw_spot_open(&spot, opener->effort, both))
        return false;
    opener->ways[v] = *both;
    opener->openings[w].way = opener->openings[v].way;
    opener->openings[v].fans[1] = opener->openings[w].fans[1] = w;
    opener->openings[w].fans[0] = v;
    opener->openings[w].first_count = first->count;
    return true;
}

static bool is_single(const Opener *opener, size_t v) {
    return opener->openings[v].fans[0] == opener->openings[v].fans[1];
}

static bool open_all(Opener *opener, NwThin *thin) {
    const NwManifold *manifold = opener->manifold;
    for (size_t v = 0; v < manifold->fan_count; v++) {
        bool open = open_fan(opener, v);
        for (size_t w = 0; w < v && open; w++)
            if (nw_vec_equal(manifold->fans[v].at, manifold->fans[w].at) && is_single(opener, v) &&
                is_single(opener, w))
                open = settle(opener, w, v);
        if (!open) {
            NwThinKind kind = opener->effort->left > 0 ? NW_THIN_VERTEX : NW_THIN_EFFORT;
            *thin = (NwThin){kind, manifold->fans[v].at, manifold->fans[v].at};
            return false;
        }
    }
    return true;
}

/* Places the new vertices; of two fans opened together, the first has them. */
static void place_points(const Opener *opener, double cell_mm, double clearance_mm,
                         NwOffsetSurface *surface) {
    size_t capacity = 0;
    for (size_t v = 0; v < opener->manifold->fan_count; v++) {
        NwOpening *opening = &opener->openings[v];
        opening->first_point = opening->fans[0] == v
                                   ? surface->point_count
                                   : opener->openings[opening->fans[0]].first_point;
        for (size_t i = 0; i < opening->way->point_count && opening->fans[0] == v; i++) {
            surface->points =
                nw_grow(surface->points, surface->point_count, &capacity, sizeof *surface->points);
            for (int k = 0; k < 3; k++)
                surface->points[surface->point_count][k] =
                    nw_vec_get(opener->manifold->fans[v].at, k) * cell_mm +
                    opening->way->points[i][k] * clearance_mm;
            surface->point_count++;
        }
    }
}

/* The skin of a shell whose faces move by `clearance_mm`, not yet measured. */
static NwOffsetSurface *make_skin(const NwManifold *manifold, double cell_mm, double clearance_mm,
                                  NwProgress *progress, NwThin *thin) {
    NwEffort effort = {progress, OPENING_STEPS, 0};
    Opener opener = {manifold, &effort, nw_alloc(manifold->fan_count, sizeof(NwFanWay)),
                     nw_alloc(manifold->fan_count, sizeof(NwOpening))};
    NwOffsetSurface *surface = nw_alloc(1, sizeof *surface);
    *thin = (NwThin){NW_THIN_NOT};
    for (size_t v = 0; v < manifold->fan_count; v++) {
        opener.openings[v] = (NwOpening){&opener.ways[v], 0, {v, v}, manifold->fans[v].count};
        if (clearance_mm == 0)
            leave_closed(&opener, v);
    }
    if (clearance_mm == 0 || open_all(&opener, thin)) {
        place_points(&opener, cell_mm, clearance_mm, surface);
        nw_trace_faces(manifold, opener.openings, surface, thin);
    }
    free(opener.ways);
    free(opener.openings);
    if (thin->kind == NW_THIN_NOT)
        return surface;
    nw_offset_surface_free(surface);
    return NULL;
}

static NwVec nearest_vertex(double cell_mm, const double point[3]) {
    return nw_vec((int)lround(point[0] / cell_mm), (int)lround(point[1] / cell_mm),
                  (int)lround(point[2] / cell_mm));
}

/* Measures the new surface against the old one, and against itself. */
static bool walls_hold(const NwManifold *manifold, const NwOffsetSurface *surface, double cell_mm,
                       double clearance_mm, NwProgress *progress, NwThin *thin) {
    static const double nowhere[3] = {0, 0, 0};
    NwOffsetSurface *old = make_skin(manifold, cell_mm, 0, progress, thin);
    NwFacets *before = nw_facets_new(old, progress), *after = nw_facets_new(surface, progress);
    NwNear near = {.mm = clearance_mm * (1 - 1e-9), .progress = progress};
    bool hold = before && after && !nw_facets_nearer(after, before, nowhere, nowhere, &near) &&
                !nw_facets_meet_themselves(after, LEAST_MM, &near);
    if (!hold)
        *thin = (NwThin){NW_THIN_WALL, nearest_vertex(cell_mm, near.at[0]),
                         nearest_vertex(cell_mm, near.at[1])};
    nw_facets_free(before);
    nw_facets_free(after);
    nw_offset_surface_free(old);
    return hold;
}

static NwOffsetSurface *make_and_measure(const NwManifold *manifold, double cell_mm,
                                         double clearance_mm, NwProgress *progress, NwThin *thin) {
    NwOffsetSurface *surface = make_skin(manifold, cell_mm, clearance_mm, progress, thin);
    bool good = surface && (clearance_mm == 0 ||
                            walls_hold(manifold, surface, cell_mm, clearance_mm, progress, thin));
    if (nw_progress_is_stopped(progress)) {
        *thin = (NwThin){.kind = NW_THIN_STOPPED};
        good = false;
    }
    if (good)
        return surface;
    nw_offset_surface_free(surface);
    return NULL;
}

NwOffsetSurface *nw_offset_surface_new(const NwSolid *solid, double cell_mm, double clearance_mm,
                                       NwProgress *progress, NwThin *thin) {
    NwManifold *manifold = nw_manifold_new(solid);
    NwOffsetSurface *surface = make_and_measure(manifold, cell_mm, clearance_mm, progress, thin);
    /* What fails however little the faces move is no matter of size. */
    if (!surface && thin->kind == NW_THIN_WALL) {
        NwThin still;
        NwOffsetSurface *least =
            make_and_measure(manifold, cell_mm, cell_mm * 1e-3, progress, &still);
        if (!least)
            *thin = (NwThin){still.kind == NW_THIN_STOPPED ? still.kind : NW_THIN_VERTEX, still.at,
                             still.at};
        nw_offset_surface_free(least);
    }
    nw_manifold_free(manifold);
    return surface;
}

char *nw_dup_thin_text(const NwThin *thin, const char *name, double clearance_mm) {
    char a[NW_VEC_TEXT_SIZE], b[NW_VEC_TEXT_SIZE];
    nw_vec_text(thin->at, ',', a);
    nw_vec_text(thin->to, ',', b);
    switch (thin->kind) {
    case NW_THIN_EDGE:
        return g_strdup_printf(_("piece %s: a clearance of %g mm leaves nothing of the edge from "
                                 "(%s) to (%s); use less clearance or larger cells"),
                               name, clearance_mm, a, b);
    case NW_THIN_WALL:
        return g_strdup_printf(_("piece %s: a clearance of %g mm leaves nothing between the faces "
                                 "near (%s) and (%s); use less clearance or larger cells"),
                               name, clearance_mm, a, b);
    case NW_THIN_VERTEX:
        return g_strdup_printf(_("piece %s: clearance cannot be made at (%s); use a clearance of "
                                 "0, or change the piece there"),
                               name, a);
    case NW_THIN_EFFORT:
        return g_strdup_printf(_("piece %s: too many faces meet at (%s) to make a clearance "
                                 "there; use a clearance of 0, or change the piece there"),
                               name, a);
    case NW_THIN_STOPPED:
    case NW_THIN_NOT:
        break;
    }
    return g_strdup("");
}
