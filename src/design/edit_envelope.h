/* Sketching: the envelope changes under the pieces. See edit.h for what an edit is. */
#ifndef NW_DESIGN_EDIT_ENVELOPE_H
#define NW_DESIGN_EDIT_ENVELOPE_H

#include "design/edit.h"

/* What would fall out of each piece in another envelope: the parts of which some copy would stick
 * out, in the frame of the piece; of a piece with a copy at an odd shift, whole cells. The caller
 * gives an array of piece_count and frees the solids. *total (NULL allowed) is how many parts in
 * all. NW_OFF_LATTICE or NW_OUT_OF_RANGE, with only NULLs, when a piece is not where parts are. */
NwStatus nw_design_losses(const NwDesign *design, const NwSolid *envelope, NwSolid **losses,
                          size_t *total);

/* Replaces the envelope. Pieces lose what falls out, and what may be empty is clipped.
 * NW_DOES_NOT_FIT if a locked piece would lose parts. */
NwStatus nw_edit_set_envelope(NwEdit *edit, const NwSolid *envelope);

/* Which parts need not be filled: exactly those of the selection (NULL: none) that the envelope
 * has. `refused` counts the others; `changed` those whose standing changed. For everything inside
 * the skin there is nw_brush_inside (brush.h). */
NwStatus nw_edit_set_may_be_empty(NwEdit *edit, const NwSolid *selection);

#endif
