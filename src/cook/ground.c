#include "cook/ground.h"

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
static NwStatus settle(NwGround *ground, const NwDesign *design) {
    ground->design = nw_design_copy(design);
    for (size_t p = 0; p < design->piece_count; p++)
        ground->redraw[p] = nw_design_motion(design, (int)p);
    NwStatus status = nw_design_settle(ground->design);
    if (status == NW_OK)
        qsort(ground->design->intended, ground->design->intended_count,
              sizeof *ground->design->intended, compare_by_piece);
    return status;
}

/* A placement of a piece as given, in the frame of the piece as settled. */
static NwPlacement settled_placement(const NwGround *ground, NwPlacement placement) {
    NwMotion back = nw_motion_inverse(ground->redraw[placement.piece]);
    return (NwPlacement){placement.piece, nw_motion_then(back, placement.motion)};
}

static void list_symmetries(NwGround *ground) {
    for (size_t p = 0; p < ground->design->piece_count; p++) {
        const NwSolid *solid = ground->design->pieces[p].solid;
        NwMotion motions[NW_TURNS];
        NwAllowed allowed = {.odd_shifts = nw_solid_is_whole(solid)};
        int count = nw_solid_symmetries(solid, allowed, motions);
        ground->symmetries[p] = nw_alloc((size_t)count, sizeof(NwMotion));
        memcpy(ground->symmetries[p], motions, (size_t)count * sizeof(NwMotion));
        ground->symmetry_count[p] = count;
    }
}

