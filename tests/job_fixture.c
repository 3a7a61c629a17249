#include "job_fixture.h"

#include <check.h>
#include <limits.h>
#include <stdlib.h>

#include "design/check_assembly.h"
#include "slide/replay.h"

GArray *job_facts_new(void) {
    return g_array_new(FALSE, TRUE, sizeof(JobFact));
}

static int compare_facts(gconstpointer a, gconstpointer b) {
    const JobFact *x = a, *y = b;
    return (x->key > y->key) - (x->key < y->key);
}

static JobFact fact_of(NwTakeApart *slide, const NwDesign *design, const NwAssembly *assembly,
                       const NwSearchOptions *options) {
    JobFact fact = {.key = assembly->key, .verdict = NW_UNEXAMINED};
    if (options->fit_only)
        return fact;
    NwBody bodies[NW_BODIES_MAX];
    nw_found_assembly_bodies(design, assembly->placements, assembly->count, bodies);
    nw_take_apart_start(slide, bodies, assembly->count,
                        options->max_states ? options->max_states : NW_STATES_DEFAULT);
    NwStatus status = nw_take_apart_step(slide, LONG_MAX);
    fact.verdict = status == NW_OK ? NW_OPENS : status == NW_NONE ? NW_UNREACHABLE : NW_UNDECIDED;
    if (status == NW_OK) {
        fact.level = nw_take_apart_result(slide)->level;
        fact.total = nw_take_apart_result(slide)->total;
    }
    return fact;
}

GArray *job_expected(const NwDesign *design, const NwSearchOptions *options) {
    GArray *facts = job_facts_new();
    NwFit *fit;
    ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){0}, &fit), NW_OK);
    NwFitSearch *search = nw_fit_search_new(fit);
    NwTakeApart *slide = nw_take_apart_new(options->diagonals);
    NwAssembly assembly;
    while (nw_fit_search_step(search, LONG_MAX, &assembly) == NW_OK) {
        JobFact fact = fact_of(slide, design, &assembly, options);
        g_array_append_val(facts, fact);
    }
    nw_take_apart_free(slide);
    nw_fit_search_free(search);
    nw_fit_free(fit);
    g_array_sort(facts, compare_facts);
    return facts;
}

static void assert_replays(const NwDesign *design, const NwFoundAssembly *finding) {
    NwSolid *solids[NW_BODIES_MAX];
    g_autofree NwReplaySlide *slides = g_new0(NwReplaySlide, finding->slide_count + 1);
    for (int b = 0; b < finding->placement_count; b++)
        nw_solid_moved(design->pieces[finding->placements[b].piece].solid,
                       finding->placements[b].motion, &solids[b]);
    for (int i = 0; i < finding->slide_count; i++) {
        const NwSlide *slide = &finding->slides[i];
        slides[i] = (NwReplaySlide){slide->bodies, nw_direction_step(slide->direction),
                                    slide->cells == NW_SLIDE_OUT ? NW_REPLAY_OUT : slide->cells};
    }
    const char *fault = nw_replay((const NwSolid *const *)solids, (size_t)finding->placement_count,
                                  slides, (size_t)finding->slide_count);
    ck_assert_msg(fault == NULL, "replay: %s", fault);
    for (int b = 0; b < finding->placement_count; b++)
        nw_solid_free(solids[b]);
}

void job_gather(GArray *facts, const NwDesign *design, GPtrArray *batch) {
    for (guint i = 0; i < batch->len; i++) {
        const NwFoundAssembly *finding = batch->pdata[i];
        JobFact fact = {finding->key, finding->verdict, finding->level, finding->total};
        g_array_append_val(facts, fact);
        const char *fault =
            nw_check_assembly(design, finding->placements, (size_t)finding->placement_count);
        ck_assert_msg(fault == NULL, "recount: %s", fault);
        /* The checker is slow; one finding in eight is enough here. */
        if (finding->verdict == NW_OPENS && finding->key % 8 == 0)
            assert_replays(design, finding);
    }
    g_ptr_array_unref(batch);
}

void job_assert_same(GArray *found, const GArray *expected, gboolean repeats) {
    g_array_sort(found, compare_facts);
    guint at = 0;
    for (guint i = 0; i < found->len; i++) {
        const JobFact *fact = &g_array_index(found, JobFact, i);
        if (repeats && i && fact->key == g_array_index(found, JobFact, i - 1).key)
            at--;
        ck_assert_msg(at < expected->len, "more assemblies than there are: %u, not %u", found->len,
                      expected->len);
        const JobFact *wanted = &g_array_index(expected, JobFact, at++);
        ck_assert_msg(fact->key == wanted->key, "an assembly is missing, or found twice");
        ck_assert_int_eq(fact->verdict, wanted->verdict);
        ck_assert_int_eq(fact->level, wanted->level);
        ck_assert_int_eq(fact->total, wanted->total);
    }
    ck_assert_msg(at == expected->len, "%u assemblies, not %u", at, expected->len);
}

void job_run_to_end(NwSearch *search, const NwDesign *design, GArray *facts) {
    NwSearchProgress progress;
    nw_search_start(search);
    do {
        nw_search_progress(search, &progress);
        job_gather(facts, design, nw_search_take(search, 20));
    } while (progress.state == NW_SEARCH_RUNNING);
    ck_assert_int_eq(progress.state, NW_SEARCH_COMPLETE);
    ck_assert(progress.share == 1);
}
