#include "cook/way_out_reuse.h"

#include <stdlib.h>

#include "base/bits.h"
#include "lattice/overlap.h"
#include "slide/group_positions.h"

/* Fractions of a cell that are tested: a half, or an eighth along a face diagonal. */
enum { CUBE_STEPS = 2, DIAGONAL_STEPS = 8 };

/* One slide, seen by one won part. */
typedef struct Ride {
    const NwBaseline *baseline;
    const NwGroupPositions *standing; /* before the slide */
    NwSolid *const *solids;           /* the altered bodies in their places */
    const NwSlide *slide;
    NwVec step;
    int steps; /* in a cell */
} Ride;

static NwVec scaled_at(const Ride *ride, NwVec vertex, int body) {
    return nw_vec_scale(nw_vec_add(vertex, ride->standing->at[body]), ride->steps);
}

/* Whether boxes of one cell, scaled, may overlap. */
static bool are_near(NwVec a, NwVec b, int size) {
    return abs(a.x - b.x) < size && abs(a.y - b.y) < size && abs(a.z - b.z) < size;
}

/* How many steps the slide takes until the two cells have passed each other for good. */
static int steps_of(const Ride *ride, NwVec apart) {
    if (ride->slide->cells != NW_SLIDE_OUT)
        return ride->slide->cells * ride->steps;
    int ahead = 0; /* cells until they are past each other along an axis of the slide */
    for (int axis = 0; axis < 3; axis++) {
        int along = nw_vec_get(ride->step, axis), behind = -along * nw_vec_get(apart, axis) + 1;
        if (along && (!ahead || behind < ahead))
            ahead = behind > 0 ? behind : 0;
        if (along && behind <= 0)
            return 0;
    }
    return ahead * ride->steps;
}

/* Whether the won part of one body runs into a part of another, one of which travels. */
static bool collides(const Ride *ride, NwPart won, int body, NwPart part, int other) {
    bool travels = ride->slide->bodies >> body & 1;
    NwVec mine = scaled_at(ride, won.cell, body), yours = scaled_at(ride, part.cell, other);
    NwVec step = nw_vec_scale(ride->step, travels ? 1 : -1);
    NwVec apart = nw_vec_sub(nw_vec_add(won.cell, ride->standing->at[body]),
                             nw_vec_add(part.cell, ride->standing->at[other]));
    int steps = steps_of(ride, travels ? apart : nw_vec_scale(apart, -1));
    for (int k = 1; k <= steps; k++) {
        NwVec moved = nw_vec_scale(step, k);
        if (!are_near(nw_vec_add(mine, moved), yours, ride->steps))
            continue;
        NwVec a[4], b[4];
        nw_part_vertices(won, a);
        nw_part_vertices(part, b);
        for (int v = 0; v < 4; v++) {
            a[v] = nw_vec_add(scaled_at(ride, a[v], body), moved);
            b[v] = scaled_at(ride, b[v], other);
        }
        if (nw_overlap_tetrahedra(a, b))
            return true;
    }
    return false;
}

static bool rides_freely(const Ride *ride, NwPart won, int body) {
    uint32_t set = ride->slide->bodies;
    for (int other = 0; other < ride->baseline->bodies; other++) {
        bool together = (set >> body & 1) == (set >> other & 1);
        if (together || !(ride->standing->group[body] >> other & 1))
            continue;
        const NwSolid *solid = ride->solids[other];
        for (size_t i = 0; i < solid->count; i++)
            for (int mask = solid->cells[i].mask; mask; mask &= mask - 1)
                if (collides(ride, won, body,
                             (NwPart){nw_cell_at(&solid->cells[i]), nw_lowest((uint64_t)mask)},
                             other))
                    return false;
    }
    return true;
}

/* All won parts of all bodies along one slide. */
static bool is_free(const Ride *ride, const NwPlacement *placements, const NwChange *changes,
                    int count) {
    for (int i = 0; i < count; i++)
        for (int b = 0; b < ride->baseline->bodies; b++)
            if (placements[b].piece == changes[i].to &&
                !rides_freely(ride, nw_part_moved(changes[i].won, placements[b].motion), b))
                return false;
    return true;
}

bool nw_way_out_still_works(const NwBaseline *baseline, const NwVariant *variant,
                            const NwPlacement *placements, const NwChange *changes, int count,
                            const NwSlide *slides, int slide_count) {
    NwSolid *solids[NW_BODIES_MAX];
    for (int b = 0; b < baseline->bodies; b++)
        nw_solid_moved(variant->design->pieces[placements[b].piece].solid, placements[b].motion,
                       &solids[b]);
    bool kept = true;
    for (int i = 0; i < slide_count && kept; i++) {
        NwGroupPositions standing;
        nw_group_positions_after(baseline->bodies, slides, i, &standing);
        int steps = slides[i].direction < NW_CUBE_DIRECTIONS ? CUBE_STEPS : DIAGONAL_STEPS;
        Ride ride = {
            baseline, &standing, solids, &slides[i], nw_direction_step(slides[i].direction), steps};
        kept = is_free(&ride, placements, changes, count);
    }
    for (int b = 0; b < baseline->bodies; b++)
        nw_solid_free(solids[b]);
    return kept;
}
