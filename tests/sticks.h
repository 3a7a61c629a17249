/* Six-stick puzzles in the published numbering.
 *
 * Frame: six sticks of 2 x 2 x length cells in three crossing pairs. The x sticks fill y in [0,2)
 * or [-2,0) and z in [-1,1); the y and z sticks follow by cyclic permutation of the axes. Cells of
 * more than one stick are shared, 32 of them. Only twelve cells of a stick may be cut away:
 *
 *      inner face, four columns along the stick      outer layer, columns 2 and 3
 *        row A:   1   2   3   4                        row A:   9  10
 *        row B:   5   6   7   8                        row B:  11  12
 *
 * and a stick's number is 1 + the sum of 2^(k-1) over the cells k cut away (IBM Research burr
 * site, J. von Kaenel, about 1997, "Burr6.html", Def 9.0 and 9.1). The stick is named by the least
 * number over the eight turns of a stick that keep the cut within the twelve.
 * Lengths are even, 6 or more. The caller frees what is built. */
#ifndef NW_TESTS_STICKS_H
#define NW_TESTS_STICKS_H

#include "design/design.h"

enum { NW_STICK_NUMBERS = 4096, NW_STICKS = 6 };

/* Stick `number` (1 to 4096) along x, columns 1 to 4 at x = -2 to 1, inner layer y = 0, outer y =
 * 1, row A at z = -1, row B at z = 0. */
NwSolid *nw_stick(int number, int length);

/* The least number over all turns. */
int nw_stick_name(int number);

/* Whether the stick holds together. */
bool nw_stick_is_connected(int number);

/* Whether straight saw cuts across the stick make it: in every column, what is cut away from the
 * 2 x 2 cross section is made of pairs side by side. */
bool nw_stick_is_notchable(int number);

/* The frame as envelope, its shared cells may stay empty; equal sticks become copies. */
NwDesign *nw_sticks_design(const int numbers[NW_STICKS], int length);

/* Cells that stay empty in every assembly. */
long nw_sticks_holes(const NwDesign *design);

#endif
