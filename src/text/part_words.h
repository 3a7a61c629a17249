/* A part of the envelope in words, as one would tell it to somebody who does not see the board:
 * "layer z = 2, cell 1,3, upper corner north-east, piece B". Strings are the caller's (g_free).
 * Thread: the main one. */
#ifndef NW_TEXT_PART_WORDS_H
#define NW_TEXT_PART_WORDS_H

#include <glib.h>

#include "design/design.h"

/* `axis` is the one whose layers the board shows; `selection` may be NULL. */
char *nw_part_words(const NwDesign *design, const NwSolid *selection, int axis, NwPart part);

/* Where a part is, whosever it is: "the upper corner north-east of cell 1,3 in layer z = 2". */
char *nw_part_place_words(int axis, NwPart part);

/* "z = 2". */
char *nw_layer_words(int axis, int level);

/* "21 1/3 cells", from sixths of a cell. */
char *nw_volume_words(long volume6);

#endif
