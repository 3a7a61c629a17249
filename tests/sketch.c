#include "sketch.h"

#include <string.h>

#include "design/bodies.h"
#include "design/brush.h"
#include "design/congruent.h"
#include "design/edit_envelope.h"
#include "design/edit_piece.h"
#include "design/edit_spread.h"
#include "design/symmetry_name.h"

static NwPart random_part(const NwDesign *design, NwRandom *random) {
    const NwSolid *envelope = design->envelope;
    if (!envelope->count)
        return (NwPart){{0, 0, 0}, 0};
    const NwCell *cell = &envelope->cells[nw_random_below(random, (int)envelope->count)];
    return (NwPart){nw_cell_at(cell), nw_random_below(random, NW_PARTS)};
}

static NwSolid *random_selection(const NwDesign *design, NwRandom *random) {
    static const NwVec normals[] = {{1, 0, 0}, {0, -1, 0}, {1, 1, 1}, {-1, 1, -1}};
    NwPart part = random_part(design, random);
    NwPlane plane = nw_plane_over(normals[nw_random_below(random, 4)], part);
    switch (nw_random_below(random, 8)) {
    case 0:
        return nw_brush_cell(design, part.cell);
    case 1:
        return nw_brush_layer(design, plane);
    case 2:
        return nw_brush_side(design, plane);
    case 3:
        return nw_brush_fill(design, part);
    case 4: { /* partly outside the envelope */
        NwSolid *solid = nw_solid_new();
        nw_solid_add(solid, part.cell, 1 + nw_random_below(random, NW_WHOLE));
        nw_solid_add(solid, nw_vec_add(part.cell, nw_vec(0, 0, 1)), NW_WHOLE);
        return solid;
    }
    case 5: {
        NwMotion symmetries[NW_TURNS];
        int count = nw_design_symmetries(design, true, symmetries);
        NwSolid *one = nw_brush_part(design, part);
        NwSolid *all = nw_brush_symmetric(design, one, symmetries, count);
        nw_solid_free(one);
        return all;
    }
    default:
        return nw_brush_part(design, part);
    }
}

static NwStatus edit_parts(NwEdit *edit, NwRandom *random, int piece, int other) {
    NwSolid *selection = random_selection(edit->design, random), *envelope;
    NwStatus status;
    switch (nw_random_below(random, 6)) {
    case 0:
        status = nw_edit_take(edit, selection);
        break;
    case 1:
        status = nw_edit_trade(edit, selection, piece, other);
        break;
    case 2:
        status = nw_edit_new_piece(edit, NULL, selection);
        break;
    case 3:
        envelope = nw_random_below(random, 4) == 0
                       ? nw_solid_difference(edit->design->envelope, selection)
                       : nw_solid_union(edit->design->envelope, selection);
        status = nw_edit_set_envelope(edit, envelope);
        nw_solid_free(envelope);
        break;
    case 4:
        status = nw_edit_set_may_be_empty(edit, selection);
        break;
    default:
        status = nw_edit_give(edit, selection, piece);
        break;
    }
    nw_solid_free(selection);
    return status;
}

static NwStatus edit_piece(NwEdit *edit, NwRandom *random, int piece, int other) {
    NwMotion symmetries[NW_TURNS];
    int count = nw_design_symmetries(edit->design, true, symmetries);
    switch (nw_random_below(random, 11)) {
    case 10:
        return nw_edit_merge_congruent(edit);
    case 0:
        return nw_edit_delete(edit, piece);
    case 1:
        return nw_edit_duplicate(edit, piece);
    case 2:
        return nw_edit_mirror(edit, piece);
    case 3:
        return nw_edit_reorder(edit, piece, other);
    case 4:
        return nw_edit_rename(edit, piece, nw_random_below(random, 2) ? "new name" : "A");
    case 5:
        return nw_edit_recolour(edit, piece, nw_random_below(random, 2) ? "#12aBef" : "");
    case 6:
        return nw_edit_set_copies(edit, piece, nw_random_below(random, 4));
    case 7:
        return nw_edit_spread(edit, piece, symmetries, count);
    case 8:
        return nw_edit_split_rest(edit, nw_random_below(random, 2));
    default:
        return count ? nw_edit_image(edit, piece, symmetries[nw_random_below(random, count)])
                     : NW_EMPTY;
    }
}

NwStatus sketch_random_edit(NwEdit *edit, NwRandom *random) {
    int pieces = (int)edit->design->piece_count;
    if (!pieces)
        return nw_edit_new_empty_piece(edit, NULL);
    int piece = nw_random_below(random, pieces), other = nw_random_below(random, pieces);
    return nw_random_below(random, 3) ? edit_parts(edit, random, piece, other)
                                      : edit_piece(edit, random, piece, other);
}

bool sketch_same(const NwDesign *a, const NwDesign *b) {
    if (strcmp(a->name, b->name) != 0 || a->mirrors_together != b->mirrors_together ||
        !nw_solid_equal(a->envelope, b->envelope) ||
        !nw_solid_equal(a->may_be_empty, b->may_be_empty) || a->piece_count != b->piece_count ||
        a->intended_count != b->intended_count)
        return false;
    for (size_t i = 0; i < a->piece_count; i++)
        if (strcmp(a->pieces[i].name, b->pieces[i].name) != 0 ||
            strcmp(a->pieces[i].colour, b->pieces[i].colour) != 0 ||
            a->pieces[i].copies != b->pieces[i].copies ||
            !nw_solid_equal(a->pieces[i].solid, b->pieces[i].solid))
            return false;
    for (size_t i = 0; i < a->intended_count; i++)
        if (a->intended[i].piece != b->intended[i].piece ||
            !nw_motion_equal(a->intended[i].motion, b->intended[i].motion))
            return false;
    return true;
}

bool sketch_is_disjoint(const NwDesign *design) {
    NwBodies bodies;
    bool good = nw_bodies_of(design, &bodies) == NW_OK;
    for (size_t i = 0; i < bodies.count && good; i++) {
        good = nw_solid_contains(design->envelope, bodies.solids[i]);
        for (size_t k = 0; k < i && good; k++)
            good = !nw_solid_overlaps(bodies.solids[i], bodies.solids[k]);
    }
    nw_bodies_clear(&bodies);
    return good;
}
