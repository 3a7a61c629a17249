#include "cook/baseline_setup.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "cook/change.h"
#include "cook/shape.h"
#include "design/bodies.h"
#include "design/frame.h"
#include "fit/setup.h"
#include "lattice/symmetry.h"

struct NwBaselineSetup {
    NwBaseline *baseline;
    NwDesign *design; /* as given */
    NwBaselineOptions options;
    NwFitSetup *fit; /* of the given design, then of the settled one */
};

NwStatus nw_baseline_setup_new(const NwDesign *design, NwBaselineOptions options,
                               NwBaselineSetup **result) {
    *result = NULL;
    if (!design->intended_count)
        return NW_NONE;
    NwFitSetup *fit;
    NwStatus status = nw_fit_setup_new(design, (NwFitOptions){0}, &fit);
    if (status != NW_OK)
        return status;
    NwBaselineSetup *setup = nw_alloc(1, sizeof *setup);
    *setup = (NwBaselineSetup){.baseline = nw_alloc(1, sizeof *setup->baseline),
                               .design = nw_design_copy(design),
                               .options = options,
                               .fit = fit};
    *result = setup;
    return NW_OK;
}

void nw_baseline_setup_free(NwBaselineSetup *setup) {
    if (!setup)
        return;
    nw_fit_setup_free(setup->fit);
    nw_design_free(setup->design);
    nw_baseline_free(setup->baseline);
    free(setup);
}

/* ---- the settled design ------------------------------------------------------------------ */

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

/* The fit of the design as given is there: that of the settled one is begun. */
static NwStatus begin_settled(NwBaselineSetup *setup) {
    NwBaseline *baseline = setup->baseline;
    NwAssembly intended;
    NwStatus status = nw_fit_intended(baseline->given, &intended);
    if (status != NW_OK)
        return status;
    if (baseline->given->count > NW_BODIES_MAX)
        return NW_TOO_MANY;
    status = settle(baseline, setup->design);
    nw_fit_setup_free(setup->fit);
    setup->fit = NULL;
    return status == NW_OK ? nw_fit_setup_new(baseline->design, (NwFitOptions){0}, &setup->fit)
                           : status;
}

/* ---- what is prepared -------------------------------------------------------------------- */

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

static NwBaseline *take(NwBaselineSetup *setup) {
    NwBaseline *baseline = setup->baseline;
    const NwDesign *design = setup->design;
    const NwBaselineOptions *options = &setup->options;
    baseline->bodies = baseline->fit->count;
    baseline->whole = nw_design_is_whole(baseline->design);
    baseline->mirrors = design->mirrors_together && envelope_has_mirrors(design);
    list_symmetries(baseline);
    list_turns(baseline);
    baseline->slides = nw_take_apart_new(options->diagonals);
    baseline->diagonals = options->diagonals;
    baseline->max_states = options->max_states ? options->max_states : NW_STATES_DEFAULT;
    baseline->shapes = nw_shapes_new();
    for (size_t p = 0; p < design->piece_count; p++) {
        baseline->kinds[p] = nw_shapes_number(baseline->shapes, baseline->design->pieces[p].solid);
        baseline->looks[p] = nw_weak_spots_of(baseline->design, (int)p);
    }
    nw_baseline_forget(baseline); /* which begins its search */
    setup->baseline = NULL;
    return baseline;
}

/* ---- step by step ------------------------------------------------------------------------ */

NwStatus nw_baseline_setup_step(NwBaselineSetup *setup, long effort, NwBaseline **baseline) {
    *baseline = NULL;
    NwFit **fit = setup->baseline->given ? &setup->baseline->fit : &setup->baseline->given;
    NwStatus status = nw_fit_setup_step(setup->fit, effort, fit);
    if (status != NW_OK)
        return status;
    if (setup->baseline->fit) {
        *baseline = take(setup);
        return NW_OK;
    }
    status = begin_settled(setup);
    return status == NW_OK ? NW_STOPPED : status;
}

NwStatus nw_baseline_new(const NwDesign *design, NwBaselineOptions options, NwBaseline **baseline) {
    NwBaselineSetup *setup;
    *baseline = NULL;
    NwStatus status = nw_baseline_setup_new(design, options, &setup);
    if (status != NW_OK)
        return status;
    do
        status = nw_baseline_setup_step(setup, LONG_MAX, baseline);
    while (status == NW_STOPPED);
    nw_baseline_setup_free(setup);
    return status;
}
