/* How far one body can slide past another: the free-slide tables.
 *
 * For two bodies of given shape and turn, all that matters is where the second stands relative to
 * the first, a whole vector R. A table holds, for every R at which their boxes touch or overlap
 * and for every direction, the number of whole steps that the second can go before it hits the
 * first. By the contact theorem (lattice/contact.h) a step along a cube direction needs one test,
 * at its midpoint, and a step along a face diagonal two, so the tables are exact. They are filled
 * from the far side inwards: run(R) = 0 if the step is blocked, else 1 + run(R + step).
 *
 * A table depends only on the two shapes, the two turns and the set of directions, so it is built
 * once and kept for all assemblies of a design. Thread: a cache belongs to one thread. */
#ifndef NW_SLIDE_CLEARANCE_H
#define NW_SLIDE_CLEARANCE_H

#include <stdint.h>

#include "lattice/contact.h"
#include "lattice/solid.h"
#include "slide/direction.h"

enum { NW_RUN_FOREVER = 255 };

/* A body: a shape at its place. `kind` numbers shapes; bodies of one kind share the solid. */
typedef struct NwBody {
    int kind;
    const NwSolid *solid; /* in its own frame; borrowed */
    NwMotion motion;
} NwBody;

typedef struct NwClearance {
    NwVec low;      /* the least R of the box */
    NwVec size;     /* and how many there are along each axis */
    int directions; /* 6 or 18 */
    int stride;     /* bytes for one R: 8 or 24 */
    uint8_t *runs;  /* by R, then by direction */
} NwClearance;

typedef struct NwClearanceCache NwClearanceCache;

NwClearanceCache *nw_clearance_cache_new(bool diagonals);
void nw_clearance_cache_free(NwClearanceCache *cache); /* NULL is allowed */

/* The table for two bodies; R is the shift of `b` minus the shift of `a`, displacements included.
 * Borrowed until nw_clearance_cache_trim. */
const NwClearance *nw_clearance_get(NwClearanceCache *cache, const NwBody *a, const NwBody *b);

/* Drops all tables if they have come to take more than `bytes`. */
void nw_clearance_cache_trim(NwClearanceCache *cache, size_t bytes);

/* The runs at R for all directions, packed as in the table, also where R lies outside its box. */
void nw_clearance_outside(const NwClearance *table, NwVec r, uint8_t *runs);

static inline bool nw_clearance_inside(const NwClearance *table, NwVec r) {
    return (unsigned)(r.x - table->low.x) < (unsigned)table->size.x &&
           (unsigned)(r.y - table->low.y) < (unsigned)table->size.y &&
           (unsigned)(r.z - table->low.z) < (unsigned)table->size.z;
}

static inline const uint8_t *nw_clearance_at(const NwClearance *table, NwVec r) {
    long at = ((long)(r.x - table->low.x) * table->size.y + (r.y - table->low.y)) * table->size.z +
              (r.z - table->low.z);
    return table->runs + at * table->stride;
}

#endif
