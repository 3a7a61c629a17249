/* What is in the way: why a known assembly no longer fits after some changes.
 *
 * The pieces stand as in the known assembly (ground->known[i].placements), and the first thing that
 * is wrong is named. Thread: any. */
#ifndef NW_COOK_CLASH_H
#define NW_COOK_CLASH_H

#include "cook/altered.h"

typedef enum NwClashKind {
    NW_CLASH_NONE,    /* all fits, but perhaps its way out is blocked, or it is the intended one */
    NW_CLASH_OUTSIDE, /* a won part reaches out of the envelope */
    NW_CLASH_OVERLAP, /* a won part lies in another body */
    NW_CLASH_HOLE,    /* a lost part leaves a hole that nobody fills */
    NW_CLASH_ODD,     /* the piece stands at an odd shift, where only whole cells may */
} NwClashKind;

typedef struct NwClash {
    NwClashKind kind;
    int change;  /* which of the changes does it */
    NwPart part; /* where it is in the known assembly; not for NW_CLASH_ODD */
    int body;    /* of the known assembly: that has won or lost the part */
    int other;   /* NW_CLASH_OVERLAP: the body it lies in */
} NwClash;

NwClash nw_clash_find(const NwGround *ground, const NwDesign *altered, const NwChange *changes,
                      int count, size_t known);

#endif
