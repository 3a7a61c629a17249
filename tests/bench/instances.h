/* Well-known packing puzzles with counts that others have published.
 *
 * A count of -1 is not known to this table. `raw` counts assemblies as sets of placed solids,
 * copies interchangeable; `apart` counts them up to rotation of the envelope, `together` up to
 * rotation and reflection. `published` says which of them are published, where, and by what rule;
 * the others were recomputed with separate throw-away code or follow from them. */
#ifndef NW_TESTS_BENCH_INSTANCES_H
#define NW_TESTS_BENCH_INSTANCES_H

#include "design/design.h"

typedef struct NwInstance {
    const char *name;
    NwDesign *(*build)(const char *name, const int sizes[3]);
    int sizes[3];
    bool mirrors_together; /* the rule of the published count */
    bool single_copies;    /* every piece has one copy, so the textbook solver can take it */
    long raw, apart, together;
    const char *published;
} NwInstance;

/* Row `index`, NULL past the end. */
const NwInstance *nw_instance(size_t index);
const NwInstance *nw_instance_find(const char *name); /* or NULL */

/* The design of a row; the caller frees it. */
NwDesign *nw_instance_build(const NwInstance *instance);

/* The count of classes by the row's own rule. */
long nw_instance_classes(const NwInstance *instance);

#endif
