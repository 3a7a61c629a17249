/* Pieces made from pieces: like ones and mirror images. Declared in edit_piece.h. */
#include <string.h>

#include "design/bodies.h"
#include "design/edit_piece.h"
#include "design/fit_into.h"
#include "design/piece_name.h"
#include "design/symmetry_name.h"

NwStatus nw_draft_add_like(NwDraft *draft, int pattern, NwSolid *solid) {
    char *name = nw_dup_next_name(draft->design, draft->design->pieces[pattern].name);
    NwStatus status = nw_draft_add_piece(draft, name, solid);
    if (status != NW_OK)
        return status;
    NwPiece *pieces = draft->design->pieces, *added = &pieces[draft->design->piece_count - 1];
    memcpy(added->colour, pieces[pattern].colour, NW_COLOUR_SIZE);
    draft->counts.changed += nw_solid_parts(solid);
    return NW_OK;
}

/* Where the first copy stands, carried on; it must come into the room. */
static NwStatus image_in(const NwDesign *design, int piece, NwMotion motion, const NwSolid *room,
                         NwSolid **image) {
    NwMotion both = nw_motion_then(nw_design_motion(design, piece), motion);
    NwStatus status = nw_solid_moved(design->pieces[piece].solid, both, image);
    if (status == NW_OK && !(*image)->count)
        status = NW_EMPTY;
    else if (status == NW_OK && !nw_solid_contains(room, *image))
        status = NW_DOES_NOT_FIT;
    if (status != NW_OK) {
        nw_solid_free(*image);
        *image = NULL;
    }
    return status;
}

NwStatus nw_edit_image(NwEdit *edit, int piece, NwMotion motion) {
    NwDraft draft = nw_draft_begin(edit);
    NwSolid *rest = nw_design_rest(draft.design), *image;
    NwStatus status = image_in(draft.design, piece, motion, rest, &image);
    if (status == NW_OK)
        status = nw_draft_add_like(&draft, piece, image);
    nw_solid_free(rest);
    return nw_draft_commit(edit, draft, status);
}

/* A piece of that shape in the first room there is. Takes the shape. */
static NwStatus add_in_room(NwDraft *draft, int piece, NwSolid *shape) {
    NwSolid *rest = nw_design_rest(draft->design), *there = NULL;
    NwMotion motion;
    NwStatus status = nw_fit_into(shape, rest, &motion);
    if (status == NW_OK)
        status = nw_solid_moved(shape, motion, &there);
    if (status == NW_OK)
        status = nw_draft_add_like(draft, piece, there);
    nw_solid_free(rest);
    nw_solid_free(shape);
    return status;
}

NwStatus nw_edit_duplicate(NwEdit *edit, int piece) {
    NwDraft draft = nw_draft_begin(edit);
    NwSolid *shape = nw_solid_copy(draft.design->pieces[piece].solid);
    return nw_draft_commit(edit, draft, add_in_room(&draft, piece, shape));
}

static NwStatus mirror_across_planes(NwDraft *draft, int piece) {
    NwMotion symmetries[NW_TURNS];
    int count = nw_design_symmetries(draft->design, true, symmetries);
    NwSolid *rest = nw_design_rest(draft->design), *image = NULL;
    for (int i = 0; i < count && !image; i++)
        if (nw_symmetry_name(symmetries[i].turn).kind == NW_SYMMETRY_MIRROR)
            image_in(draft->design, piece, symmetries[i], rest, &image);
    nw_solid_free(rest);
    return image ? nw_draft_add_like(draft, piece, image) : NW_DOES_NOT_FIT;
}

static NwStatus mirror_elsewhere(NwDraft *draft, int piece) {
    NwMotion across_x = {0, {0, 0, 0}};
    nw_turn_parse("-x+y+z", &across_x.turn);
    NwSolid *shape;
    NwStatus status = nw_solid_moved(draft->design->pieces[piece].solid, across_x, &shape);
    return status == NW_OK ? add_in_room(draft, piece, shape) : status;
}

NwStatus nw_edit_mirror(NwEdit *edit, int piece) {
    NwDraft draft = nw_draft_begin(edit);
    NwStatus status = mirror_across_planes(&draft, piece);
    if (status == NW_DOES_NOT_FIT)
        status = mirror_elsewhere(&draft, piece);
    return nw_draft_commit(edit, draft, status);
}
