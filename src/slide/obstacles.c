#include "slide/obstacles.h"

#include <stdlib.h>

#include "base/bits.h"
#include "base/memory.h"
#include "lattice/overlap.h"

/* Where a body stands relative to another, as the clearance tables take it. */
static NwVec apart(const NwBody *bodies, const NwGroupPositions *standing, int a, int b) {
    NwVec of_a = nw_vec_add(bodies[a].motion.shift, standing->at[a]);
    NwVec of_b = nw_vec_add(bodies[b].motion.shift, standing->at[b]);
    return nw_vec_sub(of_b, of_a);
}

static void runs_past(NwClearanceCache *cache, const NwBody *bodies,
                      const NwGroupPositions *standing, int other, int body,
                      uint8_t runs[NW_CUBE_DIRECTIONS]) {
    const NwClearance *table = nw_clearance_get(cache, &bodies[other], &bodies[body]);
    NwVec r = apart(bodies, standing, other, body);
    if (!nw_clearance_inside(table, r)) {
        nw_clearance_outside(table, r, runs);
        return;
    }
    const uint8_t *row = nw_clearance_at(table, r);
    for (int d = 0; d < NW_CUBE_DIRECTIONS; d++)
        runs[d] = row[d];
}

/* The least run of `body` past any other of its group, and past which ones it is the least. */
static void find_stops(NwClearanceCache *cache, const NwBody *bodies,
                       const NwGroupPositions *standing, int body,
                       NwObstacle row[NW_CUBE_DIRECTIONS]) {
    for (int d = 0; d < NW_CUBE_DIRECTIONS; d++)
        row[d] = (NwObstacle){.run = NW_RUN_FOREVER};
    uint32_t others = standing->group[body] & ~(uint32_t)nw_bit(body);
    for (; others; others &= others - 1) {
        int other = nw_lowest(others);
        uint8_t runs[NW_CUBE_DIRECTIONS];
        runs_past(cache, bodies, standing, other, body, runs);
        for (int d = 0; d < NW_CUBE_DIRECTIONS; d++) {
            if (runs[d] == NW_RUN_FOREVER || runs[d] > row[d].run)
                continue;
            if (runs[d] < row[d].run)
                row[d].stops = 0;
            row[d].run = runs[d];
            row[d].stops |= (uint32_t)nw_bit(other);
        }
    }
}

/* The closure under pushing: whom it pushes, whom those push, and so on. */
static uint32_t all_pushed(const NwObstacles *obstacles, int body, int direction) {
    uint32_t pushed = (uint32_t)nw_bit(body), waiting = pushed;
    while (waiting) {
        const NwObstacle *next = &obstacles->of[nw_lowest(waiting)][direction];
        waiting &= waiting - 1;
        uint32_t more = next->run == 0 ? next->stops & ~pushed : 0;
        pushed |= more;
        waiting |= more;
    }
    return pushed;
}

void nw_obstacles_find(const NwBody *bodies, const NwGroupPositions *standing,
                       NwObstacles *obstacles) {
    NwClearanceCache *cache = nw_clearance_cache_new(false);
    obstacles->count = standing->count;
    for (int b = 0; b < standing->count; b++)
        find_stops(cache, bodies, standing, b, obstacles->of[b]);
    for (int b = 0; b < standing->count; b++)
        for (int d = 0; d < NW_CUBE_DIRECTIONS; d++)
            obstacles->of[b][d].pushed = all_pushed(obstacles, b, d);
    nw_clearance_cache_free(cache);
}

bool nw_obstacles_holds(const NwObstacles *obstacles, const NwGroupPositions *standing, int body,
                        int direction) {
    return obstacles->of[body][direction].pushed == standing->group[body];
}

/* ---- which parts ------------------------------------------------------------------------- */

typedef struct Finds {
    NwStoppingPart *parts;
    size_t count, capacity;
} Finds;

static void twice_as_large(NwPart part, NwVec offset, NwVec vertices[4]) {
    nw_part_vertices(part, vertices);
    for (int k = 0; k < 4; k++)
        vertices[k] = nw_vec_add(nw_vec_scale(vertices[k], 2), offset);
}

/* Whether a part meets the solid, carried by `halves` halves of a cell. */
static bool part_meets(NwPart part, const NwSolid *solid, NwVec halves) {
    NwVec of_part[4];
    twice_as_large(part, nw_vec(0, 0, 0), of_part);
    for (size_t i = 0; i < solid->count; i++) {
        NwVec cell = nw_cell_at(&solid->cells[i]);
        NwVec away = nw_vec_add(nw_vec_scale(nw_vec_sub(cell, part.cell), 2), halves);
        if (away.x >= 2 || away.x <= -2 || away.y >= 2 || away.y <= -2 || away.z >= 2 ||
            away.z <= -2)
            continue;
        for (int bit = 0; bit < NW_PARTS; bit++) {
            NwVec of_solid[4];
            twice_as_large((NwPart){cell, bit}, halves, of_solid);
            if (solid->cells[i].mask >> bit & 1 && nw_overlap_tetrahedra(of_part, of_solid))
                return true;
        }
    }
    return false;
}

static void find_parts(const NwSolid *other, int number, const NwSolid *moving, NwVec halves,
                       Finds *finds) {
    for (size_t i = 0; i < other->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++) {
            NwPart part = {nw_cell_at(&other->cells[i]), bit};
            if (!(other->cells[i].mask >> bit & 1) || !part_meets(part, moving, halves))
                continue;
            finds->parts =
                nw_grow(finds->parts, finds->count, &finds->capacity, sizeof *finds->parts);
            finds->parts[finds->count++] = (NwStoppingPart){number, part};
        }
}

size_t nw_obstacles_parts(const NwBody *bodies, const NwGroupPositions *standing,
                          const NwObstacles *obstacles, int body, int direction,
                          NwStoppingPart **parts) {
    const NwObstacle *obstacle = &obstacles->of[body][direction];
    NwSolid *moving = NULL;
    Finds finds = {0};
    nw_solid_moved(bodies[body].solid, bodies[body].motion, &moving);
    for (uint32_t stops = moving ? obstacle->stops : 0; stops; stops &= stops - 1) {
        int other = nw_lowest(stops);
        NwSolid *solid = NULL;
        nw_solid_moved(bodies[other].solid, bodies[other].motion, &solid);
        /* Half a cell past the point where it stops. */
        NwVec halves = nw_vec_scale(nw_vec_sub(standing->at[body], standing->at[other]), 2);
        halves =
            nw_vec_add(halves, nw_vec_scale(nw_direction_step(direction), 2 * obstacle->run + 1));
        if (solid)
            find_parts(solid, other, moving, halves, &finds);
        nw_solid_free(solid);
    }
    nw_solid_free(moving);
    *parts = finds.parts;
    return finds.count;
}
