#include "design/fit_into.h"

/* The shape, already turned, goes into the room when its first cell goes to `cell`. */
static bool goes_in(const NwSolid *turned, bool whole, const NwSolid *room, NwVec cell,
                    NwVec *shift) {
    *shift = nw_vec_sub(cell, nw_cell_at(&turned->cells[0]));
    if (nw_vec_parity(*shift) && !whole)
        return false;
    for (size_t i = 0; i < turned->count; i++) {
        NwVec at = nw_vec_add(nw_cell_at(&turned->cells[i]), *shift);
        if (turned->cells[i].mask & ~nw_solid_mask(room, at))
            return false;
    }
    return true;
}

NwStatus nw_fit_into(const NwSolid *shape, const NwSolid *room, NwMotion *motion) {
    if (!shape->count)
        return NW_EMPTY;
    bool whole = nw_solid_is_whole(shape), found = false;
    for (NwTurn turn = 0; turn < NW_ROTATIONS && !found; turn++) {
        NwSolid *turned;
        motion->turn = turn;
        nw_solid_moved(shape, (NwMotion){turn, {0, 0, 0}}, &turned);
        for (size_t i = 0; i < room->count && !found; i++)
            found = goes_in(turned, whole, room, nw_cell_at(&room->cells[i]), &motion->shift);
        nw_solid_free(turned);
    }
    return found ? NW_OK : NW_DOES_NOT_FIT;
}
