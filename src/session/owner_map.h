/* Who has which part of the envelope, all parts at once.
 *
 * nw_design_owner answers for one part by a search in every body; a drawing asks for all of them.
 * The map belongs to the design as it was when the map was made. Thread: any. Ownership: `new`
 * gives, `free` takes. Cost: linear in the cells of all bodies, and of the envelope for each. */
#ifndef NW_SESSION_OWNER_MAP_H
#define NW_SESSION_OWNER_MAP_H

#include "design/design.h"

enum { NW_OWNER_NONE = -1, NW_OWNER_OUTSIDE = -2 };

typedef struct NwOwnerMap NwOwnerMap;

NwOwnerMap *nw_owner_map_new(const NwDesign *design);
void nw_owner_map_free(NwOwnerMap *map); /* NULL is allowed */

/* The piece that has the part, the least if there are more; NW_OWNER_NONE for a part that is left
 * over, NW_OWNER_OUTSIDE for one that is not in the envelope. Cost: a binary search. */
int nw_owner_map_get(const NwOwnerMap *map, NwPart part);

/* Whether more than one body has the part. */
bool nw_owner_map_is_shared(const NwOwnerMap *map, NwPart part);

#endif
