#include "design/edit_spread.h"

#include "base/bits.h"
#include "design/bodies.h"
#include "design/edit_piece.h"
#include "design/piece_name.h"
#include "lattice/connect.h"

/* The images that differ, which of them have room, and for each the others that it overlaps. */
typedef struct Orbit {
    NwSolid *images[NW_TURNS];
    NwMotion motions[NW_TURNS]; /* that carry the first body there */
    uint64_t conflicts[NW_TURNS];
    uint64_t with_room;
    int count;
} Orbit;

static bool is_known(const Orbit *orbit, const NwSolid *image) {
    for (int i = 0; i < orbit->count; i++)
        if (nw_solid_equal(orbit->images[i], image))
            return true;
    return false;
}

static void add_image(Orbit *orbit, NwSolid *image, NwMotion motion, bool has_room) {
    int at = orbit->count++;
    orbit->images[at] = image;
    orbit->motions[at] = motion;
    orbit->conflicts[at] = 0;
    if (has_room)
        orbit->with_room |= nw_bit(at);
    for (int i = 0; i < at; i++)
        if (nw_solid_overlaps(orbit->images[i], image)) {
            orbit->conflicts[at] |= nw_bit(i);
            orbit->conflicts[i] |= nw_bit(at);
        }
}

/* A largest set of candidates without conflicts, added to `chosen`: of those with the least
 * candidate first, then of those without it, which can be more only if it has conflicts. */
static void choose(const Orbit *orbit, uint64_t candidates, uint64_t chosen, uint64_t *best) {
    if (nw_count_bits(chosen) + nw_count_bits(candidates) <= nw_count_bits(*best))
        return;
    if (!candidates) {
        *best = chosen;
        return;
    }
    int least = nw_lowest(candidates);
    uint64_t rest = candidates & ~nw_bit(least);
    choose(orbit, rest & ~orbit->conflicts[least], chosen | nw_bit(least), best);
    if (rest & orbit->conflicts[least])
        choose(orbit, rest, chosen, best);
}

/* An image that is one seen before, or the piece itself, is nothing new. */
static void look_at(Orbit *orbit, NwDraft *draft, const NwSolid *here, NwMotion motion,
                    const NwSolid *room) {
    NwSolid *image;
    if (!nw_turn_is_rotation(motion.turn)) {
        draft->counts.refused++;
        return;
    }
    if (nw_solid_moved(here, motion, &image) != NW_OK) {
        draft->counts.refused++;
    } else if (!nw_solid_equal(image, here) && !is_known(orbit, image)) {
        add_image(orbit, image, motion, nw_solid_contains(room, image));
        image = NULL;
    }
    nw_solid_free(image);
}

static size_t bodies_of_piece(const NwDesign *design, int piece) {
    size_t count = 0;
    for (size_t i = 0; i < design->intended_count; i++)
        count += design->intended[i].piece == piece;
    return count;
}

static NwStatus add_copy(NwDraft *draft, int piece, NwMotion motion) {
    NwDesign *design = draft->design;
    NwPiece *pattern = &design->pieces[piece];
    nw_design_list_drawn(design);
    NwMotion first = nw_design_motion(design, piece);
    if (bodies_of_piece(design, piece) == (size_t)pattern->copies) {
        if (nw_design_copies(design) >= NW_COPIES_MAX)
            return NW_TOO_MANY;
        pattern->copies++;
    }
    nw_design_list_body(design, (NwPlacement){piece, nw_motion_then(first, motion)});
    draft->counts.created++;
    draft->counts.changed += nw_solid_parts(pattern->solid);
    return NW_OK;
}

static NwStatus add_chosen(NwDraft *draft, int piece, Orbit *orbit) {
    uint64_t best = 0;
    NwStatus status = NW_OK;
    choose(orbit, orbit->with_room, 0, &best);
    for (int i = 0; i < orbit->count; i++) {
        if (!(best >> i & 1))
            draft->counts.refused++;
        else if (status == NW_OK)
            status = add_copy(draft, piece, orbit->motions[i]);
        nw_solid_free(orbit->images[i]);
    }
    return status;
}

static NwStatus spread(NwDraft *draft, int piece, const NwMotion *motions, int count) {
    NwSolid *here;
    NwStatus status = nw_solid_moved(draft->design->pieces[piece].solid,
                                     nw_design_motion(draft->design, piece), &here);
    if (status != NW_OK)
        return status;
    NwSolid *room = nw_design_rest(draft->design);
    Orbit orbit = {.count = 0};
    for (int i = 0; i < count; i++)
        look_at(&orbit, draft, here, motions[i], room);
    nw_solid_free(room);
    nw_solid_free(here);
    return add_chosen(draft, piece, &orbit);
}

NwStatus nw_edit_spread(NwEdit *edit, int piece, const NwMotion *motions, int count) {
    NwDraft draft = nw_draft_begin(edit);
    if (nw_edit_is_locked(edit, piece)) {
        draft.counts.refused = 1;
        return nw_draft_commit(edit, draft, NW_OK);
    }
    NwStatus status = !edit->design->pieces[piece].solid->count ? NW_EMPTY
                      : count > NW_TURNS                        ? NW_TOO_MANY
                                         : spread(&draft, piece, motions, count);
    return nw_draft_commit(edit, draft, status);
}

static NwStatus split(NwDraft *draft, NwSolid **rest) {
    NwStatus status = NW_OK;
    while ((*rest)->count && status == NW_OK) {
        const NwCell *first = &(*rest)->cells[0];
        NwSolid *lump =
            nw_solid_lump_of(*rest, (NwPart){nw_cell_at(first), nw_lowest(first->mask)});
        NwSolid *less = nw_solid_difference(*rest, lump);
        nw_solid_free(*rest);
        *rest = less;
        draft->counts.changed += nw_solid_parts(lump);
        status = nw_draft_add_piece(draft, nw_dup_new_name(draft->design), lump);
    }
    return status;
}

NwStatus nw_edit_split_rest(NwEdit *edit, bool all) {
    NwDraft draft = nw_draft_begin(edit);
    NwSolid *rest = nw_design_rest(draft.design);
    if (!all) {
        NwSolid *required = nw_solid_difference(rest, draft.design->may_be_empty);
        nw_solid_free(rest);
        rest = required;
    }
    NwStatus status = split(&draft, &rest);
    nw_solid_free(rest);
    return nw_draft_commit(edit, draft, status);
}
