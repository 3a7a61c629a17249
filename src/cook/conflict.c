#include "cook/conflict.h"

#include "lattice/connect.h"

/* The body that has a part of the envelope, besides one; -1 if none does. */
static int owner_of(const NwBaseline *baseline, const NwDesign *variant, size_t known, NwPart part,
                    int besides) {
    for (int b = 0; b < baseline->bodies; b++) {
        const NwPlacement *placement = &baseline->known[known].placements[b];
        NwSolid *there;
        if (b == besides || nw_solid_moved(variant->pieces[placement->piece].solid,
                                           placement->motion, &there) != NW_OK)
            continue;
        bool has = nw_solid_has(there, part);
        nw_solid_free(there);
        if (has)
            return b;
    }
    return -1;
}

static NwConflict look(const NwBaseline *baseline, const NwDesign *variant, const NwChange *change,
                       size_t known, int body) {
    const NwPlacement *placement = &baseline->known[known].placements[body];
    const NwPlacementTable *places = baseline->fit->places;
    NwConflict conflict = {.kind = NW_CONFLICT_NONE, .body = body, .other = -1};
    bool wins = placement->piece == change->to, loses = placement->piece == change->from;
    if ((wins || loses) && nw_vec_parity(placement->motion.shift)) {
        conflict.kind = NW_CONFLICT_ODD;
        return conflict;
    }
    if (wins) {
        conflict.part = nw_part_moved(change->won, placement->motion);
        conflict.other = owner_of(baseline, variant, known, conflict.part, body);
        if (nw_placement_table_part(places, conflict.part) < 0)
            conflict.kind = NW_CONFLICT_OUTSIDE;
        else if (conflict.other >= 0)
            conflict.kind = NW_CONFLICT_OVERLAP;
    }
    if (loses && conflict.kind == NW_CONFLICT_NONE) {
        NwPart hole = nw_part_moved(change->lost, placement->motion);
        int number = nw_placement_table_part(places, hole);
        if (number >= 0 && places->required[number / 64] >> number % 64 & 1 &&
            owner_of(baseline, variant, known, hole, -1) < 0) {
            conflict.kind = NW_CONFLICT_HOLE;
            conflict.part = hole;
        }
    }
    return conflict;
}

NwConflict nw_conflict_find(const NwBaseline *baseline, const NwDesign *variant,
                            const NwChange *changes, int count, size_t known) {
    for (int kind = NW_CONFLICT_OUTSIDE; kind <= NW_CONFLICT_ODD; kind++)
        for (int i = 0; i < count; i++)
            for (int b = 0; b < baseline->bodies; b++) {
                NwConflict conflict = look(baseline, variant, &changes[i], known, b);
                conflict.change = i;
                if ((int)conflict.kind == kind)
                    return conflict;
            }
    return (NwConflict){.kind = NW_CONFLICT_NONE, .change = 0, .body = -1, .other = -1};
}
