#include "fit/symmetry_group.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "lattice/symmetry.h"

/* Finds a mirror partner for every piece, or says that some piece has none. Pieces of one shape
 * are paired with those of the mirrored shape in the order of the list. */
static bool pair_mirror_partners(const NwDesign *design, int *partner) {
    int count = (int)design->piece_count;
    NwSolid **shape = nw_alloc((size_t)count, sizeof *shape);
    NwSolid **mirrored = nw_alloc((size_t)count, sizeof *mirrored);
    for (int i = 0; i < count; i++) {
        NwSolid *image;
        nw_solid_moved(design->pieces[i].solid, (NwMotion){NW_ROTATIONS, {0, 0, 0}}, &image);
        shape[i] = nw_solid_canonical(design->pieces[i].solid, false, NULL);
        mirrored[i] = nw_solid_canonical(image, false, NULL);
        nw_solid_free(image);
        partner[i] = nw_solid_equal(shape[i], mirrored[i]) ? i : -1;
    }
    bool all = true;
    for (int i = 0; i < count && all; i++) {
        for (int j = i + 1; j < count && partner[i] < 0; j++)
            if (partner[j] < 0 && design->pieces[i].copies == design->pieces[j].copies &&
                nw_solid_equal(shape[j], mirrored[i])) {
                partner[i] = j;
                partner[j] = i;
            }
        all = partner[i] >= 0;
    }
    for (int i = 0; i < count; i++) {
        nw_solid_free(shape[i]);
        nw_solid_free(mirrored[i]);
    }
    free(shape);
    free(mirrored);
    return all;
}

int nw_symmetry_group_part_image(const NwPlacementTable *places, NwMotion motion, int number) {
    NwPart part = places->parts[number];
    NwVec cell = nw_vec_add(nw_turn_cell(motion.turn, part.cell), motion.shift);
    int mask = 1 << part.bit;
    if (!nw_vec_parity(motion.shift)) {
        mask = nw_mask_turn(motion.turn, nw_vec_parity(part.cell), mask);
        return nw_placement_table_part(places, (NwPart){cell, nw_lowest((uint64_t)mask)});
    }
    /* An odd shift carries whole cells only, so any one-to-one match of bits will do. */
    return nw_placement_table_part(places, (NwPart){cell, part.bit});
}

static bool keeps_empty_parts(const NwDesign *design, NwMotion motion) {
    NwSolid *image;
    if (nw_solid_moved(design->may_be_empty, motion, &image) != NW_OK)
        return false;
    bool same = nw_solid_equal(image, design->may_be_empty);
    nw_solid_free(image);
    return same;
}

/* ---- step by step ------------------------------------------------------------------------ */

/* How the images under a motion are found: looked up one by one, or as one motion after another,
 * both known already. */
typedef enum { BETWEEN, LOOK_UP, COMPOSE } Way;

struct NwSymmetryGrouping {
    const NwDesign *design;
    const NwPlacementTable *places;
    NwSymmetryGroup *group;
    int *partner; /* of each piece, where there are reflections */
    NwMotion motions[NW_TURNS];
    int order, at; /* the motions, and the one in work */
    int index_of_turn[NW_TURNS];
    Way way;
    int place;         /* whose image comes next */
    int first, second; /* to compose */
    int *moved_part;   /* to look up: where each part goes */
    uint64_t *filled;  /* scratch */
};

NwSymmetryGrouping *nw_symmetry_grouping_new(const NwDesign *design,
                                             const NwPlacementTable *places) {
    NwSymmetryGrouping *grouping = nw_alloc(1, sizeof *grouping);
    grouping->design = design;
    grouping->places = places;
    grouping->group = nw_alloc(1, sizeof *grouping->group);
    grouping->group->place_count = places->place_count;
    grouping->partner = nw_alloc(design->piece_count, sizeof *grouping->partner);
    grouping->moved_part = nw_alloc((size_t)places->part_count, sizeof *grouping->moved_part);
    grouping->filled = nw_alloc((size_t)places->words, sizeof *grouping->filled);
    NwAllowed allowed = {.odd_shifts = nw_design_is_whole(design)};
    allowed.reflections =
        design->mirrors_together && pair_mirror_partners(design, grouping->partner);
    grouping->order = nw_solid_symmetries(design->envelope, allowed, grouping->motions);
    for (NwTurn turn = 0; turn < NW_TURNS; turn++)
        grouping->index_of_turn[turn] = -1;
    return grouping;
}

void nw_symmetry_grouping_free(NwSymmetryGrouping *grouping) {
    if (!grouping)
        return;
    nw_symmetry_group_free(grouping->group);
    free(grouping->partner);
    free(grouping->moved_part);
    free(grouping->filled);
    free(grouping);
}

int nw_symmetry_grouping_motion(const NwSymmetryGrouping *grouping, int *motions) {
    *motions = grouping->order;
    return grouping->at;
}

static int *images_in_work(NwSymmetryGrouping *grouping) {
    NwSymmetryGroup *group = grouping->group;
    return group->images + (size_t)group->order * (size_t)group->place_count;
}

/* Whether the motion in work is one known motion after another. Motions of one solid are told apart
 * by their turns. */
