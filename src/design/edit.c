#include "design/edit.h"

#include "design/bodies.h"

/* The counts that start an operation, with what does not change during one. */
static NwEdit fresh(const NwEdit *edit) {
    return (NwEdit){.design = edit->design, .locked = edit->locked};
}

NwDraft nw_draft_begin(const NwEdit *edit) {
    return (NwDraft){nw_design_copy(edit->design), fresh(edit)};
}

NwStatus nw_draft_commit(NwEdit *edit, NwDraft draft, NwStatus status) {
    if (status == NW_OK) {
        NwDesign old = *edit->design;
        *edit->design = *draft.design;
        *draft.design = old;
        *edit = draft.counts;
    } else {
        edit->refused = 0;
    }
    nw_design_free(draft.design);
    return status;
}

static void replace(NwSolid **solid, NwSolid *by) {
    nw_solid_free(*solid);
    *solid = by;
}

static void include(NwSolid **solid, const NwSolid *more) {
    replace(solid, nw_solid_union(*solid, more));
}

static void exclude(NwSolid **solid, const NwSolid *less) {
    replace(solid, nw_solid_difference(*solid, less));
}

/* What the bodies of one piece have of the selection, in the frame of the piece. */
static NwStatus own_parts(const NwBodies *bodies, int piece, const NwSolid *selection,
                          NwSolid **own) {
    NwStatus status = NW_OK;
    *own = nw_solid_new();
    for (size_t i = 0; i < bodies->count && status == NW_OK; i++) {
        if (bodies->placements[i].piece != piece)
            continue;
        NwSolid *here = nw_solid_intersection(bodies->solids[i], selection), *back;
        status = nw_solid_moved(here, nw_motion_inverse(bodies->placements[i].motion), &back);
        if (status == NW_OK)
            include(own, back);
        nw_solid_free(back);
        nw_solid_free(here);
    }
    return status;
}

static NwStatus take_from(NwDraft *draft, const NwBodies *bodies, int piece,
                          const NwSolid *selection) {
    NwSolid *own;
    NwStatus status = own_parts(bodies, piece, selection, &own);
    if (status == NW_OK) {
        exclude(&draft->design->pieces[piece].solid, own);
        draft->counts.changed += nw_solid_parts(own);
    }
    if (nw_design_is_odd(draft->design, piece) &&
        !nw_solid_is_whole(draft->design->pieces[piece].solid))
        status = NW_OFF_LATTICE;
    nw_solid_free(own);
    return status;
}

static NwStatus take_unless_locked(NwDraft *draft, const NwSolid *selection, uint64_t locked) {
    NwBodies bodies;
    NwStatus status = nw_bodies_of(draft->design, &bodies);
    for (size_t p = 0; p < draft->design->piece_count && status == NW_OK; p++)
        if (!(locked >> p & 1))
            status = take_from(draft, &bodies, (int)p, selection);
    nw_bodies_clear(&bodies);
    return status;
}

NwStatus nw_draft_take(NwDraft *draft, const NwSolid *selection) {
    return take_unless_locked(draft, selection, draft->counts.locked);
}

/* Giving: what the piece has already, what it may not have, and what it has won so far; all where
 * they stand. */
typedef struct Gift {
    const NwDesign *design;
    const NwBodies *bodies;
    int piece;
    NwSolid *barred, *won;
    NwSolid *own; /* the same as `won`, once, in the frame of the piece */
} Gift;

/* All images of `own` as the copies of the piece would have them, or NULL if one has no room. */
static NwSolid *images_with_room(const Gift *gift, const NwSolid *own) {
    NwSolid *images = nw_solid_new();
    bool room = true;
    for (size_t i = 0; i < gift->bodies->count && room; i++) {
        NwSolid *image;
        if (gift->bodies->placements[i].piece != gift->piece)
            continue;
        room = nw_solid_moved(own, gift->bodies->placements[i].motion, &image) == NW_OK &&
               nw_solid_contains(gift->design->envelope, image) &&
               !nw_solid_overlaps(image, gift->barred) && !nw_solid_overlaps(image, gift->won) &&
               !nw_solid_overlaps(image, images);
        if (room)
            include(&images, image);
        nw_solid_free(image);
    }
    if (!room)
        replace(&images, NULL);
    return images;
}

