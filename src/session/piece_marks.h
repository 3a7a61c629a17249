/* The live marks of a piece in the words of the list: "in 2 lumps", "hangs by one face", "does not
 * fit anywhere". Strings are the caller's (g_free). Thread: the main one. */
#ifndef NW_SESSION_PIECE_MARKS_H
#define NW_SESSION_PIECE_MARKS_H

#include <glib.h>

#include "design/design.h"

/* What is to be noticed about a piece, one mark a line; NULL if nothing is. `fits`: whether it goes
 * into the outside shape at all. */
char *nw_piece_mark_words(const NwDesign *design, int piece, gboolean fits);

/* Bit p for every piece that has a place in the outside shape. Answers at once with all bits for a
 * design that is too large to look through on the way; *known says which it was.
 * Cost: as nw_placement_table_build. */
guint64 nw_pieces_that_fit(const NwDesign *design, gboolean *known);

/* The sharp tips of a piece, one a line: "point 2,3,4, hidden". NULL if there are none. */
char *nw_piece_tip_words(const NwDesign *design, int piece);

#endif
