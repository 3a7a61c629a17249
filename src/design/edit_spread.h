/* Sketching: many pieces from one, and from what is left over. See edit.h for what an edit is.
 *
 * New pieces come last, with one copy each, named and coloured after their pattern. Only parts that
 * no piece has are used. */
#ifndef NW_DESIGN_EDIT_SPREAD_H
#define NW_DESIGN_EDIT_SPREAD_H

#include "design/edit.h"

/* Spreads a piece over its orbit: the images of its first copy under the motions (the rotations of
 * the envelope from nw_design_symmetries, say) that differ from it become pieces. An image must lie
 * in what is left over, and two images must not overlap; of the ways to choose, one with the most
 * pieces is taken, the first in the order of the motions. `created` and `refused` say how many
 * images became pieces and how many did not; a motion that carries the piece off the lattice
 * counts as refused. Six like pieces from one: five are created. NW_EMPTY for an empty piece,
 * NW_TOO_MANY as in edit_piece.h and for more motions than NW_TURNS. */
NwStatus nw_edit_spread(NwEdit *edit, int piece, const NwMotion *motions, int count);

/* Every face-connected lump of what is left over becomes a piece, named by letters; parts that may
 * stay empty are left out unless `all`. NW_TOO_MANY as in edit_piece.h. */
NwStatus nw_edit_split_rest(NwEdit *edit, bool all);

#endif
