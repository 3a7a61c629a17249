/* All changes that can be made to an arrangement of the pieces: what the advisor tries.
 *
 * A part is given or handed only to a piece that it touches with a face (or that has no parts any
 * more: the first change of a pair may have used it up); it is taken away only
 * where it may be empty. Parts of one piece that go to another copy of it count too: they change
 * the shape. A change that does the same to the pieces as an earlier one is listed once. The order
 * is that of the parts of the envelope, then of the bodies. Thread: reads the baseline. */
#ifndef NW_COOK_CANDIDATES_H
#define NW_COOK_CANDIDATES_H

#include "cook/baseline.h"
#include "cook/change.h"

typedef struct NwCandidates {
    NwChange *list;
    size_t count, capacity;
    size_t *order; /* by what they do to the pieces */
} NwCandidates;

void nw_candidates_clear(NwCandidates *choices);

/* The changes of `design`, which has the baseline's envelope and intended assembly and perhaps
 * other parts in its pieces. The intended assembly must fit. */
void nw_candidates_list(const NwBaseline *baseline, const NwDesign *design, NwCandidates *choices);

/* Where a change stands in a list, by what it does to the pieces; -1 if it is not there. */
long nw_candidates_find(const NwCandidates *choices, const NwChange *change);

#endif