static bool is_composed(NwSymmetryGrouping *grouping) {
    const NwSymmetryGroup *group = grouping->group;
    NwTurn turn = grouping->motions[grouping->at].turn;
    for (int first = 1; first < group->order; first++) {
        NwTurn rest = nw_turn_then(nw_turn_inverse(group->motions[first].turn), turn);
        grouping->first = first;
        grouping->second = grouping->index_of_turn[rest];
        if (grouping->second >= 1)
            return true;
    }
    return false;
}

static void begin_motion(NwSymmetryGrouping *grouping) {
    NwSymmetryGroup *group = grouping->group;
    NwMotion motion = grouping->motions[grouping->at];
    group->images =
        nw_resize(group->images, ((size_t)group->order + 1) * (size_t)group->place_count,
                  sizeof *group->images);
    grouping->place = 0;
    grouping->way = is_composed(grouping) ? COMPOSE : LOOK_UP;
    if (grouping->way == LOOK_UP)
        for (int i = 0; i < grouping->places->part_count; i++)
            grouping->moved_part[i] = nw_symmetry_group_part_image(grouping->places, motion, i);
}

/* The place that the motion in work carries a place to, -1 if there is none (a mirror image of a
 * piece listed with other copies, say). */
static int look_up(NwSymmetryGrouping *grouping, int place) {
    const NwPlacementTable *places = grouping->places;
    const uint64_t *from = nw_placement_table_filled(places, place);
    memset(grouping->filled, 0, (size_t)places->words * sizeof *from);
    for (int w = 0; w < places->words; w++)
        for (uint64_t rest = from[w]; rest; rest &= rest - 1) {
            int to = grouping->moved_part[64 * w + nw_lowest(rest)];
            grouping->filled[to / 64] |= nw_bit(to % 64);
        }
    int piece = places->places[place].piece;
    bool reflects = !nw_turn_is_rotation(grouping->motions[grouping->at].turn);
    return nw_placement_table_find(places, reflects ? grouping->partner[piece] : piece,
                                   grouping->filled);
}

/* Goes on with the motion in work. A motion under which some place has no image is not used. */
static long fill_images(NwSymmetryGrouping *grouping, long effort) {
    NwSymmetryGroup *group = grouping->group;
    int *images = images_in_work(grouping);
    bool composes = grouping->way == COMPOSE, all = true;
    for (; grouping->place < group->place_count && effort > 0 && all; grouping->place++) {
        int p = grouping->place;
        images[p] =
            composes ? nw_symmetry_group_image(group, grouping->second,
                                               nw_symmetry_group_image(group, grouping->first, p))
                     : look_up(grouping, p);
        all = images[p] >= 0;
        effort -= composes ? (p & 31) == 0 : 1 + grouping->places->words / 32;
    }
    if (all && grouping->place < group->place_count)
        return effort;
    if (all) {
        grouping->index_of_turn[grouping->motions[grouping->at].turn] = group->order;
        group->motions[group->order++] = grouping->motions[grouping->at];
    }
    grouping->way = BETWEEN;
    grouping->at++;
    return effort;
}

NwSymmetryGroup *nw_symmetry_grouping_step(NwSymmetryGrouping *grouping, long effort) {
    while (grouping->at < grouping->order) {
        if (effort <= 0)
            return NULL;
        if (grouping->way != BETWEEN) {
            effort = fill_images(grouping, effort);
        } else if (keeps_empty_parts(grouping->design, grouping->motions[grouping->at])) {
            begin_motion(grouping);
            effort -= 1 + grouping->places->part_count / 16;
        } else {
            grouping->at++;
        }
    }
    NwSymmetryGroup *group = grouping->group;
    grouping->group = NULL;
    return group;
}

void nw_symmetry_group_free(NwSymmetryGroup *group) {
    if (!group)
        return;
    free(group->images);
    free(group);
}

/* Insertion sort: the lists are short, and images of a sorted list are often nearly sorted. */
static void sort(int *list, int count) {
    for (int i = 1; i < count; i++) {
        int value = list[i], at = i;
        for (; at > 0 && list[at - 1] > value; at--)
            list[at] = list[at - 1];
        list[at] = value;
    }
}

static int compare(const int *a, const int *b, int count) {
    for (int i = 0; i < count; i++)
        if (a[i] != b[i])
            return a[i] < b[i] ? -1 : 1;
    return 0;
}

static void take_image(const NwSymmetryGroup *group, int motion, const int *set, int count,
                       int *image) {
    for (int i = 0; i < count; i++)
        image[i] = nw_symmetry_group_image(group, motion, set[i]);
    sort(image, count);
}

void nw_symmetry_group_least(const NwSymmetryGroup *group, const int *set, int count, int *least) {
    int image[NW_COPIES_MAX];
    for (int g = 0; g < group->order; g++) {
        take_image(group, g, set, count, image);
        if (g == 0 || compare(image, least, count) < 0)
            memcpy(least, image, (size_t)count * sizeof *least);
    }
}

bool nw_symmetry_group_is_first(const NwSymmetryGroup *group, const bool *disabled, const int *set,
                                int count) {
    int image[NW_COPIES_MAX];
    for (int g = 1; g < group->order; g++) {
        take_image(group, g, set, count, image);
        bool searched = true;
        for (int i = 0; i < count && searched; i++)
            searched = !disabled[image[i]];
        if (searched && compare(image, set, count) < 0)
            return false;
    }
    return true;
}
