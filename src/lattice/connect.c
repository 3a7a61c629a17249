#include "lattice/connect.h"

#include <stdlib.h>

#include "base/bits.h"
#include "base/memory.h"

NwSolid *nw_solid_lump_of(const NwSolid *solid, NwPart part) {
    NwSolid *lump = nw_solid_new();
    size_t waiting = 0, capacity = 0;
    NwPart *stack = nw_grow(NULL, 0, &capacity, sizeof *stack);
    stack[waiting++] = part;
    nw_solid_add(lump, part.cell, 1 << part.bit);
    while (waiting) {
        NwPart at = stack[--waiting];
        for (int face = 0; face < 4; face++) {
            NwPart next = nw_part_across(at, face);
            if (!nw_solid_has(solid, next) || nw_solid_has(lump, next))
                continue;
            nw_solid_add(lump, next.cell, 1 << next.bit);
            stack = nw_grow(stack, waiting, &capacity, sizeof *stack);
            stack[waiting++] = next;
        }
    }
    free(stack);
    return lump;
}

size_t nw_solid_lumps(const NwSolid *solid) {
    size_t lumps = 0;
    NwSolid *rest = nw_solid_copy(solid);
    while (rest->count) {
        NwPart first = {nw_cell_at(&rest->cells[0]), nw_lowest(rest->cells[0].mask)};
        NwSolid *lump = nw_solid_lump_of(rest, first);
        NwSolid *others = nw_solid_difference(rest, lump);
        nw_solid_free(lump);
        nw_solid_free(rest);
        rest = others;
        lumps++;
    }
    nw_solid_free(rest);
    return lumps;
}
