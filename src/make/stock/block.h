/* A block and the blocks of a piece; blocks.h says what they are. */
#ifndef NW_MAKE_STOCK_BLOCK_H
#define NW_MAKE_STOCK_BLOCK_H

#include "lattice/solid.h"

typedef enum NwBlockKind {
    NW_BLOCK_OCTAHEDRON,
    NW_BLOCK_WHOLE,
    NW_BLOCK_HALF,
    NW_BLOCK_CORE,
    NW_BLOCK_CORNER,
    NW_BLOCK_KINDS
} NwBlockKind;

typedef struct NwBlock {
    NwBlockKind kind;
    NwSolid *solid;
    NwVec at;      /* its cell; an octahedron's middle vertex */
    bool straight; /* it comes to its place on a straight way */
} NwBlock;

typedef struct NwBlocks {
    NwBlock *blocks; /* in the order of gluing */
    size_t count, capacity;
    int counts[NW_BLOCK_KINDS];
    bool least;
} NwBlocks;

#endif
