#include "design/frame.h"

#include "design/bodies.h"
#include "design/check_assembly.h"

static bool is_identity(NwMotion motion) {
    return nw_motion_equal(motion, (NwMotion){0, {0, 0, 0}});
}

bool nw_design_is_settled(const NwDesign *design) {
    for (size_t p = 0; p < design->piece_count; p++)
        if (!is_identity(nw_design_motion(design, (int)p)))
            return false;
    return true;
}

/* What the piece did from its old frame it now does from the new one. */
static void re_express(NwDesign *design, int piece, NwMotion settled) {
    NwMotion back = nw_motion_inverse(settled);
    for (size_t i = 0; i < design->intended_count; i++)
        if (design->intended[i].piece == piece)
            design->intended[i].motion = nw_motion_then(back, design->intended[i].motion);
}

NwStatus nw_design_settle(NwDesign *design) {
    NwBodies bodies;
    NwStatus status = nw_bodies_of(design, &bodies);
    if (status != NW_OK)
        return status;
    for (size_t p = 0; p < design->piece_count; p++) {
        NwSolid *drawn = design->pieces[p].solid;
        design->pieces[p].solid = bodies.solids[p];
        bodies.solids[p] = drawn;
        re_express(design, (int)p, bodies.placements[p].motion);
    }
    nw_bodies_clear(&bodies);
    return NW_OK;
}

NwStatus nw_design_adopt(NwDesign *design, const NwPlacement *placements, size_t count) {
    if (nw_check_assembly(design, placements, count))
        return NW_DOES_NOT_FIT;
    NwDesign *draft = nw_design_copy(design);
    nw_design_set_intended(draft, placements, count);
    NwStatus status = nw_design_settle(draft);
    if (status == NW_OK) {
        NwDesign old = *design;
        *design = *draft;
        *draft = old;
    }
    nw_design_free(draft);
    return status;
}
