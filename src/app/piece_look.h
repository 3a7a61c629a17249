/* How a piece shows in the window beside the viewport: its colour and the short form of its name,
 * the same in the list and on the layer board. Thread: the main one. */
#ifndef NW_APP_PIECE_LOOK_H
#define NW_APP_PIECE_LOOK_H

#include <gdk/gdk.h>

#include "design/design.h"
#include "view/palette.h"

/* The piece's own colour, or one of the palette; `one_colour`: a tone of wood instead. */
GdkRGBA nw_piece_look_colour(const NwDesign *design, int piece, gboolean one_colour);

/* Writes into each piece without a colour the one it shows, or where another piece has that, the
 * one of the palette that the fewest have: before pieces move in the list, so that none changes its
 * looks, and after new ones have come. */
void nw_piece_look_keep(NwDesign *design);

/* Black or white, whichever can be read on `ground`. */
GdkRGBA nw_piece_look_ink(const GdkRGBA *ground);

/* At most two letters: "A 2" gives "A2". The caller frees. */
char *nw_piece_look_dup_short(const char *name);

GdkRGBA nw_colour_rgba(NwColour colour, float alpha);

#endif
