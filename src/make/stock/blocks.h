/* Blocks: gluing a piece up from ready-made solids.
 *
 * A maker who has cores, corners, half cells (a core with one corner on it), whole cells and
 * octahedra (the eight corners round an odd vertex) in a box glues a piece of as few of them as
 * will do. Two octahedra never want the same corner, and once it is settled which octahedra are
 * used every cell is on its own:
 *
 *     whole: one block     core and c corners: a half cell and c - 1 corners     c corners: c
 *
 * So only the choice of octahedra is a search. With up to NW_BLOCK_TRY_MAX that could be used all
 * choices are tried, and the number of blocks is the least there is; with more it is the least
 * that is found by changing one choice at a time, and `least` is false.
 *
 * The gluing order is an order of taking apart, reversed: a block may go when it can leave along
 * one of 26 directions (axes, face diagonals, space diagonals) without pressing against a block it
 * is glued to. What it might meet farther out is not looked at. Small blocks go first, and if
 * possible none that leaves the rest in two lumps. A block that has no such direction is marked:
 * it must be put in before its neighbours are glued to each other.
 *
 * Coordinates: cells, as the piece is drawn. Ownership: the caller frees. Thread: any. */
#ifndef NW_MAKE_STOCK_BLOCKS_H
#define NW_MAKE_STOCK_BLOCKS_H

#include <glib.h>

#include "design/design.h"
#include "make/progress.h"
#include "make/stock/block.h"

enum { NW_BLOCK_TRY_MAX = 14 };

/* NULL: stopped. */
NwBlocks *nw_blocks_new(const NwSolid *solid, NwProgress *progress);
void nw_blocks_free(NwBlocks *blocks); /* NULL is allowed */

/* "core", "cores": the kind's name for a number of them, translated. */
const char *nw_block_name(NwBlockKind kind, int count);

/* All pieces of a design, with counts in all and the gluing order of each, as text. NULL: stopped.
 */
char *nw_blocks_text(const NwDesign *design, double cell_mm, NwProgress *progress);

#endif
