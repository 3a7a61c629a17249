/* The five parts of a cell.
 *
 * The cell [x,x+1] x [y,y+1] x [z,z+1] has eight vertices, numbered v = dx + 2*dy + 4*dz. Four of
 * them are even (x+y+z even). They span a regular tetrahedron, the *core*, of volume 1/3. Cutting
 * it out leaves a right-angled tetrahedron of volume 1/6 at each odd vertex, the *corners*:
 *
 *        odd --------- even        seen from above, one cell face: the cut runs from even
 *         | corner   /  |          to even vertex, and the neighbour on the other side of the
 *         |        /    |          face is cut along the same line, since it is this cell's
 *         |      /      |          mirror image.
 *         |    /  corner|
 *        even --------- odd
 *
 * A mask has bit 0 for the core and bits 1 to 4 for the corners at the odd vertices in rising v:
 * 1, 2, 4, 7 in an even cell and 0, 3, 5, 6 in an odd one. A whole cell is NW_WHOLE.
 * Thread: any; nothing to own. */
#ifndef NW_LATTICE_PART_H
#define NW_LATTICE_PART_H

#include <stdint.h>

#include "lattice/turn.h"

enum { NW_PARTS = 5, NW_CORE = 1, NW_WHOLE = 31 };

/* One part: the cell's lowest corner and the bit (0 to 4) in its mask. */
typedef struct NwPart {
    NwVec cell;
    int bit;
} NwPart;

/* The vertex number v of corner `bit` (1 to 4) in a cell of the given parity. */
int nw_part_vertex(int parity, int bit);

/* The bit of the corner at odd vertex v; 0 if v is an even vertex of such a cell. */
int nw_part_bit(int parity, int v);

/* The four vertices of a part. For a corner the odd one comes first. */
void nw_part_vertices(NwPart part, NwVec vertices[4]);

/* Volume in sixths of a cell: 2 for a core, 1 for a corner. */
static inline int nw_part_volume6(int bit) {
    return bit == 0 ? 2 : 1;
}

/* Volume in sixths of all parts in a mask. */
int nw_mask_volume6(int mask);

/* The mask of the turned cell: `mask` belongs to a cell of parity `parity`. */
int nw_mask_turn(NwTurn turn, int parity, int mask);

/* The part across face `face` (0 to 3). For a core, face f leads to corner f+1 of its cell. For a
 * corner, face 0 leads to its core and face 1+a crosses the cell's face on axis a. */
NwPart nw_part_across(NwPart part, int face);

/* The three vertices of that face, counter-clockwise seen from outside the part. */
void nw_part_face(NwPart part, int face, NwVec triangle[3]);

#endif
