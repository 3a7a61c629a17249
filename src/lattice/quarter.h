/* A cell seen along an axis: its core covers the square, and each quarter of it has one corner.
 *
 *      axis     to the right    up      seen from
 *      0 (x)    y               z       +x
 *      1 (y)    x               z       -y
 *      2 (z)    x               y       +z
 *
 * Thread: any; nothing to own. */
#ifndef NW_LATTICE_QUARTER_H
#define NW_LATTICE_QUARTER_H

#include "lattice/part.h"

/* The corners of a square by compass, north up. */
typedef enum NwQuarter {
    NW_SOUTH_WEST,
    NW_SOUTH_EAST,
    NW_NORTH_WEST,
    NW_NORTH_EAST,
} NwQuarter;

/* The axes that run to the right and up in the picture. */
int nw_axis_across(int axis);
int nw_axis_up(int axis);

/* Of a corner: where it lies in its square, and whether it is upper. */
NwQuarter nw_corner_quarter(int axis, NwPart part);
bool nw_corner_is_upper(int axis, NwPart part);

/* The corner part in a quarter of a cell's square. */
NwPart nw_corner_in_quarter(int axis, NwVec cell, NwQuarter quarter);

#endif
