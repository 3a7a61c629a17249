/* The motions that make two assemblies the same, and how they permute the places.
 *
 * They are the motions that carry the envelope and its may-be-empty parts onto themselves: the
 * rotations, and the reflections too when the design counts mirror images together and the mirror
 * image of every piece is in the set. A reflection swaps a piece with its mirror partner; a piece
 * that is congruent to its own mirror image is its own partner. Odd shifts are used only when
 * everything is of whole cells. Thread: read-only once built. */
#ifndef NW_FIT_SYMMETRY_GROUP_H
#define NW_FIT_SYMMETRY_GROUP_H

#include "fit/placement_table.h"

typedef struct NwSymmetryGroup {
    int order; /* at least 1: the identity comes first */
    NwMotion motions[NW_TURNS];
    int *images; /* images[g * place_count + p] is the place that motion g carries place p to */
    int place_count;
} NwSymmetryGroup;

/* Building it step by step; the design and the places are borrowed until it is freed. A step goes
 * on until `effort` is spent, about a thousandth of a millisecond each: NULL; else the group. */
typedef struct NwSymmetryGrouping NwSymmetryGrouping;

NwSymmetryGrouping *nw_symmetry_grouping_new(const NwDesign *design,
                                             const NwPlacementTable *places);
void nw_symmetry_grouping_free(NwSymmetryGrouping *grouping); /* NULL is allowed */
NwSymmetryGroup *nw_symmetry_grouping_step(NwSymmetryGrouping *grouping, long effort);

/* The motion that is looked at, of how many. */
int nw_symmetry_grouping_motion(const NwSymmetryGrouping *grouping, int *motions);

/* The number of the part that a motion of the group carries part `number` to. */
int nw_symmetry_group_part_image(const NwPlacementTable *places, NwMotion motion, int number);
void nw_symmetry_group_free(NwSymmetryGroup *group); /* NULL is allowed */

static inline int nw_symmetry_group_image(const NwSymmetryGroup *group, int motion, int place) {
    return group->images[(size_t)motion * (size_t)group->place_count + (size_t)place];
}

/* Writes the least image of a set of places (each sorted, compared as lists) to `least`. */
void nw_symmetry_group_least(const NwSymmetryGroup *group, const int *set, int count, int *least);

/* Whether no image of `set` (sorted) that avoids every place marked in `disabled` is less than
 * it. Of all equal assemblies that a search with those places disabled finds, one passes. */
bool nw_symmetry_group_is_first(const NwSymmetryGroup *group, const bool *disabled, const int *set,
                                int count);

#endif
