/* The keyboard cursor of the layer board: a step of an arrow key, without a widget in it.
 *
 * A square has three lines of places: the two northern corners, the core, the two southern ones.
 * So going down from a north-western corner passes the core and comes to the south-western one: the
 * cursor remembers its side while it stands on a core.
 *
 *      NW   NE        column = 2 * square + side, from the left
 *        core         line   = 3 * square + 0, 1 or 2, from the bottom
 *      SW   SE
 *
 * Coordinates: places counted from the low end of the box. Thread: any; nothing to own. */
#ifndef NW_SESSION_BOARD_CURSOR_H
#define NW_SESSION_BOARD_CURSOR_H

#include "session/board_geometry.h"

typedef struct NwBoardCursor {
    int layer, column, line;
} NwBoardCursor;

/* The cursor on a part of the box, on the left side of a core. */
NwBoardCursor nw_board_cursor_at(const NwBoardPlan *plan, NwPart part);

/* The part under the cursor. */
NwPart nw_board_cursor_part(const NwBoardPlan *plan, NwBoardCursor cursor);

/* The cursor moved by whole steps, to the right, up and by layers; it stays inside the box.
 * `cells`: a step to the right or up is a square, not a place. */
NwBoardCursor nw_board_cursor_moved(const NwBoardPlan *plan, NwBoardCursor cursor, int right,
                                    int up, int layers, bool cells);

#endif
