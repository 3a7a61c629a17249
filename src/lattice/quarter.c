#include "lattice/quarter.h"

int nw_axis_across(int axis) {
    return axis == 0 ? 1 : 0;
}

int nw_axis_up(int axis) {
    return axis == 2 ? 1 : 2;
}

NwQuarter nw_corner_quarter(int axis, NwPart part) {
    int v = nw_part_vertex(nw_vec_parity(part.cell), part.bit);
    return (v >> nw_axis_across(axis) & 1) + 2 * (v >> nw_axis_up(axis) & 1);
}

bool nw_corner_is_upper(int axis, NwPart part) {
    return nw_part_vertex(nw_vec_parity(part.cell), part.bit) >> axis & 1;
}

NwPart nw_corner_in_quarter(int axis, NwVec cell, NwQuarter quarter) {
    int parity = nw_vec_parity(cell);
    int v = (quarter & 1) << nw_axis_across(axis) | quarter >> 1 << nw_axis_up(axis);
    int lower = nw_part_bit(parity, v);
    return (NwPart){cell, lower ? lower : nw_part_bit(parity, v | 1 << axis)};
}
