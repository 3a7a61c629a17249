/* The motions that make two assemblies the same, and how they permute the places.
 *
 * They are the motions that carry the envelope and its may-be-empty parts onto themselves: the
 * rotations, and the reflections too when the design counts mirror images together and the mirror
 * image of every piece is in the set. A reflection swaps a piece with its mirror partner; a piece
 * that is congruent to its own mirror image is its own partner. Odd shifts are used only when
 * everything is of whole cells. Thread: read-only once built. */
#ifndef NW_FIT_GROUP_H
#define NW_FIT_GROUP_H

#include "fit/places.h"

typedef struct NwGroup {
    int order; /* at least 1: the identity comes first */
    NwMotion motions[NW_TURNS];
    int *images; /* images[g * place_count + p] is the place that motion g carries place p to */
    int place_count;
} NwGroup;

NwGroup *nw_group_build(const NwDesign *design, const NwPlaces *places);

/* Building it step by step; the design and the places are borrowed until it is freed. A step goes
 * on until `effort` is spent, about a thousandth of a millisecond each: NULL; else the group. */
typedef struct NwGrouping NwGrouping;

NwGrouping *nw_grouping_new(const NwDesign *design, const NwPlaces *places);
void nw_grouping_free(NwGrouping *grouping); /* NULL is allowed */
NwGroup *nw_grouping_step(NwGrouping *grouping, long effort);

/* The motion that is looked at, of how many. */
int nw_grouping_motion(const NwGrouping *grouping, int *motions);

/* The number of the part that a motion of the group carries part `number` to. */
int nw_group_part_image(const NwPlaces *places, NwMotion motion, int number);
void nw_group_free(NwGroup *group); /* NULL is allowed */

static inline int nw_group_image(const NwGroup *group, int motion, int place) {
    return group->images[(size_t)motion * (size_t)group->place_count + (size_t)place];
}

/* Writes the least image of a set of places (each sorted, compared as lists) to `least`. */
void nw_group_least(const NwGroup *group, const int *set, int count, int *least);

/* Whether no image of `set` (sorted) that avoids every place marked in `disabled` is less than
 * it. Of all equal assemblies that a search with those places disabled finds, one passes. */
bool nw_group_is_first(const NwGroup *group, const bool *disabled, const int *set, int count);

#endif
