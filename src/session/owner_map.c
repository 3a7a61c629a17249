#include "session/owner_map.h"

#include <stdlib.h>

#include "base/memory.h"
#include "design/bodies.h"

struct NwOwnerMap {
    NwSolid *envelope;
    signed char *owners;   /* NW_PARTS for each cell of the envelope */
    unsigned char *shared; /* for each cell of the envelope, a mask of its parts */
};

_Static_assert(NW_PIECES_MAX <= 127, "an owner is kept in a signed char");

static void enter(NwOwnerMap *map, const NwSolid *body, int piece) {
    size_t at = 0;
    for (size_t i = 0; i < body->count; i++) {
        NwVec cell = nw_cell_at(&body->cells[i]);
        while (at < map->envelope->count &&
               nw_vec_compare(nw_cell_at(&map->envelope->cells[at]), cell) < 0)
            at++;
        if (at == map->envelope->count)
            return;
        if (!nw_vec_equal(nw_cell_at(&map->envelope->cells[at]), cell))
            continue;
        int mask = body->cells[i].mask & map->envelope->cells[at].mask;
        for (int bit = 0; bit < NW_PARTS; bit++) {
            signed char *owner = &map->owners[at * NW_PARTS + (size_t)bit];
            if (mask >> bit & 1 && *owner >= 0)
                map->shared[at] |= (unsigned char)(1 << bit);
            if (mask >> bit & 1 && (*owner < 0 || *owner > piece))
                *owner = (signed char)piece;
        }
    }
}

NwOwnerMap *nw_owner_map_new(const NwDesign *design) {
    NwOwnerMap *map = nw_alloc(1, sizeof *map);
    map->envelope = nw_solid_copy(design->envelope);
    size_t count = map->envelope->count;
    map->owners = nw_alloc(count * NW_PARTS, 1);
    map->shared = nw_alloc(count, 1);
    for (size_t i = 0; i < count * NW_PARTS; i++) {
        int mask = map->envelope->cells[i / NW_PARTS].mask;
        map->owners[i] = mask >> i % NW_PARTS & 1 ? NW_OWNER_NONE : NW_OWNER_OUTSIDE;
    }
    NwBodies bodies;
    if (nw_bodies_of(design, &bodies) == NW_OK)
        for (size_t b = 0; b < bodies.count; b++)
            enter(map, bodies.solids[b], bodies.placements[b].piece);
    nw_bodies_clear(&bodies);
    return map;
}

void nw_owner_map_free(NwOwnerMap *map) {
    if (!map)
        return;
    nw_solid_free(map->envelope);
    free(map->owners);
    free(map->shared);
    free(map);
}

/* The index of the part's cell in the envelope, or its count. */
static size_t find(const NwOwnerMap *map, NwVec cell) {
    size_t low = 0, high = map->envelope->count;
    while (low < high) {
        size_t middle = (low + high) / 2;
        int order = nw_vec_compare(nw_cell_at(&map->envelope->cells[middle]), cell);
        if (order == 0)
            return middle;
        if (order < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return map->envelope->count;
}

int nw_owner_map_get(const NwOwnerMap *map, NwPart part) {
    size_t at = find(map, part.cell);
    return at < map->envelope->count ? map->owners[at * NW_PARTS + (size_t)part.bit]
                                     : NW_OWNER_OUTSIDE;
}

bool nw_owner_map_is_shared(const NwOwnerMap *map, NwPart part) {
    size_t at = find(map, part.cell);
    return at < map->envelope->count && map->shared[at] >> part.bit & 1;
}
