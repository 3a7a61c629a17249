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
        NwMeasuring measuring = request->measuring;
        measuring.diagonals = request->run.options.diagonals;
        measures->tally = nw_tally_of_search(&harvest.progress);
        if (!nw_search_fit(harvest.search))
            measuring.dives = 0; /* it was stopped before the places were listed */
        if (!nw_measuring_of_answer(&measuring, source->design, nw_search_fit(harvest.search),
                                    nw_harvest_answer(&harvest), NULL, measures, &error))
            exit = nw_give_up(error, NW_EXIT_FAILED);
    }
    nw_harvest_clear(&harvest);
    return exit;
}
