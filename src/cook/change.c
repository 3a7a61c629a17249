#include "cook/change.h"

#include "base/bits.h"
#include "lattice/connect.h"

bool nw_part_equal(NwPart a, NwPart b) {
    return nw_vec_equal(a.cell, b.cell) && a.bit == b.bit;
}

NwPart nw_part_moved(NwPart part, NwMotion motion) {
    int mask = nw_mask_turn(motion.turn, nw_vec_parity(part.cell), 1 << part.bit);
    NwVec cell = nw_vec_add(nw_turn_cell(motion.turn, part.cell), motion.shift);
    return (NwPart){cell, nw_lowest((uint64_t)mask)};
}

bool nw_change_equal(const NwChange *a, const NwChange *b) {
    return a->from == b->from && a->to == b->to &&
           (a->from < 0 || nw_part_equal(a->lost, b->lost)) &&
           (a->to < 0 || nw_part_equal(a->won, b->won));
}

/* Whether b takes from a piece what a has just brought to it. */
static bool undoes(const NwChange *a, const NwChange *b) {
    return a->to >= 0 && a->to == b->from && nw_part_equal(a->won, b->lost);
}

bool nw_changes_collapse(const NwChange *a, const NwChange *b) {
    return nw_part_equal(a->part, b->part) || undoes(a, b) || undoes(b, a);
}

bool nw_changes_swap(const NwChange *a, const NwChange *b) {
    return a->from >= 0 && a->to >= 0 && a->from != a->to && a->from == b->to && a->to == b->from &&
           nw_part_volume6(a->lost.bit) == nw_part_volume6(b->lost.bit);
}

bool nw_changes_apply(NwDesign *design, const NwChange *changes, int count) {
    for (int i = 0; i < count; i++) {
        const NwChange *change = &changes[i];
        if (change->from >= 0) {
            NwSolid *solid = design->pieces[change->from].solid;
            if (!nw_solid_has(solid, change->lost))
                return false;
            nw_solid_remove(solid, change->lost.cell, 1 << change->lost.bit);
        }
        if (change->to >= 0) {
            NwSolid *solid = design->pieces[change->to].solid;
            if (nw_solid_has(solid, change->won) ||
                nw_solid_add(solid, change->won.cell, 1 << change->won.bit) != NW_OK)
                return false;
        }
    }
    return true;
}
