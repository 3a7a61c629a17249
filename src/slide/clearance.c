#include "slide/clearance.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* The contact tables of one step of one direction: where the moving body stands at each instant
 * that must be tested, split into whole cells and a fraction. */
typedef struct StepTest {
    NwVec whole[2];
    NwContact contact[2];
    int instants; /* 1 for a cube direction, 2 for a diagonal */
} StepTest;

typedef struct Entry {
    int kind_a, kind_b;
    NwTurn turn_a, turn_b;
    NwClearance table;
} Entry;

struct NwClearanceCache {
    int directions;
    StepTest *tests; /* one for each pair of opposite directions */
    Entry **entries; /* a hash table with open addressing */
    size_t count, capacity;
    size_t bytes;
};

static int floor_quarter(int quarters) {
    return quarters >= 0 ? quarters / 4 : -((3 - quarters) / 4);
}

/* Where a body is after `quarters` quarters of a step. */
static void prepare_instant(StepTest *test, NwVec step, int quarters) {
    NwVec at = nw_vec_scale(step, quarters);
    NwVec whole = nw_vec(floor_quarter(at.x), floor_quarter(at.y), floor_quarter(at.z));
    test->whole[test->instants] = whole;
    nw_contact_build(nw_vec_sub(at, nw_vec_scale(whole, 4)), &test->contact[test->instants]);
    test->instants++;
}

NwClearanceCache *nw_clearance_cache_new(bool diagonals) {
    NwClearanceCache *cache = nw_alloc(1, sizeof *cache);
    cache->directions = diagonals ? NW_DIRECTIONS : NW_CUBE_DIRECTIONS;
    cache->tests = nw_alloc((size_t)cache->directions / 2, sizeof *cache->tests);
    for (int d = 0; d < cache->directions; d += 2) {
        StepTest *test = &cache->tests[d / 2];
        if (d < NW_CUBE_DIRECTIONS) {
            prepare_instant(test, nw_direction_step(d), 2);
        } else {
            prepare_instant(test, nw_direction_step(d), 1);
            prepare_instant(test, nw_direction_step(d), 3);
        }
    }
    cache->capacity = 64;
    cache->entries = nw_alloc(cache->capacity, sizeof(Entry *));
    return cache;
}

static void drop_tables(NwClearanceCache *cache) {
    for (size_t i = 0; i < cache->capacity; i++) {
        if (cache->entries[i])
            free(cache->entries[i]->table.runs);
        free(cache->entries[i]);
        cache->entries[i] = NULL;
    }
    cache->count = 0;
    cache->bytes = 0;
}

void nw_clearance_cache_free(NwClearanceCache *cache) {
    if (!cache)
        return;
    drop_tables(cache);
    free(cache->entries);
    free(cache->tests);
    free(cache);
}

void nw_clearance_cache_trim(NwClearanceCache *cache, size_t bytes) {
    if (cache->bytes > bytes)
        drop_tables(cache);
}

/* ---- filling a table --------------------------------------------------------------------- */

/* The masks of a solid in a dense box, with two empty layers around it. */
typedef struct Grid {
    NwVec low, size;
    uint8_t *masks;
} Grid;

static Grid grid_of(const NwSolid *solid) {
    NwBounds box = nw_solid_bounds(solid);
    Grid grid;
    grid.low = nw_vec_sub(box.low, nw_vec(2, 2, 2));
    grid.size = nw_vec_sub(nw_vec_add(box.high, nw_vec(2, 2, 2)), grid.low);
    grid.masks = nw_alloc((size_t)(grid.size.x * grid.size.y * grid.size.z), 1);
    for (size_t i = 0; i < solid->count; i++) {
        NwVec at = nw_vec_sub(nw_cell_at(&solid->cells[i]), grid.low);
        grid.masks[(at.x * grid.size.y + at.y) * grid.size.z + at.z] =
            (uint8_t)solid->cells[i].mask;
    }
    return grid;
}

static int grid_mask(const Grid *grid, NwVec cell) {
    NwVec at = nw_vec_sub(cell, grid->low);
    if ((unsigned)at.x >= (unsigned)grid->size.x || (unsigned)at.y >= (unsigned)grid->size.y ||
        (unsigned)at.z >= (unsigned)grid->size.z)
        return 0;
    return grid->masks[(at.x * grid->size.y + at.y) * grid->size.z + at.z];
}

