#include "session/board_geometry.h"

#include <math.h>

static int extent(const NwBoardPlan *plan, int axis) {
    return nw_vec_get(plan->box.high, axis) - nw_vec_get(plan->box.low, axis);
}

int nw_board_layers(const NwBoardPlan *plan) {
    return extent(plan, plan->axis);
}

int nw_board_columns(const NwBoardPlan *plan) {
    return extent(plan, nw_axis_across(plan->axis));
}

int nw_board_rows(const NwBoardPlan *plan) {
    return extent(plan, nw_axis_up(plan->axis));
}

/* From the left end of one layer to that of the next, and from the top of one row to the next. */
static double pitch(const NwBoardPlan *plan) {
    return nw_board_columns(plan) * plan->side + plan->gap;
}

static double drop(const NwBoardPlan *plan) {
    return plan->head + nw_board_rows(plan) * plan->side + plan->margin;
}

/* Rows of layers, with so many abreast. */
static int rows_of_layers(const NwBoardPlan *plan, int abreast) {
    return (nw_board_layers(plan) + abreast - 1) / abreast;
}

NwBoardPoint nw_board_size(const NwBoardPlan *plan) {
    int layers = nw_board_layers(plan);
    int widest = layers < plan->abreast ? layers : plan->abreast;
    return (NwBoardPoint){widest * pitch(plan) + plan->gap,
                          rows_of_layers(plan, plan->abreast) * drop(plan)};
}

int nw_board_abreast(const NwBoardPlan *plan, double width) {
    double abreast = floor((width - plan->gap) / pitch(plan));
    return abreast < 1 ? 1 : (int)fmin(abreast, fmax(1, nw_board_layers(plan)));
}

/* The side with which the layers go into the room, so many abreast. */
static double fit_abreast(const NwBoardPlan *plan, NwBoardPoint room, int abreast) {
    double wide = ((room.x - plan->gap) / abreast - plan->gap) / nw_board_columns(plan);
    double high = room.y / rows_of_layers(plan, abreast) - plan->head - plan->margin;
    return fmin(wide, high / nw_board_rows(plan));
}

double nw_board_fit(const NwBoardPlan *plan, NwBoardPoint room, double most) {
    double best = 0;
    if (nw_board_columns(plan) == 0 || nw_board_rows(plan) == 0)
        return 0;
    for (int abreast = nw_board_layers(plan); abreast >= 1; abreast--) {
        double side = fmin(most, fit_abreast(plan, room, abreast));
        if (side > best * NW_BOARD_WORTH)
            best = side;
    }
    return best;
}

NwBoardPoint nw_board_square(const NwBoardPlan *plan, NwVec cell) {
    NwVec from_low = nw_vec_sub(cell, plan->box.low);
    int layer = nw_vec_get(from_low, plan->axis);
    int column = nw_vec_get(from_low, nw_axis_across(plan->axis));
    int row = nw_vec_get(from_low, nw_axis_up(plan->axis));
    return (NwBoardPoint){
        plan->gap + layer % plan->abreast * pitch(plan) + column * plan->side,
        layer / plan->abreast * drop(plan) + plan->head +
            (nw_board_rows(plan) - 1 - row) * plan->side,
    };
}

int nw_board_polygon(const NwBoardPlan *plan, NwPart part, NwBoardPoint points[4]) {
    NwBoardPoint at = nw_board_square(plan, part.cell);
    double half = plan->side / 2;
    if (part.bit == 0) {
        points[0] = (NwBoardPoint){at.x + half, at.y};
        points[1] = (NwBoardPoint){at.x + plan->side, at.y + half};
        points[2] = (NwBoardPoint){at.x + half, at.y + plan->side};
        points[3] = (NwBoardPoint){at.x, at.y + half};
        return 4;
    }
    NwQuarter quarter = nw_corner_quarter(plan->axis, part);
    bool east = quarter & 1, north = quarter & 2;
    NwBoardPoint end = {at.x + (east ? plan->side : 0), at.y + (north ? 0 : plan->side)};
    points[0] = end;
    points[1] = (NwBoardPoint){at.x + half, end.y};
    points[2] = (NwBoardPoint){end.x, at.y + half};
    return 3;
}

NwBoardPoint nw_board_centre(const NwBoardPlan *plan, NwPart part) {
    NwBoardPoint points[4], sum = {0, 0};
    int count = nw_board_polygon(plan, part, points);
    for (int i = 0; i < count; i++) {
        sum.x += points[i].x / count;
        sum.y += points[i].y / count;
    }
    return sum;
}

bool nw_board_hit(const NwBoardPlan *plan, NwBoardPoint point, NwPart *part) {
    if (plan->side <= 0 || point.x < plan->gap || point.y < 0)
        return false;
    double abreast = floor((point.x - plan->gap) / pitch(plan));
    double below = floor(point.y / drop(plan));
    double right = point.x - plan->gap - abreast * pitch(plan);
    double down = point.y - below * drop(plan) - plan->head;
    double column = floor(right / plan->side), row = floor(down / plan->side);
    double layer = below * plan->abreast + abreast;
    if (abreast >= plan->abreast || layer >= nw_board_layers(plan) ||
        column >= nw_board_columns(plan) || row < 0 || row >= nw_board_rows(plan))
        return false;
    NwVec cell = plan->box.low;
    int across = nw_axis_across(plan->axis), up = nw_axis_up(plan->axis);
    nw_vec_set(&cell, plan->axis, nw_vec_get(cell, plan->axis) + (int)layer);
    nw_vec_set(&cell, across, nw_vec_get(cell, across) + (int)column);
    nw_vec_set(&cell, up, nw_vec_get(cell, up) + nw_board_rows(plan) - 1 - (int)row);
    double u = right / plan->side - column - 0.5, v = 0.5 - (down / plan->side - row);
    if (fabs(u) + fabs(v) < 0.5)
        *part = (NwPart){cell, 0};
    else
        *part = nw_corner_in_quarter(plan->axis, cell, (u < 0 ? 0 : 1) + (v < 0 ? 0 : 2));
    return true;
}
