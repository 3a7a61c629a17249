#include "cli/measure.h"

#include "product/inquiry.h"

NwExit nw_measure(const NwSource *source, const NwMeasureRequest *request, NwMeasures *measures) {
    NwHarvest harvest;
    GError *error = NULL;
    *measures = (NwMeasures){0};
    if (nw_source_refuse_faults(source))
        return NW_EXIT_USAGE;
    if (!nw_run(source, &request->run, &harvest, &error))
        return nw_give_up(error, NW_EXIT_FAILED);
    NwExit exit = (NwExit)nw_run_exit(&harvest);
    if (exit != NW_EXIT_FAILED) {
        const NwFinding *answer = nw_harvest_answer(&harvest);
        measures->tally = nw_tally_of_search(&harvest.progress);
        if (answer)
            nw_measures_take_way(measures, source->design, answer, request->run.options.diagonals,
                                 request->max_positions, NULL);
        if (request->dives)
            nw_measures_take_dives(measures, nw_search_fit(harvest.search), request->seed,
                                   request->dives, NULL);
    }
    nw_harvest_clear(&harvest);
    return exit;
}
