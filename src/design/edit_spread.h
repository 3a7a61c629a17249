/* Sketching: many bodies from one, and pieces from what is left over. See edit.h for what an edit
 * is.
 *
 * Only parts that no piece has are used. New pieces come last, with one copy each. */
#ifndef NW_DESIGN_EDIT_SPREAD_H
#define NW_DESIGN_EDIT_SPREAD_H

#include "design/edit.h"

/* Spreads a piece over its orbit: the images of its first copy under the motions (the rotations of
 * the envelope from nw_design_symmetries, say) that differ from it become further copies of it. For
 * copies have places only in an intended assembly (bodies.h), the pieces are listed there where
 * they stand. An image must lie in what is left over, and two images must not overlap; of the ways
 * to choose, one with the most copies is taken, the first in the order of the motions. Copies that
 * stood nowhere are placed before there are more. `created` and `refused` say how many images
 * became copies and how many did not; a reflection, and a motion that carries the piece off the
 * lattice, count as refused. Six like bodies from one: five are created. NW_EMPTY for an empty
 * piece, NW_TOO_MANY for more than NW_COPIES_MAX copies in all and for more motions than NW_TURNS;
 * a locked piece is refused. */
NwStatus nw_edit_spread(NwEdit *edit, int piece, const NwMotion *motions, int count);

/* Every face-connected lump of what is left over becomes a piece, named by letters; parts that may
 * stay empty are left out unless `all`. NW_TOO_MANY as in edit_piece.h. */
NwStatus nw_edit_split_rest(NwEdit *edit, bool all);

#endif
