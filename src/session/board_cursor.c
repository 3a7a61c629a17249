#include "session/board_cursor.h"

enum { SIDES = 2, LINES = 3, CORE_LINE = 1 };

NwBoardCursor nw_board_cursor_at(const NwBoardPlan *plan, NwPart part) {
    NwVec from_low = nw_vec_sub(part.cell, plan->box.low);
    NwBoardCursor cursor = {
        nw_vec_get(from_low, plan->axis),
        SIDES * nw_vec_get(from_low, nw_axis_across(plan->axis)),
        LINES * nw_vec_get(from_low, nw_axis_up(plan->axis)) + CORE_LINE,
    };
    if (part.bit == 0)
        return cursor;
    NwQuarter quarter = nw_corner_quarter(plan->axis, part);
    cursor.column += quarter & 1;
    cursor.line += quarter & 2 ? 1 : -1;
    return cursor;
}

NwPart nw_board_cursor_part(const NwBoardPlan *plan, NwBoardCursor cursor) {
    NwVec cell = plan->box.low;
    int across = nw_axis_across(plan->axis), up = nw_axis_up(plan->axis);
    nw_vec_set(&cell, plan->axis, nw_vec_get(cell, plan->axis) + cursor.layer);
    nw_vec_set(&cell, across, nw_vec_get(cell, across) + cursor.column / SIDES);
    nw_vec_set(&cell, up, nw_vec_get(cell, up) + cursor.line / LINES);
    int line = cursor.line % LINES;
    if (line == CORE_LINE)
        return (NwPart){cell, 0};
    return nw_corner_in_quarter(plan->axis, cell,
                                cursor.column % SIDES + (line > CORE_LINE ? 2 : 0));
}

/* `at` moved by `by`, but not out of 0 to count - 1; a step of more than one keeps its rest. */
static int moved(int at, int by, int step, int count) {
    int to = at + by * step;
    while (to < 0)
        to += step;
    while (to >= count)
        to -= step;
    return to;
}

NwBoardCursor nw_board_cursor_moved(const NwBoardPlan *plan, NwBoardCursor cursor, int right,
                                    int up, int layers, bool cells) {
    cursor.column =
        moved(cursor.column, right, cells || cursor.line % LINES == CORE_LINE ? SIDES : 1,
              SIDES * nw_board_columns(plan));
    cursor.line = moved(cursor.line, up, cells ? LINES : 1, LINES * nw_board_rows(plan));
    cursor.layer = moved(cursor.layer, layers, 1, nw_board_layers(plan));
    return cursor;
}
