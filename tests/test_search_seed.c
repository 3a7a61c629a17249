/* A list that a proof has found becomes the list of the new version: the same as that of a full new
 * search, each assembly examined and checked, complete in the store. The argument is the folder of
 * the bundled designs. */
#include <check.h>
#include <stdlib.h>

#include "cook/advisor.h"
#include "design/frame.h"
#include "format/design_json.h"
#include "job/run_store.h"
#include "job/search_seed.h"
#include "job_fixture.h"
#include "plain/random_design.h"
#include "store_fixture.h"
#include "suite.h"

enum { EFFORT = 100000, DESIGNS = 20, PROPOSALS_MAX = 6, SEEDS_MAX = 400 };

static const char *designs_folder;
static NwLibrary *library;

static NwDesign *bundled(const char *name) {
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_strdup_printf("%s/%s.json", designs_folder, name);
    NwDesign *design = nw_design_load(path, &error);
    ck_assert_msg(design != NULL, "%s", error ? error->message : "");
    return design;
}

static void set_up(void) {
    store_folder_make();
    g_autoptr(GError) error = NULL;
    library = nw_library_open(store_file("a.notch"), NW_LIBRARY_CREATE, &error);
    ck_assert_msg(library != NULL, "%s", error ? error->message : "no error");
}

static void tear_down(void) {
    nw_library_close(library);
    store_folder_remove();
}

/* ---- adopting ---------------------------------------------------------------------------- */

static gint64 add_version(const NwDesign *design) {
    static int number;
    g_autofree char *name = g_strdup_printf("Design %d", ++number);
    NwDesign *copy = nw_design_copy(design);
    free(copy->name);
    copy->name = strdup(name);
    gint64 version;
    g_autoptr(GError) error = NULL;
    gboolean added = nw_library_add_design(library, copy, NULL, NULL, &version, &error);
    ck_assert_msg(added, "%s", error ? error->message : "no error");
    nw_design_free(copy);
    return version;
}

/* What is told at once: the same assemblies, verdicts and levels as in the end. The total of a way
 * that was kept need not be that of the way that a search comes upon. */
static void assert_told(const GPtrArray *told, const GArray *expected) {
    ck_assert_uint_eq(told->len, expected->len);
    for (guint i = 0; i < told->len; i++) {
        const NwFoundAssembly *finding = told->pdata[i];
        const JobFact *fact = &g_array_index(expected, JobFact, i);
        ck_assert_uint_eq(finding->key, fact->key);
        ck_assert_int_eq(finding->verdict, fact->verdict);
        ck_assert_int_eq(finding->level, fact->level);
        ck_assert_int_eq(finding->slide_count, 0);
    }
}

static void save(NwRunStore *record, NwSearch *search) {
    GPtrArray *batch = NULL;
    g_autoptr(GError) error = NULL;
    gboolean saved = nw_run_store_save(record, search, &batch, &error);
    ck_assert_msg(saved, "%s", error ? error->message : "no error");
    g_ptr_array_unref(batch);
}

static NwSearch *new_search(const NwDesign *design, GBytes *resume) {
    g_autoptr(GError) error = NULL;
    NwSearch *search = nw_search_new(design, &(NwSearchOptions){.threads = 1}, resume, &error);
    ck_assert_msg(search != NULL, "%s", error ? error->message : "no error");
    return search;
}

static void go_to_end(NwRunStore *record, NwSearch *search) {
    NwSearchProgress progress;
    nw_search_start(search);
    do {
        g_usleep(500);
        nw_search_progress(search, &progress);
        save(record, search);
    } while (progress.state == NW_SEARCH_RUNNING);
    ck_assert_int_eq(progress.state, NW_SEARCH_COMPLETE);
}

