#include "job/import.h"

static NwStatus opens(const NwFoundAssembly *finding) {
    switch (finding->verdict) {
    case NW_OPENS:
        return NW_OK;
    case NW_UNREACHABLE:
        return NW_NONE;
    default:
        return NW_LIMIT;
    }
}

void nw_founds_add_finding(NwFounds *founds, const NwFoundAssembly *finding) {
    NwFound *found = nw_founds_add(founds, finding->placements, (size_t)finding->placement_count);
    found->key = finding->key;
    found->opens = opens(finding);
    found->level = finding->level;
    found->total = finding->total;
}

/* Whether what is stored of it holds, as far as that can be seen without a search. */
static gboolean holds(const NwDesign *design, const NwFoundAssembly *finding) {
    if (finding->verdict != NW_OPENS)
        return finding->verdict != NW_UNEXAMINED;
    return finding->total == finding->slide_count && finding->level <= finding->total &&
           nw_slides_open(design, finding->placements, finding->placement_count, finding->slides,
                          finding->slide_count);
}

/* All that the run has found; none if some of it is missing or does not hold. */
static NwFounds founds_of(const NwRun *run, const NwDesign *design, const GPtrArray *findings) {
    NwFounds founds = {0};
    gboolean good = run->found == (gint64)findings->len;
    for (guint i = 0; i < findings->len && good; i++) {
        good = holds(design, findings->pdata[i]);
        nw_founds_add_finding(&founds, findings->pdata[i]);
    }
    if (!good)
        nw_founds_clear(&founds);
    return founds;
}

/* None without an error if it was stopped. */
static NwFounds load(NwRunStore *record, const NwDesign *design, const NwSearchOptions *options,
                     gboolean (*stop)(void), GError **error) {
    NwSearch *search = nw_search_new_unless(design, options, stop, error);
    GPtrArray *findings = search ? nw_run_store_load(record, search, error) : NULL;
    NwFounds founds = {0};
    if (findings) {
        founds = founds_of(nw_run_store_run(record), design, findings);
        g_ptr_array_unref(findings);
    }
    nw_search_free(search);
    return founds;
}

gboolean nw_founds_learn(NwLibrary *library, gint64 version, const NwDesign *design,
                         const NwBaselineOptions *options, gboolean (*stop)(void),
                         NwAdvisor *advisor, gboolean *learnt, GError **error) {
    const NwSearchOptions searched = {
        .threads = 1, .diagonals = options->diagonals, .max_states = options->max_states};
    GError *failure = NULL;
    NwRunStore *record = nw_run_store_find(library, version, &searched, &failure);
    NwFounds founds = {0};
    *learnt = FALSE;
    if (record && nw_run_store_run(record)->state == NW_RUN_COMPLETE)
        founds = load(record, design, &searched, stop, &failure);
    nw_run_store_free(record);
    if (!failure && founds.count) {
        *learnt = nw_advisor_learn(advisor, founds.list, founds.count) == NW_OK;
        if (!*learnt)
            nw_baseline_forget(nw_advisor_ground(advisor));
    }
    nw_founds_clear(&founds);
    if (!failure)
        return TRUE;
    g_propagate_error(error, failure);
    return FALSE;
}