/* Whether solid `b`, carried by whole + the contact table's fraction, meets the gridded solid. */
static bool meets(const Grid *a, const NwSolid *b, NwVec whole, const NwContact *contact) {
    int odd = nw_vec_parity(whole);
    for (size_t i = 0; i < b->count; i++) {
        NwVec own = nw_cell_at(&b->cells[i]), at = nw_vec_add(own, whole);
        int parity = nw_vec_parity(own), mask = b->cells[i].mask;
        for (int octant = 0; octant < 8; octant++) {
            if (!(contact->octants >> octant & 1))
                continue;
            NwVec cell = nw_vec_add(at, nw_vec(octant & 1, octant >> 1 & 1, octant >> 2 & 1));
            if (contact->hit[parity][odd][octant][mask] & grid_mask(a, cell))
                return true;
        }
    }
    return false;
}

static bool step_is_blocked(const Grid *a, const NwSolid *b, NwVec r, const StepTest *test) {
    for (int k = 0; k < test->instants; k++)
        if (meets(a, b, nw_vec_add(r, test->whole[k]), &test->contact[k]))
            return true;
    return false;
}

/* Visits R in an order in which R + step comes before R, or the reverse of it. */
static NwVec ordered(const NwClearance *table, NwVec step, int x, int y, int z) {
    return nw_vec(table->low.x + (step.x > 0 ? table->size.x - 1 - x : x),
                  table->low.y + (step.y > 0 ? table->size.y - 1 - y : y),
                  table->low.z + (step.z > 0 ? table->size.z - 1 - z : z));
}

static uint8_t one_more(uint8_t run) {
    return run == NW_RUN_FOREVER ? run : (uint8_t)(run + 1);
}

static uint8_t *run_at(NwClearance *table, NwVec r, int direction) {
    return (uint8_t *)nw_clearance_at(table, r) + direction;
}

/* Fills direction d forwards, then d ^ 1 from the same tests: the step from R along d is the step
 * from R + step(d) back along d ^ 1. A body that leaves the box of the table is free for ever. */
static void fill_directions(NwClearance *table, const Grid *a, const NwSolid *b, int d,
                            const StepTest *test) {
    NwVec step = nw_direction_step(d), size = table->size;
    bool *blocked = nw_alloc((size_t)(size.x * size.y * size.z), sizeof *blocked);
    for (int x = 0; x < size.x; x++)
        for (int y = 0; y < size.y; y++)
            for (int z = 0; z < size.z; z++) {
                NwVec r = ordered(table, step, x, y, z), next = nw_vec_add(r, step);
                long at = (nw_clearance_at(table, r) - table->runs) / table->stride;
                blocked[at] = step_is_blocked(a, b, r, test);
                *run_at(table, r, d) = blocked[at] ? 0
                                       : nw_clearance_inside(table, next)
                                           ? one_more(*run_at(table, next, d))
                                           : NW_RUN_FOREVER;
            }
    NwVec back = nw_vec_scale(step, -1);
    for (int x = 0; x < size.x; x++)
        for (int y = 0; y < size.y; y++)
            for (int z = 0; z < size.z; z++) {
                NwVec r = ordered(table, back, x, y, z), next = nw_vec_add(r, back);
                uint8_t *run = run_at(table, r, d ^ 1);
                if (!nw_clearance_inside(table, next)) {
                    *run = NW_RUN_FOREVER;
                    continue;
                }
                long at = (nw_clearance_at(table, next) - table->runs) / table->stride;
                *run = blocked[at] ? 0 : one_more(*run_at(table, next, d ^ 1));
            }
    free(blocked);
}

static void fill_table(const NwClearanceCache *cache, const NwBody *a, const NwBody *b,
                       NwClearance *table) {
    NwSolid *solid_a, *solid_b;
    nw_solid_moved(a->solid, (NwMotion){a->motion.turn, {0, 0, 0}}, &solid_a);
    nw_solid_moved(b->solid, (NwMotion){b->motion.turn, {0, 0, 0}}, &solid_b);
    NwBounds box_a = nw_solid_bounds(solid_a), box_b = nw_solid_bounds(solid_b);
    table->low = nw_vec_sub(box_a.low, box_b.high);
    table->size =
        nw_vec_add(nw_vec_sub(nw_vec_sub(box_a.high, box_b.low), table->low), nw_vec(1, 1, 1));
    table->directions = cache->directions;
    table->stride = (cache->directions + 7) / 8 * 8;
    size_t places = (size_t)(table->size.x * table->size.y * table->size.z);
    table->runs = nw_alloc(places, (size_t)table->stride);
    Grid grid = grid_of(solid_a);
    for (int d = 0; d < cache->directions; d += 2)
        fill_directions(table, &grid, solid_b, d, &cache->tests[d / 2]);
    free(grid.masks);
    nw_solid_free(solid_a);
    nw_solid_free(solid_b);
}

