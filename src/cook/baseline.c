#include "cook/baseline.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "cook/change.h"
#include "cook/shape.h"
#include "design/bodies.h"
#include "design/frame.h"
#include "lattice/symmetry.h"

static int compare_by_piece(const void *a, const void *b) {
    const NwPlacement *p = a, *q = b;
    if (p->piece != q->piece)
        return p->piece < q->piece ? -1 : 1;
    if (p->motion.turn != q->motion.turn)
        return p->motion.turn < q->motion.turn ? -1 : 1;
    return nw_vec_compare(p->motion.shift, q->motion.shift);
}

/* The settled design, and how each piece was re-drawn. */
static NwStatus settle(NwBaseline *baseline, const NwDesign *design) {
    baseline->design = nw_design_copy(design);
    for (size_t p = 0; p < design->piece_count; p++)
        baseline->redraw[p] = nw_design_motion(design, (int)p);
    NwStatus status = nw_design_settle(baseline->design);
    if (status == NW_OK)
        qsort(baseline->design->intended, baseline->design->intended_count,
              sizeof *baseline->design->intended, compare_by_piece);
    return status;
}

/* A placement of a piece as given, in the frame of the piece as settled. */
static NwPlacement settled_placement(const NwBaseline *baseline, NwPlacement placement) {
    NwMotion back = nw_motion_inverse(baseline->redraw[placement.piece]);
    return (NwPlacement){placement.piece, nw_motion_then(back, placement.motion)};
}

static void list_symmetries(NwBaseline *baseline) {
    for (size_t p = 0; p < baseline->design->piece_count; p++) {
        const NwSolid *solid = baseline->design->pieces[p].solid;
        NwMotion motions[NW_TURNS];
        NwAllowed allowed = {.odd_shifts = nw_solid_is_whole(solid)};
        int count = nw_solid_symmetries(solid, allowed, motions);
        baseline->symmetries[p] = nw_alloc((size_t)count, sizeof(NwMotion));
        memcpy(baseline->symmetries[p], motions, (size_t)count * sizeof(NwMotion));
        baseline->symmetry_count[p] = count;
    }
}

static void list_turns(NwBaseline *baseline) {
    const NwSymmetryGroup *group = baseline->fit->group;
    const NwPlacementTable *places = baseline->fit->places;
    size_t parts = (size_t)places->part_count;
    baseline->turns = nw_alloc((size_t)group->order * parts, sizeof *baseline->turns);
    for (int g = 0; g < group->order; g++) {
        NwMotion motion = group->motions[g];
        if (nw_vec_parity(motion.shift)) {
            if (!baseline->odd_image && nw_turn_is_rotation(motion.turn))
                baseline->odd_image = g;
            continue;
        }
        if (!nw_turn_is_rotation(motion.turn))
            continue;
        int *turn = baseline->turns + (size_t)baseline->turn_count++ * parts;
        for (size_t i = 0; i < parts; i++)
            turn[i] = nw_placement_table_part(places, nw_part_moved(places->parts[i], motion));
    }
}

static bool envelope_has_mirrors(const NwDesign *design) {
    NwMotion motions[NW_TURNS];
    NwAllowed allowed = {.reflections = true, .odd_shifts = nw_design_is_whole(design)};
    int count = nw_solid_symmetries(design->envelope, allowed, motions);
    for (int i = 0; i < count; i++)
        if (!nw_turn_is_rotation(motions[i].turn))
            return true;
    return false;
}

static NwStatus build_fits(NwBaseline *baseline, const NwDesign *design) {
    NwFitOptions options = {0};
    NwStatus status = nw_fit_new(design, options, &baseline->given);
    if (status != NW_OK)
        return status;
    NwAssembly intended;
    status = nw_fit_intended(baseline->given, &intended);
    if (status != NW_OK)
        return status;
    if (baseline->given->count > NW_BODIES_MAX)
        return NW_TOO_MANY;
    status = settle(baseline, design);
    return status == NW_OK ? nw_fit_new(baseline->design, options, &baseline->fit) : status;
}

static void begin_census(NwBaseline *baseline) {
    const NwDesign *design = baseline->given->design;
    int kinds[NW_PIECES_MAX];
    for (size_t p = 0; p < design->piece_count; p++)
        kinds[p] = nw_shapes_number(baseline->shapes, design->pieces[p].solid);
    baseline->enumeration =
        nw_enumeration_new(baseline->given, baseline->slides, kinds, baseline->max_states);
}

NwStatus nw_baseline_new(const NwDesign *design, NwBaselineOptions options, NwBaseline **result) {
    *result = NULL;
    if (!design->intended_count)
        return NW_NONE;
    NwBaseline *baseline = nw_alloc(1, sizeof *baseline);
    NwStatus status = build_fits(baseline, design);
    if (status != NW_OK) {
        nw_baseline_free(baseline);
        return status;
    }
    baseline->bodies = baseline->fit->count;
    baseline->whole = nw_design_is_whole(baseline->design);
    baseline->mirrors = design->mirrors_together && envelope_has_mirrors(design);
    list_symmetries(baseline);
    list_turns(baseline);
    baseline->slides = nw_take_apart_new(options.diagonals);
    baseline->diagonals = options.diagonals;
    baseline->max_states = options.max_states ? options.max_states : NW_STATES_DEFAULT;
    baseline->shapes = nw_shapes_new();
    for (size_t p = 0; p < design->piece_count; p++) {
        baseline->kinds[p] = nw_shapes_number(baseline->shapes, baseline->design->pieces[p].solid);
        baseline->looks[p] = nw_weak_spots_of(baseline->design, (int)p);
    }
    begin_census(baseline);
    *result = baseline;
    return NW_OK;
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
    begin_census(baseline);
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