/* Tries one part, or one whole cell, of the selection. */
static void try_unit(Gift *gift, NwVec cell, int mask) {
    NwSolid *unit = nw_solid_new(), *own = NULL;
    nw_solid_add(unit, cell, mask);
    NwMotion back = nw_motion_inverse(nw_design_motion(gift->design, gift->piece));
    NwSolid *images =
        nw_solid_moved(unit, back, &own) == NW_OK ? images_with_room(gift, own) : NULL;
    if (images) {
        include(&gift->won, images);
        include(&gift->own, own);
    }
    nw_solid_free(images);
    nw_solid_free(own);
    nw_solid_free(unit);
}

/* With one body nothing depends on the order, so the selection is taken in one go. */
static void try_at_once(Gift *gift, const NwSolid *wanted) {
    replace(&gift->won, nw_solid_intersection(wanted, gift->design->envelope));
    exclude(&gift->won, gift->barred);
    NwMotion back = nw_motion_inverse(nw_design_motion(gift->design, gift->piece));
    NwSolid *own;
    if (nw_solid_moved(gift->won, back, &own) == NW_OK)
        replace(&gift->own, own);
    else
        replace(&gift->won, nw_solid_new());
}

static void try_one_by_one(Gift *gift, const NwSolid *wanted) {
    bool by_cells = nw_design_is_odd(gift->design, gift->piece);
    for (size_t i = 0; i < wanted->count; i++) {
        NwVec cell = nw_cell_at(&wanted->cells[i]);
        int mask = wanted->cells[i].mask;
        for (int bit = 0; bit < NW_PARTS && !by_cells; bit++)
            try_unit(gift, cell, mask & 1 << bit);
        if (by_cells)
            try_unit(gift, cell, mask);
    }
}

static size_t bodies_of_piece(const NwBodies *bodies, int piece) {
    size_t count = 0;
    for (size_t i = 0; i < bodies->count; i++)
        count += bodies->placements[i].piece == piece;
    return count;
}

static void bar(Gift *gift, uint64_t locked) {
    for (size_t i = 0; i < gift->bodies->count; i++) {
        int piece = gift->bodies->placements[i].piece;
        if (piece == gift->piece || locked >> piece & 1)
            include(&gift->barred, gift->bodies->solids[i]);
    }
}

/* What of the selection is neither barred nor outside; for a piece that changes by whole cells it
 * must be of whole cells, or else there is no way to do what was meant. */
static NwStatus choose(Gift *gift, const NwSolid *selection) {
    NwSolid *inside = nw_solid_intersection(selection, gift->design->envelope);
    NwSolid *wanted = nw_solid_difference(inside, gift->barred);
    nw_solid_free(inside);
    NwStatus status = NW_OK;
    if (nw_design_is_odd(gift->design, gift->piece) && !nw_solid_is_whole(wanted))
        status = NW_OFF_LATTICE;
    else if (bodies_of_piece(gift->bodies, gift->piece) == 1)
        try_at_once(gift, wanted);
    else
        try_one_by_one(gift, wanted);
    nw_solid_free(wanted);
    return status;
}

NwStatus nw_draft_give(NwDraft *draft, const NwSolid *selection, int piece) {
    NwBodies bodies;
    NwStatus status = nw_bodies_of(draft->design, &bodies);
    if (status != NW_OK)
        return status;
    uint64_t locked = draft->counts.locked;
    Gift gift = {draft->design, &bodies, piece, nw_solid_new(), nw_solid_new(), nw_solid_new()};
    bar(&gift, locked);
    if (!(locked >> piece & 1))
        status = choose(&gift, selection);
    if (status == NW_OK)
        status = take_unless_locked(draft, gift.won, locked | UINT64_C(1) << piece);
    if (status == NW_OK) {
        include(&draft->design->pieces[piece].solid, gift.own);
        draft->counts.changed += nw_solid_parts(gift.own);
    }
    nw_solid_free(gift.barred);
    nw_solid_free(gift.won);
    nw_solid_free(gift.own);
    nw_bodies_clear(&bodies);
    return status;
}