/* ---- the cache --------------------------------------------------------------------------- */

static size_t slot_of(const NwClearanceCache *cache, const NwBody *a, const NwBody *b) {
    uint64_t key = (uint64_t)a->kind * 1031 + (uint64_t)b->kind;
    key = (key * NW_ROTATIONS + (uint64_t)a->motion.turn) * NW_ROTATIONS + (uint64_t)b->motion.turn;
    key *= UINT64_C(0x9e3779b97f4a7c15);
    size_t slot = (size_t)(key >> 32) & (cache->capacity - 1);
    for (Entry *e; (e = cache->entries[slot]); slot = (slot + 1) & (cache->capacity - 1))
        if (e->kind_a == a->kind && e->kind_b == b->kind && e->turn_a == a->motion.turn &&
            e->turn_b == b->motion.turn)
            break;
    return slot;
}

static void grow(NwClearanceCache *cache) {
    Entry **old = cache->entries;
    size_t old_capacity = cache->capacity;
    cache->capacity *= 2;
    cache->entries = nw_alloc(cache->capacity, sizeof(Entry *));
    for (size_t i = 0; i < old_capacity; i++) {
        if (!old[i])
            continue;
        NwBody a = {.kind = old[i]->kind_a, .motion.turn = old[i]->turn_a};
        NwBody b = {.kind = old[i]->kind_b, .motion.turn = old[i]->turn_b};
        cache->entries[slot_of(cache, &a, &b)] = old[i];
    }
    free(old);
}

const NwClearance *nw_clearance_get(NwClearanceCache *cache, const NwBody *a, const NwBody *b) {
    size_t slot = slot_of(cache, a, b);
    if (cache->entries[slot])
        return &cache->entries[slot]->table;
    if (2 * cache->count >= cache->capacity) {
        grow(cache);
        slot = slot_of(cache, a, b);
    }
    Entry *entry = nw_alloc(1, sizeof *entry);
    *entry = (Entry){
        .kind_a = a->kind, .kind_b = b->kind, .turn_a = a->motion.turn, .turn_b = b->motion.turn};
    fill_table(cache, a, b, &entry->table);
    const NwVec size = entry->table.size;
    cache->bytes += (size_t)(size.x * size.y * size.z) * (size_t)entry->table.stride;
    cache->entries[slot] = entry;
    cache->count++;
    return &entry->table;
}

/* ---- outside the box --------------------------------------------------------------------- */

/* Steps along `along` from `at` into [low, low + size); 0 if inside, -1 if it never gets there. */
static int steps_into(int at, int along, int low, int size) {
    int short_of = at < low ? low - at : at >= low + size ? at - (low + size - 1) : 0;
    if (!short_of)
        return 0;
    return (at < low) == (along > 0) && along ? short_of : -1;
}

void nw_clearance_outside(const NwClearance *table, NwVec r, uint8_t *runs) {
    for (int d = 0; d < table->directions; d++) {
        NwVec step = nw_direction_step(d);
        int steps = 0;
        for (int axis = 0; axis < 3 && steps >= 0; axis++) {
            int more = steps_into(nw_vec_get(r, axis), nw_vec_get(step, axis),
                                  nw_vec_get(table->low, axis), nw_vec_get(table->size, axis));
            steps = more < 0 ? -1 : more > steps ? more : steps;
        }
        NwVec entering = nw_vec_add(r, nw_vec_scale(step, steps));
        runs[d] = NW_RUN_FOREVER;
        if (steps < 0 || !nw_clearance_inside(table, entering))
            continue;
        int run = nw_clearance_at(table, entering)[d];
        if (run != NW_RUN_FOREVER)
            runs[d] = run + steps < NW_RUN_FOREVER ? (uint8_t)(run + steps) : NW_RUN_FOREVER - 1;
    }
}
