/* A solid: a set of parts. Envelopes and pieces are solids.
 *
 * Its cells are kept sorted by x, then y, then z, each cell once and none with an empty mask, so
 * two solids are equal exactly when their arrays are. The fields may be read, not written.
 * Coordinates: cells, within [NW_COORD_MIN, NW_COORD_MAX]. Ownership: `new`, `copy`, `moved` and
 * the set operations return a solid that the caller frees. Thread: one writer or many readers. */
#ifndef NW_LATTICE_SOLID_H
#define NW_LATTICE_SOLID_H

#include <stddef.h>
#include <stdint.h>

#include "base/status.h"
#include "lattice/motion.h"
#include "lattice/part.h"

typedef struct NwCell {
    int16_t x, y, z;
    uint16_t mask;
} NwCell;

typedef struct NwSolid {
    NwCell *cells;
    size_t count;
    size_t capacity;
} NwSolid;

/* Lowest corner of all cells, and the corner just past the highest, so size = high - low. */
typedef struct NwBounds {
    NwVec low, high;
} NwBounds;

static inline NwVec nw_cell_at(const NwCell *cell) {
    return nw_vec(cell->x, cell->y, cell->z);
}

NwSolid *nw_solid_new(void);
void nw_solid_free(NwSolid *solid); /* NULL is allowed */
NwSolid *nw_solid_copy(const NwSolid *solid);

/* Adds or removes the parts of `mask` in one cell. NW_OUT_OF_RANGE leaves the solid as it was. */
NwStatus nw_solid_add(NwSolid *solid, NwVec cell, int mask);
void nw_solid_remove(NwSolid *solid, NwVec cell, int mask);

/* The mask in one cell, 0 where the solid has none. Cost: a binary search. */
int nw_solid_mask(const NwSolid *solid, NwVec cell);

bool nw_solid_equal(const NwSolid *a, const NwSolid *b);
int nw_solid_compare(const NwSolid *a, const NwSolid *b); /* a total order, for sorting */
bool nw_solid_contains(const NwSolid *outer, const NwSolid *inner);
bool nw_solid_overlaps(const NwSolid *a, const NwSolid *b);

NwSolid *nw_solid_union(const NwSolid *a, const NwSolid *b);
NwSolid *nw_solid_difference(const NwSolid *a, const NwSolid *b);
NwSolid *nw_solid_intersection(const NwSolid *a, const NwSolid *b);

size_t nw_solid_parts(const NwSolid *solid);    /* how many parts */
long nw_solid_volume6(const NwSolid *solid);    /* volume in sixths of a cell */
bool nw_solid_is_whole(const NwSolid *solid);   /* every cell is a whole cell */
NwBounds nw_solid_bounds(const NwSolid *solid); /* all zero for an empty solid */

/* The solid carried by a motion. NW_OFF_LATTICE if the shift is odd and a cell is cut (such a
 * position is real, but its parts are not parts of the lattice); NW_OUT_OF_RANGE as it says.
 * On failure *moved is NULL. */
NwStatus nw_solid_moved(const NwSolid *solid, NwMotion motion, NwSolid **moved);

#endif
