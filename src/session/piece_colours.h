/* The colours that pieces keep when the list changes about them. Thread: the main one. */
#ifndef NW_SESSION_PIECE_COLOURS_H
#define NW_SESSION_PIECE_COLOURS_H

#include "design/design.h"

/* Writes into each piece without a colour the one it shows, or where another piece has that, the
 * one of the palette that the fewest have: before pieces move in the list, so that none changes its
 * looks, and after new ones have come. */
void nw_piece_colours_keep(NwDesign *design);

#endif