static void assert_stored(const NwDesign *design, gint64 version, const GArray *expected) {
    NwRunStore *record = nw_run_store_open(library, version, &(NwSearchOptions){0}, NULL);
    ck_assert_ptr_nonnull(record);
    const NwRun *run = nw_run_store_run(record);
    ck_assert_int_eq(run->state, NW_RUN_COMPLETE);
    ck_assert_int_eq(run->found, expected->len);
    NwSearch *search = new_search(design, run->resume);
    GPtrArray *findings = nw_run_store_load(record, search, NULL);
    ck_assert_ptr_nonnull(findings);
    g_autoptr(GArray) facts = job_facts_new();
    for (guint i = 0; i < findings->len; i++) {
        const NwFoundAssembly *finding = findings->pdata[i];
        ck_assert_int_eq(finding->intended, nw_search_is_intended(search, finding->key));
    }
    job_gather(facts, design, findings);
    job_assert_same(facts, expected, FALSE);
    nw_search_free(search);
    nw_run_store_free(record);
}

/* Adopts the list for the design as a new version. `killed`: after it is saved, and before anything
 * is examined, the program ends and starts again. */
static void adopt(const NwDesign *design, const NwFounds *founds, gboolean killed) {
    g_autoptr(GArray) expected = job_expected(design, &(NwSearchOptions){0});
    gint64 version = add_version(design);
    NwRunStore *record = nw_run_store_open(library, version, &(NwSearchOptions){0}, NULL);
    NwSearch *search = new_search(design, NULL);
    NwSearchProgress progress;
    GPtrArray *told = nw_search_adopt(search, founds, &progress);
    ck_assert_ptr_nonnull(told);
    assert_told(told, expected);
    g_ptr_array_unref(told);
    if (killed) {
        save(record, search);
        nw_search_free(search);
        nw_run_store_free(record);
        record = nw_run_store_open(library, version, &(NwSearchOptions){0}, NULL);
        ck_assert_int_eq(nw_run_store_run(record)->state, NW_RUN_OPEN);
        ck_assert_int_eq(nw_run_store_run(record)->found, 0);
        search = new_search(design, nw_run_store_run(record)->resume);
    }
    go_to_end(record, search);
    NwSearchProgress after;
    nw_search_progress(search, &after);
    ck_assert_uint_eq(progress.found, after.found);
    ck_assert_uint_eq(progress.cooks, after.cooks);
    ck_assert_mem_eq(progress.verdicts, after.verdicts, sizeof after.verdicts);
    ck_assert_int_eq(progress.intended_opens, after.intended_opens);
    nw_search_free(search);
    nw_run_store_free(record);
    assert_stored(design, version, expected);
}

/* ---- proofs ------------------------------------------------------------------------------ */

/* Adopts what the first proposals for a design have proved; returns how many there were. Counts
 * those that needed no search of the altered design in *known. */
static int adopt_proposals(const NwDesign *design, int *known) {
    NwAdvisor *advisor;
    int count = 0;
    if (nw_advisor_new(design, (NwAdvisorOptions){.singles = true}, &advisor) != NW_OK)
        return 0;
    for (NwStatus status = NW_STOPPED; count < PROPOSALS_MAX;) {
        const NwProposal *proposal;
        status = nw_advisor_step(advisor, EFFORT, &proposal);
        if (status == NW_STOPPED)
            continue;
        if (status != NW_OK)
            break;
        ck_assert_uint_eq(proposal->founds.count, proposal->outcome.assemblies);
        ck_assert(nw_design_is_settled(proposal->design));
        adopt(proposal->design, &proposal->founds, count % 2);
        *known += proposal->outcome.searched == 0;
        count++;
    }
    nw_advisor_free(advisor);
    return count;
}

START_TEST(the_chipped_lantern_s_proofs_are_adopted) {
    int known = 0;
    NwDesign *design = bundled("ember-lantern-chipped");
    ck_assert_int_gt(adopt_proposals(design, &known), 0);
    nw_design_free(design);
}
END_TEST

START_TEST(proofs_of_random_designs_are_adopted) {
    int designs = 0, proposals = 0, known = 0;
    for (guint64 seed = 1; seed < SEEDS_MAX && designs < DESIGNS; seed++) {
        NwDesign *design = nw_random_design(seed);
        int count = adopt_proposals(design, &known);
        designs += count > 0;
        proposals += count;
        nw_design_free(design);
    }
    ck_assert_int_eq(designs, DESIGNS);
    ck_assert_int_gt(known, 0);
    ck_assert_int_lt(known, proposals);
}
END_TEST

/* ---- another intended one ---------------------------------------------------------------- */

