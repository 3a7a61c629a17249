#include "lattice/connect.h"

#include <stdlib.h>

#include "base/bits.h"
#include "base/memory.h"

/* Moves the lump that holds `part` from `rest` to `lump`. */
static void take_lump(NwSolid *rest, NwPart part, NwSolid *lump) {
    size_t waiting = 0, capacity = 0;
    NwPart *stack = nw_grow(NULL, 0, &capacity, sizeof *stack);
    stack[waiting++] = part;
    nw_solid_remove(rest, part.cell, 1 << part.bit);
    while (waiting) {
        NwPart at = stack[--waiting];
        nw_solid_add(lump, at.cell, 1 << at.bit);
        for (int face = 0; face < 4; face++) {
            NwPart next = nw_part_across(at, face);
            if (!nw_solid_has(rest, next))
                continue;
            nw_solid_remove(rest, next.cell, 1 << next.bit);
            stack = nw_grow(stack, waiting, &capacity, sizeof *stack);
            stack[waiting++] = next;
        }
    }
    free(stack);
}

NwSolid *nw_solid_lump_of(const NwSolid *solid, NwPart part) {
    NwSolid *rest = nw_solid_copy(solid), *lump = nw_solid_new();
    take_lump(rest, part, lump);
    nw_solid_free(rest);
    return lump;
}

size_t nw_solid_lumps(const NwSolid *solid) {
    size_t lumps = 0;
    NwSolid *rest = nw_solid_copy(solid);
    while (rest->count) {
        const NwCell *last = &rest->cells[rest->count - 1];
        NwSolid *lump = nw_solid_new();
        take_lump(rest, (NwPart){nw_cell_at(last), nw_lowest(last->mask)}, lump);
        nw_solid_free(lump);
        lumps++;
    }
    nw_solid_free(rest);
    return lumps;
}
