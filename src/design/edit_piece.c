#include "design/edit_piece.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "design/bodies.h"
#include "design/fit_into.h"
#include "design/piece_name.h"

static NwStatus refuse(NwEdit *edit) {
    edit->changed = edit->created = 0;
    edit->refused = 1;
    return NW_OK;
}

NwStatus nw_draft_add_piece(NwDraft *draft, char *name, NwSolid *solid) {
    NwDesign *design = draft->design;
    if (design->piece_count >= NW_PIECES_MAX || nw_design_copies(design) >= NW_COPIES_MAX) {
        nw_solid_free(solid);
        free(name);
        return NW_TOO_MANY;
    }
    size_t at = nw_design_take_piece(design, name, solid);
    free(name);
    if (design->intended_count)
        nw_design_list_body(design, (NwPlacement){(int)at, {0, {0, 0, 0}}});
    draft->counts.created++;
    return NW_OK;
}

static char *dup_name_or_new(const NwDesign *design, const char *name) {
    return name ? nw_dup_string(name) : nw_dup_new_name(design);
}

static NwStatus add_empty(NwDraft *draft, const char *name) {
    if (name && (!name[0] || nw_piece_named(draft->design, name) >= 0)) {
        draft->counts.refused = 1;
        return NW_OK;
    }
    return nw_draft_add_piece(draft, dup_name_or_new(draft->design, name), nw_solid_new());
}

NwStatus nw_edit_new_empty_piece(NwEdit *edit, const char *name) {
    NwDraft draft = nw_draft_begin(edit);
    return nw_draft_commit(edit, draft, add_empty(&draft, name));
}

NwStatus nw_edit_new_piece(NwEdit *edit, const char *name, const NwSolid *selection) {
    NwDraft draft = nw_draft_begin(edit);
    NwStatus status = add_empty(&draft, name);
    if (status == NW_OK && draft.counts.created) {
        int piece = (int)draft.design->piece_count - 1;
        status = nw_draft_give(&draft, selection, piece);
        size_t won = nw_solid_parts(draft.design->pieces[piece].solid);
        draft.counts.refused = nw_solid_parts(selection) - won;
        if (status == NW_OK && !won)
            status = NW_EMPTY;
    }
    return nw_draft_commit(edit, draft, status);
}

/* Keeps the placements that are not of `piece` or, with `most` >= 0, its first `most`. */
static void keep_placements(NwDesign *design, int piece, int most) {
    NwPlacement *kept = nw_alloc(design->intended_count, sizeof *kept);
    size_t count = 0;
    for (size_t i = 0; i < design->intended_count; i++)
        if (design->intended[i].piece != piece || most-- > 0)
            kept[count++] = design->intended[i];
    nw_design_set_intended(design, kept, count);
    free(kept);
}

/* The lock bits after bit `from` has come to place `to`. */
static uint64_t moved_bits(uint64_t bits, int from, int to) {
    bool moving = bits >> from & 1;
    uint64_t below = (UINT64_C(1) << from) - 1;
    bits = (bits & below) | (bits >> 1 & ~below);
    below = (UINT64_C(1) << to) - 1;
    return (bits & below) | ((bits & ~below) << 1) | (uint64_t)moving << to;
}

static int moved_index(int index, int from, int to) {
    if (index == from)
        return to;
    if (index > from && index <= to)
        return index - 1;
    return index < from && index >= to ? index + 1 : index;
}

static void move_piece(NwDesign *design, int from, int to) {
    NwPiece piece = design->pieces[from];
    int step = from < to ? 1 : -1;
    for (int i = from; i != to; i += step)
        design->pieces[i] = design->pieces[i + step];
    design->pieces[to] = piece;
    for (size_t i = 0; i < design->intended_count; i++)
        design->intended[i].piece = moved_index(design->intended[i].piece, from, to);
}

NwStatus nw_edit_reorder(NwEdit *edit, int piece, int to) {
    if (nw_edit_is_locked(edit, piece))
        return refuse(edit);
    if (to < 0 || (size_t)to >= edit->design->piece_count)
        return NW_OUT_OF_RANGE;
    NwDraft draft = nw_draft_begin(edit);
    move_piece(draft.design, piece, to);
    draft.counts.locked = moved_bits(edit->locked, piece, to);
    return nw_draft_commit(edit, draft, NW_OK);
}

NwStatus nw_edit_delete(NwEdit *edit, int piece) {
    if (nw_edit_is_locked(edit, piece))
        return refuse(edit);
    NwDraft draft = nw_draft_begin(edit);
    NwDesign *design = draft.design;
    int last = (int)design->piece_count - 1;
    keep_placements(design, piece, 0);
    move_piece(design, piece, last);
    draft.counts.locked = moved_bits(edit->locked, piece, last);
    draft.counts.changed = nw_solid_parts(design->pieces[last].solid);
    nw_solid_free(design->pieces[last].solid);
    free(design->pieces[last].name);
    design->piece_count--;
    return nw_draft_commit(edit, draft, NW_OK);
}

NwStatus nw_edit_rename(NwEdit *edit, int piece, const char *name) {
    int other = nw_piece_named(edit->design, name);
    if (nw_edit_is_locked(edit, piece) || !name[0] || (other >= 0 && other != piece))
        return refuse(edit);
    NwDraft draft = nw_draft_begin(edit);
    free(draft.design->pieces[piece].name);
    draft.design->pieces[piece].name = nw_dup_string(name);
    return nw_draft_commit(edit, draft, NW_OK);
}

static bool is_colour(const char *text) {
    return !text[0] || (text[0] == '#' && strlen(text) == NW_COLOUR_SIZE - 1 &&
                        strspn(text + 1, "0123456789abcdefABCDEF") == NW_COLOUR_SIZE - 2);
}

NwStatus nw_edit_recolour(NwEdit *edit, int piece, const char *colour) {
    if (nw_edit_is_locked(edit, piece) || !is_colour(colour))
        return refuse(edit);
    NwDraft draft = nw_draft_begin(edit);
    memset(draft.design->pieces[piece].colour, 0, NW_COLOUR_SIZE);
    memcpy(draft.design->pieces[piece].colour, colour, strlen(colour));
    return nw_draft_commit(edit, draft, NW_OK);
}

static NwStatus place_copy(NwDesign *design, int piece) {
    NwSolid *rest = nw_design_rest(design);
    NwPlacement at = {piece, {0, {0, 0, 0}}};
    NwStatus status = nw_fit_into(design->pieces[piece].solid, rest, &at.motion);
    if (status == NW_OK)
        nw_design_list_body(design, at);
    nw_solid_free(rest);
    return status;
}

static NwStatus set_copies(NwDesign *design, int piece, int copies) {
    int before = design->pieces[piece].copies;
    if (copies < 1)
        return NW_OUT_OF_RANGE;
    if (copies > NW_COPIES_MAX - (nw_design_copies(design) - before))
        return NW_TOO_MANY;
    design->pieces[piece].copies = copies;
    NwStatus status = NW_OK;
    if (copies < before)
        keep_placements(design, piece, copies);
    for (int i = before; i < copies && design->intended_count && status == NW_OK; i++)
        status = place_copy(design, piece);
    return status;
}

NwStatus nw_edit_set_copies(NwEdit *edit, int piece, int copies) {
    if (nw_edit_is_locked(edit, piece))
        return refuse(edit);
    NwDraft draft = nw_draft_begin(edit);
    return nw_draft_commit(edit, draft, set_copies(draft.design, piece, copies));
}