static void list_turns(NwGround *ground) {
    const NwGroup *group = ground->fit->group;
    const NwPlaces *places = ground->fit->places;
    size_t parts = (size_t)places->part_count;
    ground->turns = nw_alloc((size_t)group->order * parts, sizeof *ground->turns);
    for (int g = 0; g < group->order; g++) {
        NwMotion motion = group->motions[g];
        if (nw_vec_parity(motion.shift)) {
            if (!ground->odd_image && nw_turn_is_rotation(motion.turn))
                ground->odd_image = g;
            continue;
        }
        if (!nw_turn_is_rotation(motion.turn))
            continue;
        int *turn = ground->turns + (size_t)ground->turn_count++ * parts;
        for (size_t i = 0; i < parts; i++)
            turn[i] = nw_places_part(places, nw_part_moved(places->parts[i], motion));
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

static NwStatus build_fits(NwGround *ground, const NwDesign *design) {
    NwFitOptions options = {0};
    NwStatus status = nw_fit_new(design, options, &ground->given);
    if (status != NW_OK)
        return status;
    NwAssembly intended;
    status = nw_fit_intended(ground->given, &intended);
    if (status != NW_OK)
        return status;
    if (ground->given->count > NW_BODIES_MAX)
        return NW_TOO_MANY;
    status = settle(ground, design);
    return status == NW_OK ? nw_fit_new(ground->design, options, &ground->fit) : status;
}

static void begin_census(NwGround *ground) {
    const NwDesign *design = ground->given->design;
    int kinds[NW_PIECES_MAX];
    for (size_t p = 0; p < design->piece_count; p++)
        kinds[p] = nw_shapes_number(ground->shapes, design->pieces[p].solid);
    ground->census = nw_census_new(ground->given, ground->slides, kinds, ground->max_states);
}

NwStatus nw_ground_new(const NwDesign *design, NwGroundOptions options, NwGround **result) {
    *result = NULL;
    if (!design->intended_count)
        return NW_NONE;
    NwGround *ground = nw_alloc(1, sizeof *ground);
    NwStatus status = build_fits(ground, design);
    if (status != NW_OK) {
        nw_ground_free(ground);
        return status;
    }
    ground->bodies = ground->fit->count;
    ground->whole = nw_design_is_whole(ground->design);
    ground->mirrors = design->mirrors_together && envelope_has_mirrors(design);
    list_symmetries(ground);
    list_turns(ground);
    ground->slides = nw_take_apart_new(options.diagonals);
    ground->diagonals = options.diagonals;
    ground->max_states = options.max_states ? options.max_states : NW_STATES_DEFAULT;
    ground->shapes = nw_shapes_new();
    for (size_t p = 0; p < design->piece_count; p++) {
        ground->kinds[p] = nw_shapes_number(ground->shapes, ground->design->pieces[p].solid);
        ground->looks[p] = nw_looks_of(ground->design, (int)p);
    }
    begin_census(ground);
    *result = ground;
    return NW_OK;
}

static void clear_known(NwGround *ground) {
    for (size_t i = 0; i < ground->known_count; i++) {
        free(ground->known[i].places);
        free(ground->known[i].stand);
        free(ground->known[i].placements);
        free(ground->known[i].slides);
    }
    free(ground->known);
    ground->known = NULL;
    ground->known_count = ground->cooks = ground->doubtful = 0;
}

void nw_ground_forget(NwGround *ground) {
    clear_known(ground);
    ground->complete = false;
    nw_census_free(ground->census);
    begin_census(ground);
}

void nw_ground_free(NwGround *ground) {
    if (!ground)
        return;
    clear_known(ground);
    nw_census_free(ground->census);
    for (int p = 0; p < NW_PIECES_MAX; p++)
        free(ground->symmetries[p]);
    free(ground->turns);
    nw_take_apart_free(ground->slides);
    nw_shapes_free(ground->shapes);
    nw_fit_free(ground->fit);
    nw_fit_free(ground->given);
    nw_design_free(ground->design);
    free(ground);
}

static int compare_ints(const void *a, const void *b) {
    int x = *(const int *)a, y = *(const int *)b;
    return (x > y) - (x < y);
}

/* The places of some placements in the settled frames; false if one has none. */
static bool places_of(const NwGround *ground, const NwPlacement *placements, int *stand) {
    for (int b = 0; b < ground->bodies; b++) {
        stand[b] = nw_places_of_motion(ground->fit->places, ground->design, placements[b]);
        if (stand[b] < 0)
            return false;
    }
    return true;
}

static void canonical_places(const NwGround *ground, const int *stand, int *places) {
    int set[NW_COPIES_MAX];
    memcpy(set, stand, (size_t)ground->bodies * sizeof *set);
    qsort(set, (size_t)ground->bodies, sizeof *set, compare_ints);
    nw_group_least(ground->fit->group, set, ground->bodies, places);
}

static int compare_known(const void *a, const void *b, void *context) {
    const NwKnown *p = a, *q = b;
    const NwGround *ground = context;
    for (int i = 0; i < ground->bodies; i++)
        if (p->places[i] != q->places[i])
            return p->places[i] < q->places[i] ? -1 : 1;
    return 0;
}

static bool learn_one(const NwGround *ground, const NwFound *found, NwKnown *known) {
    size_t bodies = (size_t)ground->bodies;
    *known = (NwKnown){
        .key = found->key, .opens = found->opens, .level = found->level, .total = found->total};
    known->places = nw_alloc(bodies, sizeof *known->places);
    known->stand = nw_alloc(bodies, sizeof *known->stand);
    known->placements = nw_alloc(bodies, sizeof *known->placements);
    for (size_t b = 0; b < bodies; b++)
        known->placements[b] = settled_placement(ground, found->placements[b]);
    if (!places_of(ground, known->placements, known->stand))
        return false;
    canonical_places(ground, known->stand, known->places);
    if (found->opens == NW_OK && found->slides) {
        known->slides = nw_alloc((size_t)found->total, sizeof *known->slides);
        memcpy(known->slides, found->slides, (size_t)found->total * sizeof *known->slides);
    }
    return true;
}

NwStatus nw_ground_learn(NwGround *ground, const NwFound *founds, size_t count) {
    clear_known(ground);
    ground->known = nw_alloc(count, sizeof *ground->known);
    ground->known_count = count;
    bool good = true;
    for (size_t i = 0; i < count && good; i++)
        good = learn_one(ground, &founds[i], &ground->known[i]);
    if (!good)
        return NW_DOES_NOT_FIT;
    qsort_r(ground->known, count, sizeof *ground->known, compare_known, ground);
    int stand[NW_COPIES_MAX], intended[NW_COPIES_MAX];
    if (!places_of(ground, ground->design->intended, stand))
        return NW_DOES_NOT_FIT;
    canonical_places(ground, stand, intended);
    long at = nw_ground_find(ground, intended);
    if (at < 0)
        return NW_DOES_NOT_FIT;
    ground->intended = (size_t)at;
    ground->known[at].intended = true;
    for (size_t i = 0; i < count; i++) {
        ground->cooks += nw_ground_is_cook(ground, i);
        ground->doubtful += ground->known[i].opens == NW_LIMIT && !ground->known[i].intended;
    }
    ground->complete = true;
    return NW_OK;
}

NwStatus nw_ground_step(NwGround *ground, long *effort) {
    if (ground->complete)
        return NW_NONE;
    NwStatus status;
    do
        status = nw_census_step(ground->census, effort);
    while (status == NW_OK);
    if (status != NW_NONE)
        return status;
    const NwFounds *founds = nw_census_get(ground->census);
    status = nw_ground_learn(ground, founds->list, founds->count);
    if (status != NW_OK)
        return status;
    nw_census_free(ground->census);
    ground->census = NULL;
    return NW_NONE;
}

long nw_ground_find(const NwGround *ground, const int *places) {
    NwKnown wanted = {.places = (int *)places};
    size_t low = 0, high = ground->known_count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        int order = compare_known(&ground->known[middle], &wanted, (void *)ground);
        if (order == 0)
            return (long)middle;
        if (order < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return -1;
}

long nw_ground_find_key(const NwGround *ground, uint64_t key) {
    for (size_t i = 0; i < ground->known_count; i++)
        if (ground->known[i].key == key)
            return (long)i;
    return -1;
}
