/* Two versions of a design, part by part.
 *
 * Pieces are paired by name. Of those that are left over in both, pairs that share the most parts
 * are taken for one piece renamed, as long as they share any; ties go to the earlier pieces. Parts
 * are compared where the first copies stand (bodies.h), in the frame of the envelope, so a piece
 * that was only drawn in another frame has not changed.
 *
 * Ownership: the comparison owns what it points to and borrows nothing. Thread: read-only once
 * made. Cost: pieces squared, times their cells. */
#ifndef NW_DESIGN_COMPARE_H
#define NW_DESIGN_COMPARE_H

#include "design/design.h"

/* One piece, before and after. Without a partner its index there is -1 and the solid empty. */
typedef struct NwPieceChange {
    int before, after;        /* indices in the two designs */
    NwSolid *lost, *won;      /* parts only before, and only after */
    int copies_change;        /* copies after, less those before */
    bool renamed, recoloured; /* with a partner only, and so for the next */
    bool reordered;           /* stands elsewhere among the pieces that both have */
} NwPieceChange;

/* Parts that one piece had before and another has after; indices as there. */
typedef struct NwPartsMoved {
    int before, after;
    NwSolid *parts;
} NwPartsMoved;

typedef struct NwComparison {
    NwPieceChange *pieces; /* all pieces of both: by `after`, then those that are gone */
    size_t piece_count;
    NwPartsMoved *moved; /* by `before`, then `after` */
    size_t moved_count;
    NwSolid *envelope_lost, *envelope_won;
    NwSolid *empty_lost, *empty_won; /* of the parts that may be empty */
    bool renamed;                    /* the design itself */
    bool mirrors_changed;
    bool intended_changed; /* the bodies that are placed, beyond what the pieces tell */
    bool same;             /* nothing of all this is different */
} NwComparison;

/* NW_OFF_LATTICE or NW_OUT_OF_RANGE, and *comparison NULL, when a piece of either is not where
 * parts are. */
NwStatus nw_compare(const NwDesign *before, const NwDesign *after, NwComparison **comparison);
void nw_comparison_free(NwComparison *comparison); /* NULL is allowed */

/* Whether this piece has changed in any way. */
bool nw_piece_is_changed(const NwPieceChange *change);

#endif
