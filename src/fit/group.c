#include "fit/group.h"

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

/* The number of the part that a motion of the envelope carries part `number` to. */
static int part_image(const NwPlaces *places, NwMotion motion, int number) {
    NwPart part = places->parts[number];
    NwVec cell = nw_vec_add(nw_turn_cell(motion.turn, part.cell), motion.shift);
    int mask = 1 << part.bit;
    if (!nw_vec_parity(motion.shift)) {
        mask = nw_mask_turn(motion.turn, nw_vec_parity(part.cell), mask);
        return nw_places_part(places, (NwPart){cell, nw_lowest((uint64_t)mask)});
    }
    /* An odd shift carries whole cells only, so any one-to-one match of bits will do. */
    return nw_places_part(places, (NwPart){cell, part.bit});
}

/* Fills the images of all places under one motion; false if one has none (a mirror image of a
 * piece listed with other copies, say), in which case the motion is not used. */
static bool fill_images(const NwPlaces *places, NwMotion motion, const int *partner, int *images) {
    size_t words = (size_t)places->words;
    int *moved_part = nw_alloc((size_t)places->part_count, sizeof *moved_part);
    uint64_t *filled = nw_alloc(words, sizeof *filled);
    for (int i = 0; i < places->part_count; i++)
        moved_part[i] = part_image(places, motion, i);
    bool reflects = !nw_turn_is_rotation(motion.turn);
    bool all = true;
    for (int p = 0; p < places->place_count && all; p++) {
        memset(filled, 0, words * sizeof *filled);
        const uint64_t *from = nw_places_filled(places, p);
        for (size_t w = 0; w < words; w++)
            for (uint64_t rest = from[w]; rest; rest &= rest - 1) {
                int to = moved_part[64 * (int)w + nw_lowest(rest)];
                filled[to / 64] |= nw_bit(to % 64);
            }
        int piece = places->places[p].piece;
        images[p] = nw_places_find(places, reflects ? partner[piece] : piece, filled);
        all = images[p] >= 0;
    }
    free(filled);
    free(moved_part);
    return all;
}

/* The images under a motion that is one motion after another, both known already: looked up, not
 * searched. Motions of one solid are told apart by their turns. False if there are no such two. */
static bool compose_images(NwGroup *group, NwTurn turn, const int *index_of_turn, int *images) {
    for (int first = 1; first < group->order; first++) {
        NwTurn rest = nw_turn_then(nw_turn_inverse(group->motions[first].turn), turn);
        int second = index_of_turn[rest];
        if (second < 1)
            continue;
        for (int p = 0; p < group->place_count; p++)
            images[p] = nw_group_image(group, second, nw_group_image(group, first, p));
        return true;
    }
    return false;
}

static bool keeps_empty_parts(const NwDesign *design, NwMotion motion) {
    NwSolid *image;
    if (nw_solid_moved(design->may_be_empty, motion, &image) != NW_OK)
        return false;
    bool same = nw_solid_equal(image, design->may_be_empty);
    nw_solid_free(image);
    return same;
}

NwGroup *nw_group_build(const NwDesign *design, const NwPlaces *places) {
    NwGroup *group = nw_alloc(1, sizeof *group);
    int *partner = nw_alloc(design->piece_count, sizeof *partner);
    size_t count = (size_t)places->place_count;
    group->place_count = places->place_count;

    NwAllowed allowed = {.odd_shifts = nw_design_is_whole(design)};
    allowed.reflections = design->mirrors_together && pair_mirror_partners(design, partner);
    NwMotion motions[NW_TURNS];
    int order = nw_solid_symmetries(design->envelope, allowed, motions);
    int index_of_turn[NW_TURNS];
    for (NwTurn turn = 0; turn < NW_TURNS; turn++)
        index_of_turn[turn] = -1;
    for (int g = 0; g < order; g++) {
        if (!keeps_empty_parts(design, motions[g]))
            continue;
        size_t at = (size_t)group->order;
        group->images = nw_resize(group->images, (at + 1) * count, sizeof *group->images);
        int *images = group->images + at * count;
        if (!compose_images(group, motions[g].turn, index_of_turn, images) &&
            !fill_images(places, motions[g], partner, images))
            continue;
        index_of_turn[motions[g].turn] = group->order;
        group->motions[group->order++] = motions[g];
    }
    free(partner);
    return group;
}

void nw_group_free(NwGroup *group) {
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

static void take_image(const NwGroup *group, int motion, const int *set, int count, int *image) {
    for (int i = 0; i < count; i++)
        image[i] = nw_group_image(group, motion, set[i]);
    sort(image, count);
}

void nw_group_least(const NwGroup *group, const int *set, int count, int *least) {
    int image[NW_COPIES_MAX];
    for (int g = 0; g < group->order; g++) {
        take_image(group, g, set, count, image);
        if (g == 0 || compare(image, least, count) < 0)
            memcpy(least, image, (size_t)count * sizeof *least);
    }
}

bool nw_group_is_first(const NwGroup *group, const bool *disabled, const int *set, int count) {
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
