/* Numbers for shapes, so that the tables of the slide search are kept from one changed design to
 * the next: equal solids have equal numbers, for ever. Thread: each belongs to one. */
#ifndef NW_COOK_SHAPE_H
#define NW_COOK_SHAPE_H

#include "lattice/solid.h"

typedef struct NwShapes NwShapes;

NwShapes *nw_shapes_new(void);
void nw_shapes_free(NwShapes *shapes); /* NULL is allowed */

/* The number of a solid; keeps a copy of one that is new. */
int nw_shapes_number(NwShapes *shapes, const NwSolid *solid);

#endif
