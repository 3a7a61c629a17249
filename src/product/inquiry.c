#include "product/inquiry.h"

#include "job/pursuit.h"

NwTally nw_tally_of_search(const NwSearchProgress *progress) {
    return (NwTally){.complete = progress->state == NW_SEARCH_COMPLETE,
                     .fitting = progress->found,
                     .opening = progress->verdicts[NW_OPENS],
                     .unreachable = progress->verdicts[NW_UNREACHABLE],
                     .undecided = progress->verdicts[NW_UNDECIDED],
                     .unexamined = progress->verdicts[NW_UNEXAMINED]};
}

static void keep(NwHarvest *harvest, GPtrArray *batch) {
    nw_harvest_keep(harvest, batch);
    g_ptr_array_unref(batch);
}

static gboolean pursue(const NwInquiry *inquiry, NwPursuit *pursuit, NwProgress *progress,
                       NwHarvest *harvest, GError **error) {
    GPtrArray *batch;
    gboolean good, wanted, in_time;
    gint64 began = g_get_monotonic_time();
    do {
        good = nw_pursuit_step(pursuit, &batch, error);
        keep(harvest, batch);
        wanted = nw_progress_tell(progress, harvest->progress.share);
        double seconds = (double)(g_get_monotonic_time() - began) / G_USEC_PER_SEC;
        in_time = inquiry->seconds <= 0 || seconds < inquiry->seconds;
    } while (good && !nw_pursuit_is_over(pursuit) && wanted && in_time);
    if (!good)
        return FALSE;
    good = nw_pursuit_end(pursuit, &batch, error);
    keep(harvest, batch);
    return good && nw_harvest_check(&harvest->progress, error) &&
           (wanted || nw_progress_set_error(error));
}

gboolean nw_inquire(const NwInquiry *inquiry, NwProgress *progress, NwHarvest *harvest,
                    GError **error) {
    NwPursuitGoal goal = {
        .design = inquiry->design, .options = inquiry->options, .version = inquiry->version};
    if (inquiry->store && inquiry->version >= 0 &&
        !(goal.library = nw_library_open(inquiry->store, NW_LIBRARY_READ_WRITE, error)))
        return FALSE;
    nw_harvest_init(harvest);
    NwPursuit *pursuit = nw_pursuit_begin(&goal, harvest, error);
    gboolean good = pursuit && pursue(inquiry, pursuit, progress, harvest, error);
    nw_pursuit_free(pursuit);
    nw_library_close(goal.library);
    if (good)
        nw_harvest_sort(harvest);
    else
        nw_harvest_clear(harvest);
    return good;
}
