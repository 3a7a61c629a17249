#include "fit/setup.h"

#include <limits.h>
#include <stdlib.h>

#include "base/memory.h"
#include "fit/filter.h"
#include "fit/prune.h"
#include "fit/symmetry_breaking.h"

/* Looks of the first trial, and how much longer the turns of pruning are. */
enum { TRIAL_LOOKS = 1000, TURNS_LONGER = 2 };

/* One step does the work of one stage; this much is spent on it at a time where it is one of many
 * things to be done. */
enum { EFFORT_A_TURN = 500 };

static void begin_symmetry(NwFitSetup *setup);

struct NwFitSetup {
    NwFit *fit;
    bool breaks_symmetry, prunes;
    NwSetupStage stage;
    NwLister *lister; /* the tools of the stages, each NULL but while it is at work */
    NwSymmetryGrouping *grouping;
    NwSymmetryBreaking *breaking;
    NwMatrixMaker *maker;
    NwCover *trial;
    NwPruner *pruner;
    long turn, spent; /* effort of this turn of the trial or of the pruner, and spent of it */
    bool tries;       /* it is the turn of the trial */
    bool *dead;       /* places: those disabled, and those that pruning found */
    bool pruned;
};

static NwFitSetup *setup_new(const NwDesign *design) {
    NwFitSetup *setup = nw_alloc(1, sizeof *setup);
    setup->fit = nw_alloc(1, sizeof *setup->fit);
    setup->fit->design = nw_design_copy(design);
    setup->fit->count = nw_design_copies(design);
    return setup;
}

NwStatus nw_fit_setup_new(const NwDesign *design, NwFitOptions options, NwFitSetup **result) {
    *result = NULL;
    int copies = nw_design_copies(design);
    if (!copies || !design->envelope->count)
        return NW_EMPTY;
    if (copies > NW_COPIES_MAX)
        return NW_TOO_MANY;
    NwFitSetup *setup = setup_new(design);
    setup->breaks_symmetry = !options.keep_symmetry;
    setup->prunes = true;
    setup->lister = nw_lister_new(setup->fit->design);
    setup->stage = NW_SETUP_LISTING;
    *result = setup;
    return NW_OK;
}

void nw_fit_setup_free(NwFitSetup *setup) {
    if (!setup)
        return;
    nw_lister_free(setup->lister);
    nw_symmetry_grouping_free(setup->grouping);
    nw_symmetry_breaking_free(setup->breaking);
    nw_matrix_maker_free(setup->maker);
    nw_cover_free(setup->trial);
    nw_pruner_free(setup->pruner);
    free(setup->dead);
    nw_fit_free(setup->fit);
    free(setup);
}

NwFitSetup *nw_fit_setup_new_with(const NwDesign *design, NwPlacementTable *places) {
    NwFitSetup *setup = setup_new(design);
    setup->breaks_symmetry = true;
    setup->fit->places = places;
    begin_symmetry(setup);
    return setup;
}

/* ---- from stage to stage ----------------------------------------------------------------- */

static void begin_symmetry(NwFitSetup *setup) {
    NwFit *fit = setup->fit;
    nw_lister_free(setup->lister);
    setup->lister = NULL;
    setup->grouping = nw_symmetry_grouping_new(fit->design, fit->places);
    setup->stage = NW_SETUP_SYMMETRY;
}

static void begin_pivot(NwFitSetup *setup) {
    NwFit *fit = setup->fit;
    nw_symmetry_grouping_free(setup->grouping);
    setup->grouping = NULL;
    fit->disabled = nw_alloc((size_t)fit->places->place_count, sizeof *fit->disabled);
    if (setup->breaks_symmetry)
        setup->breaking =
            nw_symmetry_breaking_new(fit->design, fit->places, fit->group, fit->disabled);
}

static void begin_matrix(NwFitSetup *setup) {
    NwFit *fit = setup->fit;
    nw_symmetry_breaking_free(setup->breaking);
    setup->breaking = NULL;
    nw_matrix_free(fit->matrix);
    fit->matrix = NULL;
    setup->maker =
        nw_matrix_maker_new(fit->design, fit->places, setup->pruned ? setup->dead : fit->disabled);
    setup->stage = NW_SETUP_MATRIX;
}

static void begin_pruning(NwFitSetup *setup) {
    setup->trial = nw_cover_new(setup->fit->matrix);
    setup->turn = TRIAL_LOOKS;
    setup->spent = 0;
    setup->tries = true;
    setup->stage = NW_SETUP_PRUNING;
}

static void end_pruning(NwFitSetup *setup) {
    nw_cover_free(setup->trial);
    nw_pruner_free(setup->pruner);
    setup->trial = NULL;
    setup->pruner = NULL;
    setup->stage = NW_SETUP_DONE;
}

/* Takes the dead rows over as dead places; the matrix is then made again without them. */
static void take_dead(NwFitSetup *setup) {
    const NwFit *fit = setup->fit;
    const bool *dead;
    setup->pruned = nw_pruner_dead(setup->pruner, &dead) > 0;
    if (setup->pruned) {
        size_t places = (size_t)fit->places->place_count;
        setup->dead = nw_alloc(places, sizeof *setup->dead);
        for (size_t p = 0; p < places; p++)
            setup->dead[p] = fit->disabled[p];
        for (int r = 0; r < fit->matrix->row_count; r++)
            if (dead[r])
                setup->dead[fit->matrix->place_of_row[r]] = true;
    }
    end_pruning(setup);
    if (setup->pruned)
        begin_matrix(setup);
}

