#include "cli/measure.h"

NwTally nw_measure_tally(const NwSearchProgress *progress) {
    return (NwTally){.complete = progress->state == NW_SEARCH_COMPLETE,
                     .fitting = progress->found,
                     .opening = progress->verdicts[NW_OPENS],
                     .unreachable = progress->verdicts[NW_UNREACHABLE],
                     .undecided = progress->verdicts[NW_UNDECIDED],
                     .unexamined = progress->verdicts[NW_UNEXAMINED]};
}

const NwFinding *nw_measure_answer(const NwRunResult *result) {
    const NwFinding *first = result->findings->len ? result->findings->pdata[0] : NULL;
    if (first && first->verdict == NW_OPENS &&
        (first->intended || !nw_search_has_intended(result->search)))
        return first;
    return NULL;
}

NwExit nw_measure(const NwSource *source, const NwMeasureRequest *request, NwMeasures *measures) {
    NwRunResult result;
    GError *error = NULL;
    *measures = (NwMeasures){0};
    if (nw_source_refuse_faults(source))
        return NW_EXIT_USAGE;
    if (!nw_run(source, &request->run, &result, &error))
        return nw_give_up(error, NW_EXIT_FAILED);
    NwExit exit = (NwExit)nw_run_exit(&result);
    if (exit != NW_EXIT_FAILED) {
        const NwFinding *answer = nw_measure_answer(&result);
        measures->tally = nw_measure_tally(&result.progress);
        if (answer)
            nw_measures_take_way(measures, source->design, answer, request->run.options.diagonals,
                                 request->max_positions);
        if (request->dives)
            nw_measures_take_dives(measures, nw_search_fit(result.search), request->seed,
                                   request->dives);
    }
    nw_run_result_clear(&result);
    return exit;
}
