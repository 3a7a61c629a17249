#include "export/inquiry.h"

#include "job/search_run.h"

NwTally nw_tally_of_search(const NwSearchProgress *progress) {
    return (NwTally){.complete = progress->state == NW_SEARCH_COMPLETE,
                     .fitting = progress->found,
                     .opening = progress->verdicts[NW_OPENS],
                     .unreachable = progress->verdicts[NW_UNREACHABLE],
                     .undecided = progress->verdicts[NW_UNDECIDED],
                     .unexamined = progress->verdicts[NW_UNEXAMINED]};
}

static void keep(NwSearchResults *results, GPtrArray *batch) {
    nw_search_results_keep(results, batch);
    g_ptr_array_unref(batch);
}

static gboolean pursue(const NwInquiry *inquiry, NwSearchRun *run, NwProgress *progress,
                       NwSearchResults *results, GError **error) {
    GPtrArray *batch;
    gboolean good, wanted, in_time;
    gint64 began = g_get_monotonic_time();
    do {
        good = nw_search_run_step(run, &batch, error);
        keep(results, batch);
        wanted = nw_progress_tell(progress, results->progress.share);
        double seconds = (double)(g_get_monotonic_time() - began) / G_USEC_PER_SEC;
        in_time = inquiry->seconds <= 0 || seconds < inquiry->seconds;
    } while (good && !nw_search_run_is_over(run) && wanted && in_time);
    if (!good)
        return FALSE;
    good = nw_search_run_end(run, &batch, error);
    keep(results, batch);
    return good && nw_search_results_check(&results->progress, error) &&
           (wanted || nw_progress_set_error(error));
}

gboolean nw_inquire(const NwInquiry *inquiry, NwProgress *progress, NwSearchResults *results,
                    GError **error) {
    NwSearchRunGoal goal = {
        .design = inquiry->design, .options = inquiry->options, .version = inquiry->version};
    if (inquiry->store && inquiry->version >= 0 &&
        !(goal.library = nw_library_open(inquiry->store, NW_LIBRARY_READ_WRITE, error)))
        return FALSE;
    nw_search_results_init(results);
    NwSearchRun *run = nw_search_run_begin(&goal, results, error);
    gboolean good = run && pursue(inquiry, run, progress, results, error);
    nw_search_run_free(run);
    nw_library_close(goal.library);
    if (good)
        nw_search_results_sort(results);
    else
        nw_search_results_clear(results);
    return good;
}
