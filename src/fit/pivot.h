/* Breaking the symmetry of a fit search before it begins.
 *
 * Some sets of places have exactly one member in every assembly: all places of a piece that has
 * one copy, and all places that cover one part that must be filled. Take such a set, the pivot,
 * and the motions that carry it onto itself. Every assembly can be carried by one of them to an
 * assembly that uses the first place of its orbit, so all other places of the pivot can be
 * disabled. The pivot chosen is the one that loses the largest share of its places. What symmetry
 * is left (the motions that keep the chosen place too) is filtered by nw_group_is_first. */
#ifndef NW_FIT_PIVOT_H
#define NW_FIT_PIVOT_H

#include "fit/group.h"

/* Marks in `disabled` (one flag a place, cleared first) the places that need not be tried. */
void nw_pivot_choose(const NwDesign *design, const NwPlaces *places, const NwGroup *group,
                     bool *disabled);

#endif
