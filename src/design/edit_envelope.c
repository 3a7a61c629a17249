#include "design/edit_envelope.h"

#include "design/bodies.h"

static void replace(NwSolid **solid, NwSolid *by) {
    nw_solid_free(*solid);
    *solid = by;
}

/* The whole cells of which `parts` has something. */
static NwSolid *whole_cells(const NwSolid *parts) {
    NwSolid *whole = nw_solid_new();
    for (size_t i = 0; i < parts->count; i++)
        nw_solid_add(whole, nw_cell_at(&parts->cells[i]), NW_WHOLE);
    return whole;
}

/* Adds to the losses of a piece what sticks out of one of its bodies. */
static void add_losses(const NwDesign *design, NwPlacement at, const NwSolid *body,
                       const NwSolid *envelope, NwSolid **loss) {
    NwSolid *out = nw_solid_difference(body, envelope), *back;
    if (nw_design_is_odd(design, at.piece))
        replace(&out, whole_cells(out));
    if (nw_solid_moved(out, nw_motion_inverse(at.motion), &back) == NW_OK)
        replace(loss, nw_solid_union(*loss, back));
    nw_solid_free(back);
    nw_solid_free(out);
}

NwStatus nw_design_losses(const NwDesign *design, const NwSolid *envelope, NwSolid **losses,
                          size_t *total) {
    NwBodies bodies;
    NwStatus status = nw_bodies_of(design, &bodies);
    for (size_t p = 0; p < design->piece_count; p++)
        losses[p] = status == NW_OK ? nw_solid_new() : NULL;
    for (size_t i = 0; i < bodies.count; i++)
        add_losses(design, bodies.placements[i], bodies.solids[i], envelope,
                   &losses[bodies.placements[i].piece]);
    size_t sum = 0;
    for (size_t p = 0; p < design->piece_count && status == NW_OK; p++)
        sum += nw_solid_parts(losses[p]);
    if (total)
        *total = sum;
    nw_bodies_clear(&bodies);
    return status;
}

static NwStatus set_envelope(NwDraft *draft, const NwSolid *envelope) {
    NwDesign *design = draft->design;
    NwSolid *losses[NW_PIECES_MAX];
    NwStatus status = nw_design_losses(design, envelope, losses, &draft->counts.changed);
    for (size_t p = 0; p < design->piece_count; p++) {
        if (status == NW_OK && losses[p]->count && draft->counts.locked >> p & 1)
            status = NW_DOES_NOT_FIT;
        if (status == NW_OK)
            replace(&design->pieces[p].solid,
                    nw_solid_difference(design->pieces[p].solid, losses[p]));
        nw_solid_free(losses[p]);
    }
    replace(&design->envelope, nw_solid_copy(envelope));
    replace(&design->may_be_empty, nw_solid_intersection(design->may_be_empty, envelope));
    return status;
}

NwStatus nw_edit_set_envelope(NwEdit *edit, const NwSolid *envelope) {
    NwDraft draft = nw_draft_begin(edit);
    return nw_draft_commit(edit, draft, set_envelope(&draft, envelope));
}

NwStatus nw_edit_set_may_be_empty(NwEdit *edit, const NwSolid *selection) {
    NwDraft draft = nw_draft_begin(edit);
    NwDesign *design = draft.design;
    NwSolid *set = selection ? nw_solid_intersection(selection, design->envelope) : nw_solid_new();
    NwSolid *more = nw_solid_difference(set, design->may_be_empty);
    NwSolid *less = nw_solid_difference(design->may_be_empty, set);
    draft.counts.changed = nw_solid_parts(more) + nw_solid_parts(less);
    draft.counts.refused = selection ? nw_solid_parts(selection) - nw_solid_parts(set) : 0;
    nw_solid_free(more);
    nw_solid_free(less);
    replace(&design->may_be_empty, set);
    return nw_draft_commit(edit, draft, NW_OK);
}
