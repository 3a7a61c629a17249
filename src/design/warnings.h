/* Marks: what a maker wants to see of a piece while sketching it.
 *
 * Take the parts of a piece as nodes and each pair that shares a face as a link. A link that is on
 * no cycle is a *bridge*: the two sides hang together by that one triangular face. Bridges are
 * found in one depth-first walk: R. Tarjan, "A note on finding the bridges of a graph",
 * Information Processing Letters 2, 1974; the walk keeps its own stack.
 *
 * A corner that only touches its core hangs by a bridge too, although by the whole of its large
 * face, and nobody need worry about that. A *neck* is a bridge with more than one part on either
 * side: there the piece may break. Thread: any. Cost: linear, but for searches of cells. */
#ifndef NW_DESIGN_WARNINGS_H
#define NW_DESIGN_WARNINGS_H

#include "design/design.h"

typedef struct NwBridge {
    NwPart part; /* of the lesser side */
    int face;    /* its face that is the bridge (part.h) */
    size_t side; /* how many parts the lesser side has */
} NwBridge;

/* All bridges of a solid, those with the most parts on the lesser side first, then by part. The
 * caller frees *bridges. Returns how many. */
size_t nw_solid_bridges(const NwSolid *solid, NwBridge **bridges);

typedef struct NwPieceWarnings {
    long volume6;   /* in sixths of a cell */
    size_t lumps;   /* 1 for a sound piece, 0 for an empty one */
    size_t bridges; /* all, and those that are necks */
    size_t necks;
} NwPieceWarnings;

NwPieceWarnings nw_piece_warnings(const NwDesign *design, int piece);

#endif
