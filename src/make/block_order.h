/* The gluing order of blocks; blocks.h says by what rule. Thread: any.
 * Cost: the cube of the number of blocks at worst. */
#ifndef NW_MAKE_BLOCK_ORDER_H
#define NW_MAKE_BLOCK_ORDER_H

#include "make/blocks.h"

/* Sorts the blocks into their gluing order and marks those without a straight way. */
void nw_blocks_order(NwBlocks *blocks);

#endif
