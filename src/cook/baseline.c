#include "cook/baseline.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "cook/shape.h"
#include "design/bodies.h"

/* A placement of a piece as given, in the frame of the piece as settled. */
static NwPlacement settled_placement(const NwBaseline *baseline, NwPlacement placement) {
    NwMotion back = nw_motion_inverse(baseline->redraw[placement.piece]);
    return (NwPlacement){placement.piece, nw_motion_then(back, placement.motion)};
}

static void begin_enumeration(NwBaseline *baseline) {
    const NwDesign *design = baseline->given->design;
    int kinds[NW_PIECES_MAX];
    for (size_t p = 0; p < design->piece_count; p++)
        kinds[p] = nw_shapes_number(baseline->shapes, design->pieces[p].solid);
    baseline->enumeration =
        nw_enumeration_new(baseline->given, baseline->slides, kinds, baseline->max_states);
}

static void clear_known(NwBaseline *baseline) {
    for (size_t i = 0; i < baseline->known_count; i++) {
        free(baseline->known[i].places);
        free(baseline->known[i].stand);
        free(baseline->known[i].placements);
        free(baseline->known[i].slides);
    }
    free(baseline->known);
    baseline->known = NULL;
    baseline->known_count = baseline->cooks = baseline->doubtful = 0;
}

void nw_baseline_forget(NwBaseline *baseline) {
    clear_known(baseline);
    baseline->complete = false;
    nw_enumeration_free(baseline->enumeration);
    begin_enumeration(baseline);
}

void nw_baseline_free(NwBaseline *baseline) {
    if (!baseline)
        return;
    clear_known(baseline);
    nw_enumeration_free(baseline->enumeration);
    for (int p = 0; p < NW_PIECES_MAX; p++)
        free(baseline->symmetries[p]);
    free(baseline->turns);
    nw_take_apart_free(baseline->slides);
    nw_shapes_free(baseline->shapes);
    nw_fit_free(baseline->fit);
    nw_fit_free(baseline->given);
    nw_design_free(baseline->design);
    free(baseline);
}

static int compare_ints(const void *a, const void *b) {
    int x = *(const int *)a, y = *(const int *)b;
    return (x > y) - (x < y);
}

/* The places of some placements in the settled frames; false if one has none. */
static bool places_of(const NwBaseline *baseline, const NwPlacement *placements, int *stand) {
    for (int b = 0; b < baseline->bodies; b++) {
        stand[b] =
            nw_placement_table_of_motion(baseline->fit->places, baseline->design, placements[b]);
        if (stand[b] < 0)
            return false;
    }
    return true;
}

static void canonical_places(const NwBaseline *baseline, const int *stand, int *places) {
    int set[NW_COPIES_MAX];
    memcpy(set, stand, (size_t)baseline->bodies * sizeof *set);
    qsort(set, (size_t)baseline->bodies, sizeof *set, compare_ints);
    nw_symmetry_group_least(baseline->fit->group, set, baseline->bodies, places);
}

static int compare_known(const void *a, const void *b, void *context) {
    const NwKnown *p = a, *q = b;
    const NwBaseline *baseline = context;
    for (int i = 0; i < baseline->bodies; i++)
        if (p->places[i] != q->places[i])
            return p->places[i] < q->places[i] ? -1 : 1;
    return 0;
}

static bool learn_one(const NwBaseline *baseline, const NwFound *found, NwKnown *known) {
    size_t bodies = (size_t)baseline->bodies;
    *known = (NwKnown){
        .key = found->key, .opens = found->opens, .level = found->level, .total = found->total};
    known->places = nw_alloc(bodies, sizeof *known->places);
    known->stand = nw_alloc(bodies, sizeof *known->stand);
    known->placements = nw_alloc(bodies, sizeof *known->placements);
    for (size_t b = 0; b < bodies; b++)
        known->placements[b] = settled_placement(baseline, found->placements[b]);
    if (!places_of(baseline, known->placements, known->stand))
        return false;
    canonical_places(baseline, known->stand, known->places);
    if (found->opens == NW_OK && found->slides) {
        known->slides = nw_alloc((size_t)found->total, sizeof *known->slides);
        memcpy(known->slides, found->slides, (size_t)found->total * sizeof *known->slides);
    }
    return true;
}

NwStatus nw_baseline_learn(NwBaseline *baseline, const NwFound *founds, size_t count) {
    clear_known(baseline);
    baseline->known = nw_alloc(count, sizeof *baseline->known);
    baseline->known_count = count;
    bool good = true;
    for (size_t i = 0; i < count && good; i++)
        good = learn_one(baseline, &founds[i], &baseline->known[i]);
    if (!good)
        return NW_DOES_NOT_FIT;
    qsort_r(baseline->known, count, sizeof *baseline->known, compare_known, baseline);
    int stand[NW_COPIES_MAX], intended[NW_COPIES_MAX];
    if (!places_of(baseline, baseline->design->intended, stand))
        return NW_DOES_NOT_FIT;
    canonical_places(baseline, stand, intended);
    long at = nw_baseline_find(baseline, intended);
    if (at < 0)
        return NW_DOES_NOT_FIT;
    baseline->intended = (size_t)at;
    baseline->known[at].intended = true;
    for (size_t i = 0; i < count; i++) {
        baseline->cooks += nw_baseline_is_cook(baseline, i);
        baseline->doubtful += baseline->known[i].opens == NW_LIMIT && !baseline->known[i].intended;
    }
    baseline->complete = true;
    return NW_OK;
}

NwStatus nw_baseline_step(NwBaseline *baseline, long *effort) {
    if (baseline->complete)
        return NW_NONE;
    NwStatus status;
    do
        status = nw_enumeration_step(baseline->enumeration, effort);
    while (status == NW_OK);
    if (status != NW_NONE)
        return status;
    const NwFounds *founds = nw_enumeration_get(baseline->enumeration);
    status = nw_baseline_learn(baseline, founds->list, founds->count);
    if (status != NW_OK)
        return status;
    nw_enumeration_free(baseline->enumeration);
    baseline->enumeration = NULL;
    return NW_NONE;
}

long nw_baseline_find(const NwBaseline *baseline, const int *places) {
    NwKnown wanted = {.places = (int *)places};
    size_t low = 0, high = baseline->known_count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        int order = compare_known(&baseline->known[middle], &wanted, (void *)baseline);
        if (order == 0)
            return (long)middle;
        if (order < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return -1;
}

long nw_baseline_find_key(const NwBaseline *baseline, uint64_t key) {
    for (size_t i = 0; i < baseline->known_count; i++)
        if (baseline->known[i].key == key)
            return (long)i;
    return -1;
}
