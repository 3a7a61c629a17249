#include "design/design.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

NwDesign *nw_design_new(const char *name) {
    NwDesign *design = nw_alloc(1, sizeof *design);
    design->name = nw_dup_string(name);
    design->envelope = nw_solid_new();
    design->may_be_empty = nw_solid_new();
    return design;
}

NwDesign *nw_design_copy(const NwDesign *design) {
    NwDesign *copy = nw_alloc(1, sizeof *copy);
    copy->name = nw_dup_string(design->name);
    copy->envelope = nw_solid_copy(design->envelope);
    copy->may_be_empty = nw_solid_copy(design->may_be_empty);
    for (size_t i = 0; i < design->piece_count; i++) {
        const NwPiece *piece = &design->pieces[i];
        size_t at = nw_design_take_piece(copy, piece->name, nw_solid_copy(piece->solid));
        memcpy(copy->pieces[at].colour, piece->colour, NW_COLOUR_SIZE);
        copy->pieces[at].copies = piece->copies;
    }
    nw_design_set_intended(copy, design->intended, design->intended_count);
    copy->mirrors_together = design->mirrors_together;
    return copy;
}

void nw_design_free(NwDesign *design) {
    if (!design)
        return;
    for (size_t i = 0; i < design->piece_count; i++) {
        free(design->pieces[i].name);
        nw_solid_free(design->pieces[i].solid);
    }
    free(design->pieces);
    free(design->intended);
    nw_solid_free(design->may_be_empty);
    nw_solid_free(design->envelope);
    free(design->name);
    free(design);
}

size_t nw_design_take_piece(NwDesign *design, const char *name, NwSolid *solid) {
    design->pieces = nw_grow(design->pieces, design->piece_count, &design->piece_capacity,
                             sizeof *design->pieces);
    design->pieces[design->piece_count] =
        (NwPiece){.name = nw_dup_string(name), .copies = 1, .solid = solid};
    return design->piece_count++;
}

int nw_design_copies(const NwDesign *design) {
    int copies = 0;
    for (size_t i = 0; i < design->piece_count; i++)
        copies += design->pieces[i].copies;
    return copies;
}

bool nw_design_is_whole(const NwDesign *design) {
    bool whole = nw_solid_is_whole(design->envelope) && nw_solid_is_whole(design->may_be_empty);
    for (size_t i = 0; i < design->piece_count && whole; i++)
        whole = nw_solid_is_whole(design->pieces[i].solid);
    return whole;
}

void nw_design_set_intended(NwDesign *design, const NwPlacement *placements, size_t count) {
    NwPlacement *copy = count ? nw_alloc(count, sizeof *copy) : NULL;
    if (count)
        memcpy(copy, placements, count * sizeof *copy);
    free(design->intended);
    design->intended = copy;
    design->intended_count = count;
}
