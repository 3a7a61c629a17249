/* Congruent pieces: those that a turn and a shift, as pieces may make them, carry to each other.
 *
 * Listed one by one, two congruent pieces make two assemblies of each, and where one is intended
 * the other is a cook, although nobody could tell them apart. As copies of one piece they are
 * counted once. A piece and its mirror image are congruent only if a turn does it. Empty pieces are
 * congruent to none.
 *
 * Thread: any. Cost: a canonical form of each piece (lattice/symmetry.h). */
#ifndef NW_DESIGN_CONGRUENT_H
#define NW_DESIGN_CONGRUENT_H

#include "design/edit.h"

/* For each piece the first in the list that it is congruent to, itself perhaps, in `first`, which
 * has room for as many as there are pieces. Returns how many pieces are not first. */
size_t nw_design_congruent(const NwDesign *design, int *first);

/* Congruent pieces become copies of the first of them, which keeps its place in the list, its
 * colour and its name ("bar" for "bar 1" and "bar 2"). Where an assembly is intended it stays what
 * it was, body by body. Where none is, and the pieces as drawn lie in the envelope without overlap,
 * they are listed as intended where they are drawn, for further copies have a place only there.
 * Locked pieces are left as they are, each counted in `refused` where it has its like. `changed`
 * says how many pieces became copies. */
NwStatus nw_edit_merge_congruent(NwEdit *edit);

#endif
