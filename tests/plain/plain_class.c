#include "plain/plain_class.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "lattice/symmetry.h"

/* Whether a rotation carries one onto the other, or with `mirrored` a reflection. */
static bool same_shape(const NwSolid *a, const NwSolid *b, bool mirrored) {
    bool whole = nw_solid_is_whole(a) && nw_solid_is_whole(b);
    NwMotion motion;
    for (NwTurn turn = 0; turn < NW_ROTATIONS; turn++)
        if (nw_solid_carries(a, b, turn + (mirrored ? NW_ROTATIONS : 0), whole, &motion))
            return true;
    return false;
}

/* How many pieces before `piece` have its shape and its number of copies. */
static size_t rank_of(const NwDesign *design, size_t piece) {
    size_t rank = 0;
    for (size_t p = 0; p < piece; p++)
        rank += design->pieces[p].copies == design->pieces[piece].copies &&
                same_shape(design->pieces[p].solid, design->pieces[piece].solid, false);
    return rank;
}

static bool find_partner(const NwDesign *design, size_t piece, size_t *partner) {
    const NwPiece *own = &design->pieces[piece];
    *partner = piece;
    if (same_shape(own->solid, own->solid, true))
        return true;
    for (*partner = 0; *partner < design->piece_count; ++*partner) {
        const NwPiece *other = &design->pieces[*partner];
        if (other->copies == own->copies && same_shape(own->solid, other->solid, true) &&
            rank_of(design, *partner) == rank_of(design, piece))
            return true;
    }
    return false;
}

/* partner[p] for all pieces; false if one of them has none. */
static bool find_partners(const NwDesign *design, size_t *partner) {
    for (size_t p = 0; p < design->piece_count; p++)
        if (!find_partner(design, p, &partner[p]))
            return false;
    return true;
}

static bool keeps(const NwSolid *solid, NwMotion motion) {
    NwSolid *moved;
    bool same = nw_solid_moved(solid, motion, &moved) == NW_OK && nw_solid_equal(moved, solid);
    nw_solid_free(moved);
    return same;
}

static int allowed_motions(const NwDesign *design, bool reflections, NwMotion motions[NW_TURNS]) {
    NwAllowed allowed = {reflections, nw_design_is_whole(design)};
    int all = nw_solid_symmetries(design->envelope, allowed, motions), kept = 0;
    for (int i = 0; i < all; i++)
        if (keeps(design->may_be_empty, motions[i]))
            motions[kept++] = motions[i];
    return kept;
}

static void must_hold(bool truth, const char *what) {
    if (truth)
        return;
    fprintf(stderr, "plain solver: %s\n", what);
    abort();
}

/* The number of the place that each place is carried to. */
static size_t *image_of_places(const NwPlainFit *fit, const size_t *base, const size_t *partner,
                               NwMotion motion) {
    size_t *image = nw_alloc(base[fit->piece_count], sizeof *image);
    for (size_t p = 0; p < fit->piece_count; p++) {
        size_t to = nw_turn_is_rotation(motion.turn) ? p : partner[p];
        for (size_t i = 0; i < fit->places[p].count; i++) {
            NwSolid *moved;
            must_hold(nw_solid_moved(fit->places[p].list[i].solid, motion, &moved) == NW_OK,
                      "a symmetry carried a place off the lattice");
            size_t there = nw_plain_places_find(&fit->places[to], moved);
            must_hold(there < fit->places[to].count, "the image of a place is missing");
            image[base[p] + i] = base[to] + there;
            nw_solid_free(moved);
        }
    }
    return image;
}

static int compare_numbers(const void *a, const void *b) {
    size_t x = *(const size_t *)a, y = *(const size_t *)b;
    return (x > y) - (x < y);
}

static int compare_keys(const size_t *a, const size_t *b, size_t length) {
    for (size_t i = 0; i < length; i++)
        if (a[i] != b[i])
            return a[i] < b[i] ? -1 : 1;
    return 0;
}

/* The raw assemblies, sorted by key. */
typedef struct Index {
    const size_t *keys;
    size_t bodies;
    size_t *order;
} Index;

static int compare_indexed(const void *a, const void *b, void *data) {
    const Index *index = data;
    return compare_keys(index->keys + *(const size_t *)a * index->bodies,
                        index->keys + *(const size_t *)b * index->bodies, index->bodies);
}

static size_t find_key(const Index *index, size_t count, const size_t *key) {
    size_t low = 0, high = count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        const size_t *other = index->keys + index->order[middle] * index->bodies;
        int order = compare_keys(key, other, index->bodies);
        if (order == 0)
            return index->order[middle];
        if (order < 0)
            high = middle;
        else
            low = middle + 1;
    }
    must_hold(false, "the image of an assembly is missing");
    return 0;
}

/* Gives every image of assembly `first` its class. */
static void mark_images(NwPlainFit *fit, const Index *index, size_t *const *images, size_t first) {
    size_t *key = nw_alloc(fit->bodies, sizeof *key);
    for (size_t g = 0; g < fit->symmetries; g++) {
        for (size_t i = 0; i < fit->bodies; i++)
            key[i] = images[g][index->keys[first * fit->bodies + i]];
        qsort(key, fit->bodies, sizeof *key, compare_numbers);
        fit->class_of[find_key(index, fit->raw, key)] = fit->classes;
    }
    free(key);
}

void nw_plain_classify(const NwDesign *design, NwPlainFit *fit, const size_t *keys,
                       const size_t *base) {
    size_t *partner = nw_alloc(design->piece_count, sizeof *partner);
    bool reflections = design->mirrors_together && find_partners(design, partner);
    NwMotion motions[NW_TURNS];
    fit->symmetries = (size_t)allowed_motions(design, reflections, motions);
    size_t *images[NW_TURNS];
    for (size_t g = 0; g < fit->symmetries; g++)
        images[g] = image_of_places(fit, base, partner, motions[g]);
    Index index = {keys, fit->bodies, nw_alloc(fit->raw, sizeof *index.order)};
    fit->class_of = nw_alloc(fit->raw, sizeof *fit->class_of);
    for (size_t i = 0; i < fit->raw; i++) {
        index.order[i] = i;
        fit->class_of[i] = SIZE_MAX;
    }
    if (fit->raw)
        qsort_r(index.order, fit->raw, sizeof *index.order, compare_indexed, &index);
    for (size_t i = 0; i < fit->raw; i++) {
        if (fit->class_of[i] != SIZE_MAX)
            continue;
        mark_images(fit, &index, images, i);
        fit->classes++;
    }
    for (size_t g = 0; g < fit->symmetries; g++)
        free(images[g]);
    free(index.order);
    free(partner);
}
