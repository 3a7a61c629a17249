/* The named solids. To add one, write its builder in named.c and add a row to the table there;
 * the command line, its help and the tests read the table. */
#ifndef NW_LATTICE_NAMED_H
#define NW_LATTICE_NAMED_H

#include "lattice/solid.h"

enum { NW_SIZES_MAX = 3 };

typedef struct NwNamedSolid {
    const char *name;
    int sizes;           /* how many whole numbers it takes, 1 to NW_SIZES_MAX */
    const char *measure; /* what they measure, in cells */
    int step;            /* every size must be a multiple of this */
    int largest;         /* and at most this */
    NwStatus (*build)(const int *sizes, NwSolid **solid);
} NwNamedSolid;

/* Row `index` of the table, NULL past its end. */
const NwNamedSolid *nw_named_solid(size_t index);

/* The row of that name, or NULL. */
const NwNamedSolid *nw_named_solid_find(const char *name);

/* The nearest sizes that the lattice holds, at and around a wanted one. Equal if `wanted` is one
 * of them; `below` may be 0, which is no size. */
void nw_named_solid_nearest(const NwNamedSolid *named, int wanted, int *below, int *above);

/* Builds it; the caller frees *solid. NW_OFF_LATTICE for a size that is no multiple of `step`,
 * NW_OUT_OF_RANGE for one below 1 or over `largest`. On failure *solid is NULL. */
NwStatus nw_named_solid_build(const NwNamedSolid *named, const int *sizes, NwSolid **solid);

#endif
