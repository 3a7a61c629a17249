#include "cli/measure.h"

#include "export/inquiry.h"

NwExit nw_measure(const NwSource *source, const NwMeasureRequest *request, NwMeasures *measures) {
    NwSearchResults results;
    GError *error = NULL;
    *measures = (NwMeasures){0};
    if (nw_source_refuse_faults(source))
        return NW_EXIT_USAGE;
    if (!nw_run(source, &request->run, &results, &error))
        return nw_give_up(error, NW_EXIT_FAILED);
    NwExit exit = (NwExit)nw_run_exit(&results);
    if (exit != NW_EXIT_FAILED) {
        NwMeasuring measuring = request->measuring;
        measuring.diagonals = request->run.options.diagonals;
        measures->tally = nw_tally_of_search(&results.progress);
        if (!nw_search_fit(results.search))
            measuring.dives = 0; /* it was stopped before the places were listed */
        if (!nw_measuring_of_answer(&measuring, source->design, nw_search_fit(results.search),
                                    nw_search_results_answer(&results), NULL, measures, &error))
            exit = nw_give_up(error, NW_EXIT_FAILED);
    }
    nw_search_results_clear(&results);
    return exit;
}
