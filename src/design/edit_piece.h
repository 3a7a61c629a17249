/* Sketching: pieces come, go, and change their particulars. See edit.h for what an edit is.
 *
 * New pieces come last and have one copy; where an assembly is intended they join it where they
 * are drawn. What is asked of a locked piece is refused: `refused` is 1. Operations that create
 * pieces give NW_TOO_MANY past NW_PIECES_MAX pieces or NW_COPIES_MAX copies. */
#ifndef NW_DESIGN_EDIT_PIECE_H
#define NW_DESIGN_EDIT_PIECE_H

#include "design/edit.h"

/* A new piece of the selection, which other pieces lose as in nw_edit_give; `name` NULL for the
 * next letter. NW_EMPTY if nothing of the selection could be given; `refused` counts parts. */
NwStatus nw_edit_new_piece(NwEdit *edit, const char *name, const NwSolid *selection);

/* An empty new piece, to be painted; `name` NULL for the next letter. */
NwStatus nw_edit_new_empty_piece(NwEdit *edit, const char *name);

/* Deletes a piece with all its copies. */
NwStatus nw_edit_delete(NwEdit *edit, int piece);

/* A like piece, in the first room (fit_into.h) that what is left over has. NW_DOES_NOT_FIT if there
 * is none; NW_EMPTY for an empty piece. */
NwStatus nw_edit_duplicate(NwEdit *edit, int piece);

/* The image of a piece, under a motion that may be a reflection, as a new piece there. Its parts
 * must be left over: NW_DOES_NOT_FIT if not, NW_OFF_LATTICE and NW_OUT_OF_RANGE as motions go. */
NwStatus nw_edit_image(NwEdit *edit, int piece, NwMotion motion);

/* The mirror image of a piece as a new piece: across a symmetry plane of the envelope if there is
 * one that carries the piece into what is left over; else, mirrored across x, in the first room
 * that there is. NW_DOES_NOT_FIT if there is none. */
NwStatus nw_edit_mirror(NwEdit *edit, int piece);

/* Moves a piece to place `to` in the list; those between move up or down by one. */
NwStatus nw_edit_reorder(NwEdit *edit, int piece, int to);

/* Refused too for an empty name and for one that another piece has. */
NwStatus nw_edit_rename(NwEdit *edit, int piece, const char *name);

/* "#rrggbb", or "" for none; anything else is refused too. */
NwStatus nw_edit_recolour(NwEdit *edit, int piece, const char *colour);

/* How many copies there are. Where an assembly is intended, fewer copies drop the placements that
 * are listed last, and each further copy takes the first room in what is left over: all of them or
 * NW_DOES_NOT_FIT. NW_OUT_OF_RANGE below 1, NW_TOO_MANY over NW_COPIES_MAX in all. */
NwStatus nw_edit_set_copies(NwEdit *edit, int piece, int copies);

/* Inner part of the files edit_*.c: adds a piece to the draft, with a placement if an assembly is
 * intended, and takes over the solid, whose frame is that of the envelope. Frees the name. */
NwStatus nw_draft_add_piece(NwDraft *draft, char *name, NwSolid *solid);

/* The same for a piece after the pattern of another: its name counted on, its colour. Adds to
 * `changed`. */
NwStatus nw_draft_add_like(NwDraft *draft, int pattern, NwSolid *solid);

#endif
