#include "session/explain_job.h"

#include <stdlib.h>

#include "base/memory.h"
#include "cook/baseline_setup.h"
#include "job/background.h"

enum {
    EFFORT = 4000
}; /* nodes, states or microseconds between two looks at whether it is still wanted */

struct NwExplainJob {
    NwDesign *design;
    NwBaselineOptions options;
    NwFounds founds;
    NwExplainCall *call;
    gpointer data;
    NwBackground background;
    NwPartRole role; /* the thread's own until that is over */
};

/* ---- the thread -------------------------------------------------------------------------- */

/* NW_STOPPED: it is to leave. */
static NwStatus make_ground(NwExplainJob *job, NwBaseline **baseline) {
    NwBaselineSetup *setup;
    NwStatus status = nw_baseline_setup_new(job->design, job->options, &setup);
    if (status != NW_OK)
        return status;
    do
        status = nw_baseline_setup_step(setup, EFFORT, baseline);
    while (status == NW_STOPPED && !nw_background_is_leaving(&job->background));
    nw_baseline_setup_free(setup);
    /* What was found earlier spares a search; if it does not match, search. */
    if (status == NW_OK && job->founds.count &&
        nw_baseline_learn(*baseline, job->founds.list, job->founds.count) != NW_OK)
        nw_baseline_forget(*baseline);
    return status;
}

static NwStatus search(NwExplainJob *job, NwBaseline *baseline) {
    NwStatus status = NW_STOPPED;
    while (status == NW_STOPPED && !nw_background_is_leaving(&job->background)) {
        long effort = EFFORT;
        status = nw_baseline_step(baseline, &effort);
    }
    return status;
}

static void tell_role(NwPartRole *role, const NwBaseline *baseline, const NwExplanation *told) {
    const NwKnown *intended = &baseline->known[baseline->intended];
    role->piece = told->piece;
    role->may_be_empty = told->may_be_empty;
    role->holds = told->holds;
    role->opened = intended->opens == NW_OK;
    role->level_before = role->opened ? intended->level : 0;
    if (!told->holds)
        return;
    role->idle = told->idle;
    role->opens = told->outcome.opens == NW_OK;
    role->level = told->outcome.level;
    role->total = told->outcome.total;
    role->new_cooks = told->outcome.new_cooks;
    role->undecided = told->outcome.undecided;
    for (gsize i = 0; i < baseline->known_count; i++)
        if (nw_explain_revives(baseline, told, i))
            g_array_append_val(role->revived, baseline->known[i].key);
}

static NwStatus explain(NwExplainJob *job, NwBaseline *baseline) {
    NwExplain *explain;
    NwStatus status = nw_explain_new(baseline, job->role.part, &explain);
    if (status != NW_OK)
        return status;
    do
        status = nw_explain_step(explain, EFFORT);
    while (status == NW_STOPPED && !nw_background_is_leaving(&job->background));
    if (status == NW_NONE)
        tell_role(&job->role, baseline, nw_explain_get(explain));
    nw_explain_free(explain);
    return status;
}

static void run(gpointer data) {
    NwExplainJob *job = data;
    NwBaseline *baseline;
    NwStatus status = make_ground(job, &baseline);
    if (status == NW_OK) {
        status = search(job, baseline);
        if (status == NW_NONE)
            status = explain(job, baseline);
        nw_baseline_free(baseline);
    } else if (status == NW_NONE) {
        status = NW_DOES_NOT_FIT; /* no assembly is intended */
    }
    job->role.status = status;
}

static void on_known(gpointer data) {
    NwExplainJob *job = data;
    job->call(&job->role, job->data);
}

/* ---- from the main thread ---------------------------------------------------------------- */

NwExplainJob *nw_explain_job_new(const NwDesign *design, NwBaselineOptions options,
                                 NwFounds *founds, NwPart part, NwExplainCall *call,
                                 gpointer data) {
    NwExplainJob *job = nw_alloc(1, sizeof *job);
    job->design = nw_design_copy(design);
    job->options = options;
    job->founds = *founds;
    *founds = (NwFounds){0};
    job->call = call;
    job->data = data;
    job->role.part = part;
    job->role.revived = g_array_new(FALSE, FALSE, sizeof(guint64));
    nw_background_begin(&job->background, "explain", run, job, on_known, job);
    return job;
}

void nw_explain_job_free(NwExplainJob *job) {
    if (!job)
        return;
    nw_background_end(&job->background);
    nw_founds_clear(&job->founds);
    nw_design_free(job->design);
    g_array_unref(job->role.revived);
    free(job);
}
