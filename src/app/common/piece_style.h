/* How a piece shows in the window beside the viewport: its colour and the short form of its name,
 * the same in the list and on the layer board. Thread: the main one. */
#ifndef NW_APP_COMMON_PIECE_STYLE_H
#define NW_APP_COMMON_PIECE_STYLE_H

#include <gdk/gdk.h>

#include "design/design.h"
#include "view/palette.h"

/* The piece's own colour, or one of the palette; `one_colour`: a tone of wood instead. */
GdkRGBA nw_piece_style_colour(const NwDesign *design, int piece, gboolean one_colour);

/* Black or white, whichever can be read on `ground`. */
GdkRGBA nw_piece_style_ink(const GdkRGBA *ground);

/* At most two letters: "A 2" gives "A2". The caller frees. */
char *nw_piece_style_dup_short(const char *name);

GdkRGBA nw_colour_rgba(NwColour colour, float alpha);

#endif