static NwFounds founds_of(const GPtrArray *findings) {
    NwFounds founds = {0};
    for (guint i = 0; i < findings->len; i++) {
        const NwFoundAssembly *finding = findings->pdata[i];
        NwFound *found =
            nw_founds_add(&founds, finding->placements, (size_t)finding->placement_count);
        found->opens = finding->verdict == NW_OPENS ? NW_OK : NW_NONE;
        found->level = finding->level;
        found->total = finding->total;
    }
    return founds;
}

static GPtrArray *find_all(const NwDesign *design) {
    NwSearch *search = new_search(design, NULL);
    GPtrArray *all = g_ptr_array_new_with_free_func((GDestroyNotify)nw_found_assembly_free);
    NwSearchProgress progress;
    nw_search_start(search);
    do {
        nw_search_progress(search, &progress);
        GPtrArray *batch = nw_search_take(search, 10);
        g_ptr_array_set_free_func(batch, NULL);
        g_ptr_array_extend_and_steal(all, batch);
    } while (progress.state == NW_SEARCH_RUNNING);
    nw_search_free(search);
    return all;
}

START_TEST(another_intended_one_only_changes_the_words) {
    NwDesign *design = bundled("ember-lantern-chipped");
    GPtrArray *findings = find_all(design);
    ck_assert_uint_eq(findings->len, 4);
    for (guint i = 0; i < findings->len; i++) {
        const NwFoundAssembly *chosen = findings->pdata[i];
        size_t bodies = (size_t)chosen->placement_count;
        NwDesign *relabelled = nw_design_copy(design), *redrawn = nw_design_copy(design);
        NwFounds founds = founds_of(findings);
        ck_assert_int_eq(nw_design_adopt(relabelled, chosen->placements, bodies), NW_OK);
        nw_design_set_intended(redrawn, chosen->placements, bodies);
        nw_founds_redraw(&founds, redrawn);
        adopt(relabelled, &founds, FALSE);
        nw_founds_clear(&founds);
        nw_design_free(redrawn);
        nw_design_free(relabelled);
    }
    g_ptr_array_unref(findings);
    nw_design_free(design);
}
END_TEST

/* ---- what is no list --------------------------------------------------------------------- */

static void assert_refused(const NwDesign *design, const NwFounds *founds) {
    NwSearch *search = new_search(design, NULL);
    NwSearchProgress before, progress;
    nw_search_progress(search, &before);
    ck_assert_ptr_null(nw_search_adopt(search, founds, &progress));
    nw_search_progress(search, &progress);
    ck_assert_uint_eq(progress.found, before.found); /* that of the first look, if any */
    nw_search_free(search);
}

START_TEST(what_is_no_list_of_this_design_is_refused) {
    NwDesign *design = bundled("ember-lantern-chipped");
    GPtrArray *findings = find_all(design);
    NwFounds founds = founds_of(findings), without = founds_of(findings);
    assert_refused(design, &(NwFounds){0}); /* the intended one is missing */
    founds.list[0].placements[0] = founds.list[1].placements[0];
    assert_refused(design, &founds);
    nw_founds_clear(&founds);
    size_t bodies = (size_t)((NwFoundAssembly *)findings->pdata[0])->placement_count;
    nw_founds_add(&without, without.list[2].placements, bodies); /* twice the same */
    assert_refused(design, &without);
    nw_founds_clear(&without);
    g_ptr_array_unref(findings);
    nw_design_free(design);
}
END_TEST

int main(int argc, char **argv) {
    if (argc != 2)
        return 2;
    designs_folder = argv[1];
    TCase *cases = tcase_create("adopt");
    tcase_set_timeout(cases, 600);
    tcase_add_checked_fixture(cases, set_up, tear_down);
    tcase_add_test(cases, the_chipped_lantern_s_proofs_are_adopted);
    tcase_add_test(cases, proofs_of_random_designs_are_adopted);
    tcase_add_test(cases, another_intended_one_only_changes_the_words);
    tcase_add_test(cases, what_is_no_list_of_this_design_is_refused);
    Suite *suite = suite_create("search-seed");
    suite_add_tcase(suite, cases);
    return run_suite(suite);
}
