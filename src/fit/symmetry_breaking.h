/* Breaking the symmetry of a fit search before it begins.
 *
 * Some sets of places have exactly one member in every assembly: all places of a piece that has
 * one copy, and all places that cover one part that must be filled. Take such a set, the pivot,
 * and the motions that carry it onto itself. Every assembly can be carried by one of them to an
 * assembly that uses the first place of its orbit, so all other places of the pivot can be
 * disabled. The pivot chosen is the one that loses the largest share of its places. What symmetry
 * is left (the motions that keep the chosen place too) is filtered by nw_symmetry_group_is_first.
 */
#ifndef NW_FIT_SYMMETRY_BREAKING_H
#define NW_FIT_SYMMETRY_BREAKING_H

#include "fit/symmetry_group.h"

/* The parts that a motion carries one to another make pivots that are worth the same; only the
 * first of each such orbit is looked at. A pull iterator; all that it is given is borrowed until it
 * is freed. */
typedef struct NwSymmetryBreaking NwSymmetryBreaking;

/* Marks in `disabled` (one flag a place, cleared at once) the places that need not be tried. */
NwSymmetryBreaking *nw_symmetry_breaking_new(const NwDesign *design, const NwPlacementTable *places,
                                             const NwSymmetryGroup *group, bool *disabled);
void nw_symmetry_breaking_free(NwSymmetryBreaking *breaking); /* NULL is allowed */

/* Goes on until `effort` is spent, about a thousandth of a millisecond each; whether it is done. */
bool nw_symmetry_breaking_step(NwSymmetryBreaking *breaking, long effort);

#endif
