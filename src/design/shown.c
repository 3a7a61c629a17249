#include "design/shown.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "design/bodies.h"
#include "design/check_assembly.h"

/* By piece; copies of one stay in their order. */
static NwPlacement *sorted(const NwPlacement *placements, size_t count) {
    NwPlacement *list = nw_alloc(count, sizeof *list);
    memcpy(list, placements, count * sizeof *list);
    for (size_t i = 1; i < count; i++) {
        NwPlacement placement = list[i];
        size_t at = i;
        for (; at > 0 && list[at - 1].piece > placement.piece; at--)
            list[at] = list[at - 1];
        list[at] = placement;
    }
    return list;
}

static NwPlacement *drawn(const NwDesign *design, size_t *count) {
    NwPlacement *list = nw_alloc(design->piece_count, sizeof *list);
    *count = nw_design_drawn(design, list) == NW_OK ? design->piece_count : 0;
    return list;
}

NwShown nw_design_shown(const NwDesign *design, NwPlacement **placements, size_t *count) {
    bool intended = design->intended_count > 0;
    *count = design->intended_count;
    *placements = intended ? sorted(design->intended, *count) : drawn(design, count);
    if (*count && !nw_check_assembly(design, *placements, *count))
        return intended ? NW_SHOWS_INTENDED : NW_SHOWS_DRAWN;
    free(*placements);
    *placements = NULL;
    *count = 0;
    return NW_SHOWS_NONE;
}