/* ---- the steps: each does some of the work of its stage, and goes on to the next at its end ----
 */

static NwStatus list(NwFitSetup *setup, long effort) {
    NwStatus status = nw_lister_step(setup->lister, effort, &setup->fit->places);
    if (status == NW_OK)
        begin_symmetry(setup);
    return status == NW_STOPPED ? NW_OK : status;
}

static void find_symmetry(NwFitSetup *setup, long effort) {
    if (setup->grouping) {
        setup->fit->group = nw_symmetry_grouping_step(setup->grouping, effort);
        if (setup->fit->group)
            begin_pivot(setup);
    } else if (!setup->breaking || nw_symmetry_breaking_step(setup->breaking, effort)) {
        begin_matrix(setup);
    }
}

static NwStatus make_matrix(NwFitSetup *setup, long effort) {
    NwMatrix *matrix = setup->fit->matrix = nw_matrix_maker_step(setup->maker, effort);
    if (!matrix)
        return NW_OK;
    nw_matrix_maker_free(setup->maker);
    setup->maker = NULL;
    if (matrix->words > NW_FILTER_WORDS_MAX)
        return NW_TOO_MANY;
    if (setup->prunes && !setup->pruned)
        begin_pruning(setup);
    else
        setup->stage = NW_SETUP_DONE;
    return NW_OK;
}

/* A turn of the trial: its end is the end of all, for the search that follows is as short. */
static void try_search(NwFitSetup *setup, long effort) {
    unsigned long long before = nw_cover_effort(setup->trial);
    NwStatus status = nw_cover_step(setup->trial, effort);
    setup->spent += (long)(nw_cover_effort(setup->trial) - before);
    if (status == NW_NONE)
        end_pruning(setup);
}

static void prune(NwFitSetup *setup, long effort) {
    if (!setup->pruner)
        setup->pruner = nw_pruner_new(setup->fit->matrix);
    setup->spent += effort;
    if (nw_pruner_step(setup->pruner, effort))
        take_dead(setup);
}

/* Goes on with whose turn it is; the search has the first one, and each lasts twice as long. */
static void prune_by_turns(NwFitSetup *setup, long effort) {
    long left = setup->turn - setup->spent;
    if (left <= 0) {
        setup->turn = setup->tries ? TURNS_LONGER * setup->turn : 2 * setup->turn / TURNS_LONGER;
        setup->tries = !setup->tries;
        setup->spent = 0;
        left = setup->turn;
    }
    if (setup->tries)
        try_search(setup, left < effort ? left : effort);
    else
        prune(setup, left < effort ? left : effort);
}

NwStatus nw_fit_setup_step(NwFitSetup *setup, long effort, NwFit **fit) {
    *fit = NULL;
    const bool all = effort == LONG_MAX;
    do {
        NwStatus status = NW_OK;
        switch (setup->stage) {
        case NW_SETUP_LISTING:
            status = list(setup, effort);
            break;
        case NW_SETUP_SYMMETRY:
            find_symmetry(setup, effort);
            break;
        case NW_SETUP_MATRIX:
            status = make_matrix(setup, effort);
            break;
        case NW_SETUP_PRUNING:
            prune_by_turns(setup, effort);
            break;
        case NW_SETUP_DONE:
            break;
        }
        if (status != NW_OK)
            return status;
    } while (all && setup->stage != NW_SETUP_DONE);
    if (setup->stage != NW_SETUP_DONE)
        return NW_STOPPED;
    *fit = setup->fit;
    setup->fit = NULL;
    return NW_OK;
}

NwStatus nw_fit_setup_go_on(NwFitSetup *setup, long *effort, NwFit **fit) {
    NwStatus status = NW_STOPPED;
    while (status == NW_STOPPED && *effort > 0) {
        long turn = *effort < EFFORT_A_TURN ? *effort : EFFORT_A_TURN;
        status = nw_fit_setup_step(setup, turn, fit);
        *effort -= turn;
    }
    return status;
}

NwSetupProgress nw_fit_setup_progress(const NwFitSetup *setup) {
    const NwFit *fit = setup->fit;
    NwSetupProgress progress = {.stage = setup->stage};
    switch (setup->stage) {
    case NW_SETUP_LISTING:
        progress.done = nw_lister_piece(setup->lister);
        progress.total = (int)fit->design->piece_count;
        break;
    case NW_SETUP_SYMMETRY:
        if (setup->grouping)
            progress.done = nw_symmetry_grouping_motion(setup->grouping, &progress.total);
        break;
    case NW_SETUP_MATRIX:
        progress.done = setup->maker ? nw_matrix_maker_done(setup->maker) : 0;
        progress.total = 2 * fit->places->place_count;
        break;
    case NW_SETUP_PRUNING:
        progress.done = setup->pruner ? nw_pruner_row(setup->pruner) : 0;
        progress.total = fit->matrix->row_count;
        break;
    case NW_SETUP_DONE:
        break;
    }
    return progress;
}

/* ---- all at once ------------------------------------------------------------------------- */

NwStatus nw_fit_new(const NwDesign *design, NwFitOptions options, NwFit **fit) {
    NwFitSetup *setup;
    *fit = NULL;
    NwStatus status = nw_fit_setup_new(design, options, &setup);
    if (status == NW_OK)
        status = nw_fit_setup_step(setup, LONG_MAX, fit);
    nw_fit_setup_free(setup);
    return status;
}
