/* Face-connection: two parts hold together when they share a whole triangular face. */
#ifndef NW_LATTICE_CONNECT_H
#define NW_LATTICE_CONNECT_H

#include "lattice/solid.h"

/* How many face-connected lumps the solid falls into; 0 for an empty one. */
size_t nw_solid_lumps(const NwSolid *solid);

/* The face-connected lump that holds `part` (which must be in the solid); the caller frees it. */
NwSolid *nw_solid_lump_of(const NwSolid *solid, NwPart part);

static inline bool nw_solid_has(const NwSolid *solid, NwPart part) {
    return nw_solid_mask(solid, part.cell) >> part.bit & 1;
}

#endif
