/* What a complete search of the window knows, in the words of src/cook: so that an advisor need not
 * search the design once more. Thread: the main one. */
#ifndef NW_APP_HUNT_FOUNDS_H
#define NW_APP_HUNT_FOUNDS_H

#include "app/hunt.h"
#include "cook/census.h"

/* All assemblies, or none if the search of the design as it is now is not complete. The caller
 * clears them with nw_founds_clear. */
NwFounds nw_hunt_founds(NwHunt *hunt);

/* The number in the list of the assembly with that key; 0 if the list does not have it. */
guint nw_hunt_number_of(NwHunt *hunt, guint64 key);

#endif
