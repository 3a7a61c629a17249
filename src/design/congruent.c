#include "design/congruent.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "design/bodies.h"
#include "design/piece_name.h"
#include "lattice/symmetry.h"

static const NwMotion still = {0, {0, 0, 0}};

/* As nw_design_congruent, but that pieces with a bit in `locked` are their own first. Those of them
 * that are congruent to any other are counted in *refused. */
static size_t find(const NwDesign *design, uint64_t locked, int *first, NwMotion *motions,
                   size_t *refused) {
    size_t count = design->piece_count, others = 0;
    NwSolid **forms = nw_alloc(count, sizeof(NwSolid *));
    NwMotion *to_form = nw_alloc(count, sizeof *to_form);
    bool *like = nw_alloc(count, sizeof *like); /* it is congruent to another */
    for (size_t p = 0; p < count; p++) {
        const NwSolid *solid = design->pieces[p].solid;
        forms[p] = solid->count ? nw_solid_canonical(solid, false, &to_form[p]) : nw_solid_new();
        first[p] = (int)p;
        motions[p] = still;
        like[p] = false;
        for (size_t q = p; q-- > 0 && solid->count;) {
            if (!nw_solid_equal(forms[q], forms[p]))
                continue;
            like[p] = like[q] = true;
            if ((locked >> p & 1) || (locked >> q & 1))
                continue;
            first[p] = (int)q;
            motions[p] = nw_motion_then(to_form[q], nw_motion_inverse(to_form[p]));
        }
        others += first[p] != (int)p;
    }
    *refused = 0;
    for (size_t p = 0; p < count; p++) {
        *refused += like[p] && (locked >> p & 1);
        nw_solid_free(forms[p]);
    }
    free(forms);
    free(to_form);
    free(like);
    return others;
}

size_t nw_design_congruent(const NwDesign *design, int *first) {
    NwMotion *motions = nw_alloc(design->piece_count, sizeof *motions);
    size_t refused, others = find(design, 0, first, motions, &refused);
    free(motions);
    return others;
}

/* Whether no body reaches out of the envelope and no two share a part. */
static bool stands_well(const NwDesign *design) {
    NwBodies bodies;
    bool well = nw_bodies_of(design, &bodies) == NW_OK;
    for (size_t a = 0; a < bodies.count && well; a++) {
        well = nw_solid_contains(design->envelope, bodies.solids[a]);
        for (size_t b = 0; b < a && well; b++)
            well = !nw_solid_overlaps(bodies.solids[a], bodies.solids[b]);
    }
    nw_bodies_clear(&bodies);
    return well;
}

/* Every body has a placement, or there are none. */
static void list_bodies(NwDesign *design) {
    NwPlacement *drawn = nw_alloc(design->piece_count, sizeof *drawn);
    if (design->intended_count || (nw_design_drawn(design, drawn) == NW_OK && stands_well(design)))
        nw_design_list_drawn(design);
    free(drawn);
}

/* The placements of all bodies piece by piece, first those of the piece that is to stay. */
static void carry_over(NwDesign *design, const int *first, const NwMotion *motions) {
    NwPlacement *list = nw_alloc(design->intended_count, sizeof *list);
    size_t count = 0;
    for (size_t p = 0; p < design->piece_count; p++)
        for (size_t q = p; q < design->piece_count; q++)
            for (size_t i = 0; i < design->intended_count && first[q] == (int)p; i++)
                if (design->intended[i].piece == (int)q)
                    list[count++] = (NwPlacement){
                        (int)p, q == p ? design->intended[i].motion
                                       : nw_motion_then(motions[q], design->intended[i].motion)};
    nw_design_set_intended(design, list, count);
    free(list);
}

/* The name for all copies: without its number if all had one name but for that. */
static void rename_first(NwDesign *design, int piece, const int *first) {
    char *name = design->pieces[piece].name, *stem = nw_dup_name_stem(name);
    bool common = strcmp(stem, name) != 0;
    int owner = nw_piece_named(design, stem);
    for (size_t q = 0; q < design->piece_count && common; q++) {
        char *other = nw_dup_name_stem(design->pieces[q].name);
        common = first[q] != piece || strcmp(stem, other) == 0;
        free(other);
    }
    if (common && (owner < 0 || first[owner] == piece)) {
        free(name);
        design->pieces[piece].name = stem;
    } else {
        free(stem);
    }
}

/* Takes out the pieces that became copies. */
static void close_up(NwDraft *draft, const int *first) {
    NwDesign *design = draft->design;
    int *new_index = nw_alloc(design->piece_count, sizeof *new_index);
    uint64_t locked = 0;
    size_t kept = 0;
    for (size_t p = 0; p < design->piece_count; p++) {
        if (first[p] == (int)p) {
            locked |= (draft->counts.locked >> p & 1) << kept;
            new_index[p] = (int)kept;
            design->pieces[kept++] = design->pieces[p];
        } else {
            nw_solid_free(design->pieces[p].solid);
            free(design->pieces[p].name);
        }
    }
    for (size_t i = 0; i < design->intended_count; i++)
        design->intended[i].piece = new_index[design->intended[i].piece];
    draft->counts.changed = design->piece_count - kept;
    draft->counts.locked = locked;
    design->piece_count = kept;
    free(new_index);
}

static void merge(NwDraft *draft, int *first, NwMotion *motions) {
    NwDesign *design = draft->design;
    list_bodies(design);
    carry_over(design, first, motions);
    for (size_t p = 0; p < design->piece_count; p++) {
        if (first[p] == (int)p)
            continue;
        design->pieces[first[p]].copies += design->pieces[p].copies;
        rename_first(design, first[p], first);
    }
    close_up(draft, first);
}

NwStatus nw_edit_merge_congruent(NwEdit *edit) {
    NwDraft draft = nw_draft_begin(edit);
    int *first = nw_alloc(draft.design->piece_count, sizeof *first);
    NwMotion *motions = nw_alloc(draft.design->piece_count, sizeof *motions);
    if (find(draft.design, edit->locked, first, motions, &draft.counts.refused))
        merge(&draft, first, motions);
    free(first);
    free(motions);
    return nw_draft_commit(edit, draft, NW_OK);
}
