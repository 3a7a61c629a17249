/* Symmetries and canonical forms of solids. */
#ifndef NW_LATTICE_SYMMETRY_H
#define NW_LATTICE_SYMMETRY_H

#include "lattice/solid.h"

/* What may be used to carry one solid to another. */
typedef struct NwAllowed {
    bool reflections; /* all 48 turns, not only the 24 rotations */
    bool odd_shifts;  /* shifts by odd vectors; for solids of whole cells only */
} NwAllowed;

/* The motions that carry the solid onto itself, identity first; returns their number (at least 1
 * for a solid that is not empty, 0 for an empty one). Cost: one sort of the cells per turn. */
int nw_solid_symmetries(const NwSolid *solid, NwAllowed allowed, NwMotion symmetries[NW_TURNS]);

/* The motion with the given turn that carries `from` onto `to`, if there is one. */
bool nw_solid_carries(const NwSolid *from, const NwSolid *to, NwTurn turn, bool odd_shifts,
                      NwMotion *motion);

/* The least of all turned and shifted copies, lowest corner at (0,0,0) or (1,0,0); two solids have
 * equal canonical forms exactly when an allowed motion carries one to the other. Whole-cell solids
 * always use odd shifts here. The solid must
 * be less than NW_COORD_MAX cells wide. `motion`, if not NULL, receives one motion that leads
 * there. The caller frees the result. */
NwSolid *nw_solid_canonical(const NwSolid *solid, bool reflections, NwMotion *motion);

#endif
