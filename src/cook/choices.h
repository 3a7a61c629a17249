/* All changes that can be made to an arrangement of the pieces: what the advisor tries.
 *
 * A part is given or handed only to a piece that it touches with a face (or that has no parts any
 * more: the first change of a pair may have used it up); it is taken away only
 * where it may be empty. Parts of one piece that go to another copy of it count too: they change
 * the shape. A change that does the same to the pieces as an earlier one is listed once. The order
 * is that of the parts of the envelope, then of the bodies. Thread: reads the ground. */
#ifndef NW_COOK_CHOICES_H
#define NW_COOK_CHOICES_H

#include "cook/change.h"
#include "cook/ground.h"

typedef struct NwChoices {
    NwChange *list;
    size_t count, capacity;
    size_t *order; /* by what they do to the pieces */
} NwChoices;

void nw_choices_clear(NwChoices *choices);

/* The changes of `design`, which has the ground's envelope and intended assembly and perhaps other
 * parts in its pieces. The intended assembly must fit. */
void nw_choices_list(const NwGround *ground, const NwDesign *design, NwChoices *choices);

/* Where a change stands in a list, by what it does to the pieces; -1 if it is not there. */
long nw_choices_find(const NwChoices *choices, const NwChange *change);

#endif
