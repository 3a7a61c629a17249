#include "cook/clash.h"

#include "lattice/connect.h"

/* The body that has a part of the envelope, besides one; -1 if none does. */
static int owner_of(const NwGround *ground, const NwDesign *altered, size_t known, NwPart part,
                    int besides) {
    for (int b = 0; b < ground->bodies; b++) {
        const NwPlacement *placement = &ground->known[known].placements[b];
        NwSolid *there;
        if (b == besides || nw_solid_moved(altered->pieces[placement->piece].solid,
                                           placement->motion, &there) != NW_OK)
            continue;
        bool has = nw_solid_has(there, part);
        nw_solid_free(there);
        if (has)
            return b;
    }
    return -1;
}

static NwClash look(const NwGround *ground, const NwDesign *altered, const NwChange *change,
                    size_t known, int body) {
    const NwPlacement *placement = &ground->known[known].placements[body];
    const NwPlaces *places = ground->fit->places;
    NwClash clash = {.kind = NW_CLASH_NONE, .body = body, .other = -1};
    bool wins = placement->piece == change->to, loses = placement->piece == change->from;
    if ((wins || loses) && nw_vec_parity(placement->motion.shift)) {
        clash.kind = NW_CLASH_ODD;
        return clash;
    }
    if (wins) {
        clash.part = nw_part_moved(change->won, placement->motion);
        clash.other = owner_of(ground, altered, known, clash.part, body);
        if (nw_places_part(places, clash.part) < 0)
            clash.kind = NW_CLASH_OUTSIDE;
        else if (clash.other >= 0)
            clash.kind = NW_CLASH_OVERLAP;
    }
    if (loses && clash.kind == NW_CLASH_NONE) {
        NwPart hole = nw_part_moved(change->lost, placement->motion);
        int number = nw_places_part(places, hole);
        if (number >= 0 && places->required[number / 64] >> number % 64 & 1 &&
            owner_of(ground, altered, known, hole, -1) < 0) {
            clash.kind = NW_CLASH_HOLE;
            clash.part = hole;
        }
    }
    return clash;
}

NwClash nw_clash_find(const NwGround *ground, const NwDesign *altered, const NwChange *changes,
                      int count, size_t known) {
    for (int kind = NW_CLASH_OUTSIDE; kind <= NW_CLASH_ODD; kind++)
        for (int i = 0; i < count; i++)
            for (int b = 0; b < ground->bodies; b++) {
                NwClash clash = look(ground, altered, &changes[i], known, b);
                clash.change = i;
                if ((int)clash.kind == kind)
                    return clash;
            }
    return (NwClash){.kind = NW_CLASH_NONE, .change = 0, .body = -1, .other = -1};
}
