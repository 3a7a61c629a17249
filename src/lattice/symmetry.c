#include "lattice/symmetry.h"

/* A turn alone keeps every solid on the lattice and in range. */
static NwSolid *turned(const NwSolid *solid, NwTurn turn) {
    NwSolid *result;
    nw_solid_moved(solid, (NwMotion){turn, {0, 0, 0}}, &result);
    return result;
}

static NwSolid *shifted(const NwSolid *solid, NwVec shift) {
    NwSolid *result;
    return nw_solid_moved(solid, (NwMotion){0, shift}, &result) == NW_OK ? result : NULL;
}

bool nw_solid_carries(const NwSolid *from, const NwSolid *to, NwTurn turn, bool odd_shifts,
                      NwMotion *motion) {
    if (from->count != to->count || !from->count)
        return false;
    NwSolid *image = turned(from, turn);
    NwVec shift = nw_vec_sub(nw_cell_at(&to->cells[0]), nw_cell_at(&image->cells[0]));
    bool allowed = !nw_vec_parity(shift) || odd_shifts;
    NwSolid *there = allowed ? shifted(image, shift) : NULL;
    bool equal = there && nw_solid_equal(there, to);
    nw_solid_free(there);
    nw_solid_free(image);
    if (equal)
        *motion = (NwMotion){turn, shift};
    return equal;
}

int nw_solid_symmetries(const NwSolid *solid, NwAllowed allowed, NwMotion symmetries[NW_TURNS]) {
    int count = 0;
    for (NwTurn turn = 0; turn < (allowed.reflections ? NW_TURNS : NW_ROTATIONS); turn++)
        if (nw_solid_carries(solid, solid, turn, allowed.odd_shifts, &symmetries[count]))
            count++;
    return count;
}

/* The shift that brings the lowest corner to the origin, or to (1,0,0) where parity forbids it. */
static NwVec homing_shift(const NwSolid *solid, bool odd_shifts) {
    NwVec shift = nw_vec_scale(nw_solid_bounds(solid).low, -1);
    if (nw_vec_parity(shift) && !odd_shifts)
        shift.x++;
    return shift;
}

NwSolid *nw_solid_canonical(const NwSolid *solid, bool reflections, NwMotion *motion) {
    bool whole = nw_solid_is_whole(solid);
    NwSolid *least = NULL;
    for (NwTurn turn = 0; turn < (reflections ? NW_TURNS : NW_ROTATIONS); turn++) {
        NwSolid *image = turned(solid, turn);
        NwVec shift = homing_shift(image, whole);
        NwSolid *home = shifted(image, shift);
        nw_solid_free(image);
        if (home && (!least || nw_solid_compare(home, least) < 0)) {
            nw_solid_free(least);
            least = home;
            if (motion)
                *motion = (NwMotion){turn, shift};
        } else {
            nw_solid_free(home);
        }
    }
    return least ? least : nw_solid_copy(solid);
}
