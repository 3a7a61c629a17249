/* The gluing order of blocks; blocks.h says by what rule. Thread: any.
 * Cost: the cube of the number of blocks at worst. */
#ifndef NW_MAKE_STOCK_BLOCK_ORDER_H
#define NW_MAKE_STOCK_BLOCK_ORDER_H

#include "make/progress.h"
#include "make/stock/block.h"

/* Sorts the blocks into their gluing order and marks those without a straight way. False: stopped,
 * and they are not sorted. */
bool nw_blocks_order(NwBlocks *blocks, NwProgress *progress);

/* The area of the faces in which two blocks touch, in squares of the cell's side. */
double nw_blocks_contact(const NwBlock *a, const NwBlock *b);

#endif
