#include "design/bodies.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "lattice/connect.h"

/* The index in `intended` of the first copy of a piece, or the count if there is none. */
static size_t first_entry(const NwDesign *design, int piece) {
    size_t i = 0;
    while (i < design->intended_count && design->intended[i].piece != piece)
        i++;
    return i;
}

NwMotion nw_design_motion(const NwDesign *design, int piece) {
    size_t entry = first_entry(design, piece);
    return entry < design->intended_count ? design->intended[entry].motion
                                          : (NwMotion){0, {0, 0, 0}};
}

NwStatus nw_design_drawn(const NwDesign *design, NwPlacement *placements) {
    for (size_t p = 0; p < design->piece_count; p++) {
        if (design->pieces[p].copies > 1)
            return NW_NONE;
        placements[p] = (NwPlacement){(int)p, {0, {0, 0, 0}}};
    }
    return NW_OK;
}

void nw_design_list_body(NwDesign *design, NwPlacement placement) {
    size_t count = design->intended_count;
    NwPlacement *more = nw_alloc(count + 1, sizeof *more);
    if (count)
        memcpy(more, design->intended, count * sizeof *more);
    more[count] = placement;
    nw_design_set_intended(design, more, count + 1);
    free(more);
}

void nw_design_list_drawn(NwDesign *design) {
    for (size_t p = 0; p < design->piece_count; p++)
        if (first_entry(design, (int)p) == design->intended_count)
            nw_design_list_body(design, (NwPlacement){(int)p, {0, {0, 0, 0}}});
}

/* First copies by piece, then the others as listed. */
static size_t place_all(const NwDesign *design, NwPlacement *placements) {
    size_t count = 0;
    for (size_t p = 0; p < design->piece_count; p++)
        placements[count++] = (NwPlacement){(int)p, nw_design_motion(design, (int)p)};
    for (size_t i = 0; i < design->intended_count; i++)
        if (first_entry(design, design->intended[i].piece) != i)
            placements[count++] = design->intended[i];
    return count;
}

NwStatus nw_bodies_of(const NwDesign *design, NwBodies *bodies) {
    size_t most = design->piece_count + design->intended_count;
    *bodies = (NwBodies){nw_alloc(most, sizeof(NwPlacement)), nw_alloc(most, sizeof(NwSolid *)), 0};
    bodies->count = place_all(design, bodies->placements);
    NwStatus status = NW_OK;
    for (size_t i = 0; i < bodies->count && status == NW_OK; i++) {
        NwPlacement at = bodies->placements[i];
        status = nw_solid_moved(design->pieces[at.piece].solid, at.motion, &bodies->solids[i]);
    }
    if (status != NW_OK)
        nw_bodies_clear(bodies);
    return status;
}

void nw_bodies_clear(NwBodies *bodies) {
    for (size_t i = 0; i < bodies->count; i++)
        nw_solid_free(bodies->solids[i]);
    free(bodies->solids);
    free(bodies->placements);
    *bodies = (NwBodies){NULL, NULL, 0};
}

bool nw_design_is_odd(const NwDesign *design, int piece) {
    for (size_t i = 0; i < design->intended_count; i++)
        if (design->intended[i].piece == piece && nw_vec_parity(design->intended[i].motion.shift))
            return true;
    return false;
}

static NwPart carried(NwPart part, NwMotion motion) {
    NwPart there = {nw_vec_add(nw_turn_cell(motion.turn, part.cell), motion.shift), part.bit};
    if (!nw_vec_parity(motion.shift))
        there.bit =
            nw_lowest((uint64_t)nw_mask_turn(motion.turn, nw_vec_parity(part.cell), 1 << part.bit));
    return there;
}

int nw_design_owner(const NwDesign *design, NwPart part, NwPart *own) {
    NwPlacement *placements =
        nw_alloc(design->piece_count + design->intended_count, sizeof *placements);
    size_t count = place_all(design, placements);
    int owner = -1;
    for (size_t i = 0; i < count; i++) {
        NwPlacement at = placements[i];
        NwPart back = carried(part, nw_motion_inverse(at.motion));
        if ((owner >= 0 && at.piece >= owner) ||
            !nw_solid_has(design->pieces[at.piece].solid, back))
            continue;
        owner = at.piece;
        if (own)
            *own = back;
    }
    free(placements);
    return owner;
}

NwSolid *nw_design_rest(const NwDesign *design) {
    NwSolid *rest = nw_solid_copy(design->envelope);
    NwPlacement *placements =
        nw_alloc(design->piece_count + design->intended_count, sizeof *placements);
    size_t count = place_all(design, placements);
    for (size_t i = 0; i < count; i++) {
        NwSolid *there;
        if (nw_solid_moved(design->pieces[placements[i].piece].solid, placements[i].motion,
                           &there) != NW_OK)
            continue;
        NwSolid *less = nw_solid_difference(rest, there);
        nw_solid_free(there);
        nw_solid_free(rest);
        rest = less;
    }
    free(placements);
    return rest;
}
