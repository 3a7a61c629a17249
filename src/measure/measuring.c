#include "measure/measuring.h"

#include <gio/gio.h>
#include <glib/gi18n.h>

#include "job/run_store.h"
#include "job/search_results.h"
#include "store/designs.h"
#include "text/words.h"

/* Effort between two looks whether it is stopped: some hundredths of a second. */
enum { SETUP_EFFORT = 10000 };

/* The shares of the whole at which its stages begin. */
static const double way_begins = 0.1, dives_begin = 0.5;

static gboolean is_stopped(NwProgress *progress, GError **error) {
    if (!nw_progress_is_stopped(progress))
        return FALSE;
    g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_CANCELLED, _("measuring was stopped"));
    return TRUE;
}

static void take_dives(const NwMeasuring *measuring, const NwFit *fit, NwProgress *progress,
                       NwMeasures *measures) {
    nw_progress_stage(progress, _("Estimating a blind search…"), dives_begin, 1);
    nw_measures_take_dives(measures, fit, measuring->seed, measuring->dives, progress);
}

/* A design that is too large to be listed is not to be found with a complete search. */
static gboolean build_and_dive(const NwMeasuring *measuring, const NwDesign *design,
                               NwProgress *progress, NwMeasures *measures, GError **error) {
    NwFit *fit = NULL;
    NwFitSetup *setup;
    nw_progress_stage(progress, _("Listing places…"), dives_begin, dives_begin);
    NwStatus status = nw_fit_setup_new(design, (NwFitOptions){0}, &setup);
    if (status == NW_OK)
        do
            status = nw_fit_setup_step(setup, SETUP_EFFORT, &fit);
        while (status == NW_STOPPED && !nw_progress_is_stopped(progress));
    nw_fit_setup_free(setup);
    if (status == NW_STOPPED)
        return !is_stopped(progress, error);
    if (status != NW_OK) {
        g_set_error(error, G_IO_ERROR, G_IO_ERROR_FAILED,
                    _("the places of the pieces cannot be listed; check the design"));
        return FALSE;
    }
    take_dives(measuring, fit, progress, measures);
    nw_fit_free(fit);
    return TRUE;
}

gboolean nw_measuring_of_answer(const NwMeasuring *measuring, const NwDesign *design,
                                const NwFit *fit, const NwFoundAssembly *answer,
                                NwProgress *progress, NwMeasures *measures, GError **error) {
    nw_progress_stage(progress, _("Counting positions…"), way_begins, dives_begin);
    if (answer)
        nw_measures_take_way(measures, design, answer, measuring->diagonals,
                             measuring->max_positions, progress);
    if (is_stopped(progress, error))
        return FALSE;
    if (measuring->dives && fit)
        take_dives(measuring, fit, progress, measures);
    else if (measuring->dives && !build_and_dive(measuring, design, progress, measures, error))
        return FALSE;
    return !is_stopped(progress, error);
}

/* ---- from a store -------------------------------------------------------------------------- */

static NwTally tally_of(const NwRun *run) {
    return (NwTally){.complete = TRUE,
                     .fitting = (guint64)run->found,
                     .opening = (guint64)run->by_status[NW_STORED_OPENS],
                     .unreachable = (guint64)run->by_status[NW_STORED_UNREACHABLE],
                     .undecided = (guint64)run->by_status[NW_STORED_UNDECIDED],
                     .unexamined = (guint64)run->by_status[NW_STORED_UNEXAMINED]};
}

/* All that the run found; NULL with an error. */
static GPtrArray *load(NwRunStore *record, const NwSearch *search, NwProgress *progress,
                       GError **error) {
    g_autoptr(GPtrArray) findings = nw_findings_new();
    GPtrArray *page = NULL;
    guint before;
    do {
        before = findings->len;
        if (is_stopped(progress, error) || !(page = nw_run_store_read(record, search, error)))
            return NULL;
        g_ptr_array_extend_and_steal(findings, page);
    } while (findings->len > before);
    return g_steal_pointer(&findings);
}

static gboolean measure_search(const NwMeasuring *measuring, const NwDesign *design,
                               NwRunStore *record, const NwSearch *search, NwProgress *progress,
                               NwMeasures *measures, GError **error) {
    GPtrArray *findings = load(record, search, progress, error);
    if (!findings)
        return FALSE;
    g_ptr_array_sort(findings, nw_words_compare);
    *measures = (NwMeasures){.tally = tally_of(nw_run_store_run(record))};
    gboolean measured = nw_measuring_of_answer(
        measuring, design, nw_search_fit(search),
        nw_search_results_answer_of(findings, nw_search_has_intended(search)), progress, measures,
        error);
    g_ptr_array_unref(findings);
    return measured;
}

static gboolean set_up(NwRunStore *record, NwSearch *search, NwProgress *progress, GError **error) {
    NwStatus status;
    do
        status = nw_run_store_set_up(record, search, error);
    while (status == NW_STOPPED && !nw_progress_is_stopped(progress));
    return status == NW_OK || (status == NW_STOPPED && !is_stopped(progress, error));
}

static gboolean measure_record(const NwMeasuring *measuring, const NwSearchOptions *options,
                               const NwDesign *design, NwRunStore *record, NwProgress *progress,
                               NwMeasures *measures, GError **error) {
    if (!record || nw_run_store_run(record)->state != NW_RUN_COMPLETE) {
        g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND,
                            _("the store has no complete search of it; search it first"));
        return FALSE;
    }
    NwSearch *search = nw_run_store_begin_search(record, design, options, error);
    gboolean measured =
        search && set_up(record, search, progress, error) &&
        measure_search(measuring, design, record, search, progress, measures, error);
    nw_search_free(search);
    return measured;
}

gboolean nw_measuring_from_store(const NwMeasuring *measuring, const char *path, gint64 version,
                                 NwProgress *progress, NwMeasures *measures, GError **error) {
    const NwSearchOptions options = {.diagonals = measuring->diagonals,
                                     .max_states = measuring->max_states};
    nw_progress_stage(progress, _("Reading the search…"), 0, way_begins);
    NwLibrary *library = nw_library_open(path, NW_LIBRARY_READ_ONLY, error);
    NwDesign *design = library ? nw_library_load_design(library, version, error) : NULL;
    gboolean measured = FALSE;
    if (design) {
        GError *failure = NULL;
        NwRunStore *record = nw_run_store_open(library, version, &options, &failure);
        if (failure)
            g_propagate_error(error, failure);
        else
            measured =
                measure_record(measuring, &options, design, record, progress, measures, error);
        nw_run_store_free(record);
    }
    nw_design_free(design);
    nw_library_close(library);
    return measured;
}