/* How many parts of the selection no body of the piece has; any piece for -1. */
static size_t count_without(const NwDesign *design, const NwSolid *selection, int piece) {
    NwBodies bodies;
    NwSolid *left = nw_solid_copy(selection);
    if (nw_bodies_of(design, &bodies) == NW_OK)
        for (size_t i = 0; i < bodies.count; i++)
            if (piece < 0 || bodies.placements[i].piece == piece)
                exclude(&left, bodies.solids[i]);
    size_t count = nw_solid_parts(left);
    nw_solid_free(left);
    nw_bodies_clear(&bodies);
    return count;
}

NwStatus nw_edit_give(NwEdit *edit, const NwSolid *selection, int piece) {
    NwDraft draft = nw_draft_begin(edit);
    NwStatus status = nw_draft_give(&draft, selection, piece);
    if (status == NW_OK)
        draft.counts.refused = count_without(draft.design, selection, piece);
    return nw_draft_commit(edit, draft, status);
}

NwStatus nw_edit_take(NwEdit *edit, const NwSolid *selection) {
    NwDraft draft = nw_draft_begin(edit);
    NwStatus status = nw_draft_take(&draft, selection);
    if (status == NW_OK)
        draft.counts.refused =
            nw_solid_parts(selection) - count_without(draft.design, selection, -1);
    return nw_draft_commit(edit, draft, status);
}

/* What stands in the selection of one piece. */
static NwSolid *share_of(const NwBodies *bodies, int piece, const NwSolid *selection) {
    NwSolid *share = nw_solid_new();
    for (size_t i = 0; i < bodies->count; i++)
        if (bodies->placements[i].piece == piece) {
            NwSolid *here = nw_solid_intersection(bodies->solids[i], selection);
            include(&share, here);
            nw_solid_free(here);
        }
    return share;
}

/* Gives to `piece` what nobody else has now; all of it or NW_DOES_NOT_FIT. */
static NwStatus hand_over(NwDraft *draft, const NwSolid *parts, int piece) {
    uint64_t locked = draft->counts.locked;
    draft->counts.locked = ~(UINT64_C(1) << piece);
    NwStatus status = nw_draft_give(draft, parts, piece);
    draft->counts.locked = locked;
    if (status == NW_OK && count_without(draft->design, parts, piece))
        status = NW_DOES_NOT_FIT;
    return status;
}

static NwStatus trade(NwDraft *draft, const NwSolid *selection, int a, int b) {
    NwBodies bodies;
    NwStatus status = nw_bodies_of(draft->design, &bodies);
    if (status != NW_OK)
        return status;
    NwSolid *of_a = share_of(&bodies, a, selection), *of_b = share_of(&bodies, b, selection);
    status = take_from(draft, &bodies, a, of_a);
    if (status == NW_OK)
        status = take_from(draft, &bodies, b, of_b);
    if (status == NW_OK)
        status = hand_over(draft, of_a, b);
    if (status == NW_OK)
        status = hand_over(draft, of_b, a);
    draft->counts.refused = nw_solid_parts(selection) - nw_solid_parts(of_a) - nw_solid_parts(of_b);
    nw_solid_free(of_a);
    nw_solid_free(of_b);
    nw_bodies_clear(&bodies);
    return status;
}

NwStatus nw_edit_trade(NwEdit *edit, const NwSolid *selection, int a, int b) {
    NwDraft draft = nw_draft_begin(edit);
    NwStatus status = NW_OK;
    if (nw_edit_is_locked(edit, a) || nw_edit_is_locked(edit, b))
        draft.counts.refused = nw_solid_parts(selection);
    else if (a != b)
        status = trade(&draft, selection, a, b);
    return nw_draft_commit(edit, draft, status);
}
