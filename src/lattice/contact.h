/* Which parts meet when one solid stands displaced against another.
 *
 * Two parts at a displacement d overlap exactly when no direction separates them, and for parts of
 * this lattice the only directions that can are the 3 of type (1,0,0), the 6 of type (1,1,0) and
 * the 4 of type (1,1,1). Their components are 0 or +-1 and all vertices are whole. So along a cube
 * direction contact begins and ends only at whole displacements: *a slide by one cell is free
 * exactly when the interiors are disjoint at its midpoint*. Along a face diagonal it begins and
 * ends at halves of the diagonal step, so two tests, at one and at three quarters, settle a step.
 *
 * A table answers for one fraction of a cell. Take a moving cell of parity p that stands at
 * cell + w + fraction, w whole. It reaches into up to eight fixed cells, cell + w + o, one for
 * each octant o = ox + 2*oy + 4*oz. hit[p][parity of w][o][moving mask] is the mask of the parts
 * there whose interiors it meets. Thread: read-only once built; nothing to own. */
#ifndef NW_LATTICE_CONTACT_H
#define NW_LATTICE_CONTACT_H

#include <stdint.h>

#include "lattice/part.h"

typedef struct NwContact {
    uint8_t hit[2][2][8][NW_WHOLE + 1];
    uint8_t octants; /* bit o is set when octant o can be reached at all */
} NwContact;

/* The table for a displacement by a fraction of a cell, given in quarters, each 0 to 3. */
void nw_contact_build(NwVec quarters, NwContact *contact);

/* Whether the interiors of two tetrahedra of the lattice's own directions meet: vertices in any
 * one whole unit. The test behind the tables. */
bool nw_contact_overlap(const NwVec a[4], const NwVec b[4]);

#endif
