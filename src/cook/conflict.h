/* What is in the way: why a known assembly no longer fits after some changes.
 *
 * The pieces stand as in the known assembly (baseline->known[i].placements), and the first thing
 * that is wrong is named. Thread: any. */
#ifndef NW_COOK_CONFLICT_H
#define NW_COOK_CONFLICT_H

#include "cook/variant.h"

typedef enum NwConflictKind {
    NW_CONFLICT_NONE, /* all fits, but perhaps its way out is blocked, or it is the intended one */
    NW_CONFLICT_OUTSIDE, /* a won part reaches out of the envelope */
    NW_CONFLICT_OVERLAP, /* a won part lies in another body */
    NW_CONFLICT_HOLE,    /* a lost part leaves a hole that nobody fills */
    NW_CONFLICT_ODD,     /* the piece stands at an odd shift, where only whole cells may */
} NwConflictKind;

typedef struct NwConflict {
    NwConflictKind kind;
    int change;  /* which of the changes does it */
    NwPart part; /* where it is in the known assembly; not for NW_CONFLICT_ODD */
    int body;    /* of the known assembly: that has won or lost the part */
    int other;   /* NW_CONFLICT_OVERLAP: the body it lies in */
} NwConflict;

NwConflict nw_conflict_find(const NwBaseline *baseline, const NwDesign *variant,
                            const NwChange *changes, int count, size_t known);

#endif
