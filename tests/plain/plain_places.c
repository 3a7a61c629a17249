#include "plain/plain_places.h"

#include <stdlib.h>

#include "base/memory.h"

size_t nw_plain_places_find(const NwPlainPlaces *places, const NwSolid *solid) {
    size_t at = 0;
    while (at < places->count && !nw_solid_equal(places->list[at].solid, solid))
        at++;
    return at;
}

static void try_motion(NwPlainPlaces *places, const NwSolid *envelope, const NwSolid *piece,
                       NwMotion motion) {
    NwSolid *solid;
    if (nw_solid_moved(piece, motion, &solid) != NW_OK)
        return;
    if (!nw_solid_contains(envelope, solid) ||
        nw_plain_places_find(places, solid) < places->count) {
        nw_solid_free(solid);
        return;
    }
    places->list = nw_grow(places->list, places->count, &places->capacity, sizeof *places->list);
    places->list[places->count++] = (NwPlainPlace){motion, solid};
}

static void try_turn(NwPlainPlaces *places, const NwSolid *envelope, const NwSolid *piece,
                     NwTurn turn) {
    NwSolid *turned;
    nw_solid_moved(piece, (NwMotion){turn, {0, 0, 0}}, &turned);
    NwBounds room = nw_solid_bounds(envelope), own = nw_solid_bounds(turned);
    nw_solid_free(turned);
    NwVec low = nw_vec_sub(room.low, own.low), high = nw_vec_sub(room.high, own.high);
    bool whole = nw_solid_is_whole(piece);
    for (int x = low.x; x <= high.x; x++)
        for (int y = low.y; y <= high.y; y++)
            for (int z = low.z; z <= high.z; z++)
                if (whole || nw_vec_parity(nw_vec(x, y, z)) == 0)
                    try_motion(places, envelope, piece, (NwMotion){turn, {x, y, z}});
}

NwPlainPlaces nw_plain_places(const NwSolid *envelope, const NwSolid *piece) {
    NwPlainPlaces places = {NULL, 0, 0};
    for (NwTurn turn = 0; turn < NW_ROTATIONS; turn++)
        try_turn(&places, envelope, piece, turn);
    return places;
}

void nw_plain_places_free(NwPlainPlaces *places) {
    for (size_t i = 0; i < places->count; i++)
        nw_solid_free(places->list[i].solid);
    free(places->list);
    *places = (NwPlainPlaces){NULL, 0, 0};
}
