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
static NwStatus make_ground(NwExplainJob *explainer, NwBaseline **baseline) {
    NwBaselineSetup *setup;
    NwStatus status = nw_baseline_setup_new(explainer->design, explainer->options, &setup);
    if (status != NW_OK)
        return status;
    do
        status = nw_baseline_setup_step(setup, EFFORT, baseline);
    while (status == NW_STOPPED && !nw_background_is_leaving(&explainer->background));
    nw_baseline_setup_free(setup);
    /* What was found earlier spares a search; if it does not match, search. */
    if (status == NW_OK && explainer->founds.count &&
        nw_baseline_learn(*baseline, explainer->founds.list, explainer->founds.count) != NW_OK)
        nw_baseline_forget(*baseline);
    return status;
}

static NwStatus search(NwExplainJob *explainer, NwBaseline *baseline) {
    NwStatus status = NW_STOPPED;
    while (status == NW_STOPPED && !nw_background_is_leaving(&explainer->background)) {
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

static NwStatus explain(NwExplainJob *explainer, NwBaseline *baseline) {
    NwExplain *explain;
    NwStatus status = nw_explain_new(baseline, explainer->role.part, &explain);
    if (status != NW_OK)
        return status;
    do
        status = nw_explain_step(explain, EFFORT);
    while (status == NW_STOPPED && !nw_background_is_leaving(&explainer->background));
    if (status == NW_NONE)
        tell_role(&explainer->role, baseline, nw_explain_get(explain));
    nw_explain_free(explain);
    return status;
}

static void run(gpointer data) {
    NwExplainJob *explainer = data;
    NwBaseline *baseline;
    NwStatus status = make_ground(explainer, &baseline);
    if (status == NW_OK) {
        status = search(explainer, baseline);
        if (status == NW_NONE)
            status = explain(explainer, baseline);
        nw_baseline_free(baseline);
    } else if (status == NW_NONE) {
        status = NW_DOES_NOT_FIT; /* no assembly is intended */
    }
    explainer->role.status = status;
}

static void on_known(gpointer data) {
    NwExplainJob *explainer = data;
    explainer->call(&explainer->role, explainer->data);
}

/* ---- from the main thread ---------------------------------------------------------------- */

NwExplainJob *nw_explain_job_new(const NwDesign *design, NwBaselineOptions options,
                                 NwFounds *founds, NwPart part, NwExplainCall *call,
                                 gpointer data) {
    NwExplainJob *explainer = nw_alloc(1, sizeof *explainer);
    explainer->design = nw_design_copy(design);
    explainer->options = options;
    explainer->founds = *founds;
    *founds = (NwFounds){0};
    explainer->call = call;
    explainer->data = data;
    explainer->role.part = part;
    explainer->role.revived = g_array_new(FALSE, FALSE, sizeof(guint64));
    nw_background_begin(&explainer->background, "explain", run, explainer, on_known, explainer);
    return explainer;
}

void nw_explain_job_free(NwExplainJob *explainer) {
    if (!explainer)
        return;
    nw_background_end(&explainer->background);
    nw_founds_clear(&explainer->founds);
    nw_design_free(explainer->design);
    g_array_unref(explainer->role.revived);
    free(explainer);
}
