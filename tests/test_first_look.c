/* The first look of a search (job/first_look.h): what the design shows by itself comes first, once,
 * and nothing else changes by it.
 *
 * The outside source beside each check: the assemblies and verdicts of the fit and slide engines
 * called one after the other (job_fixture.h), which know no first look; check_assembly.h. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "design/check_assembly.h"
#include "job/search_results.h"
#include "job_fixture.h"
#include "lattice/named.h"
#include "plain/random_design.h"
#include "suite.h"
#include "text/words.h"

static NwSearch *make_search(const NwDesign *design, const NwSearchOptions *options,
                             GBytes *saved) {
    g_autoptr(GError) error = NULL;
    NwSearch *search = nw_search_new(design, options, saved, &error);
    ck_assert_msg(search != NULL, "%s", error ? error->message : "no error");
    return search;
}

static NwDesign *dissection(uint64_t seed, int size, int pieces) {
    NwSolid *solid = NULL;
    nw_named_solid_build(nw_named_solid_find("cube"), (const int[3]){size, size, size}, &solid);
    NwDesign *design = nw_random_dissection(seed, solid, true, pieces);
    nw_solid_free(solid);
    return design;
}

/* Waits for the first batch that is not empty. */
static GPtrArray *take_first(NwSearch *search) {
    GPtrArray *batch = nw_search_take(search, 1000);
    for (int i = 0; i < 300 && !batch->len; i++) {
        g_ptr_array_unref(batch);
        batch = nw_search_take(search, 200);
    }
    ck_assert_uint_gt(batch->len, 0);
    return batch;
}

/* ---- it comes first ---------------------------------------------------------------------- */

/* Cut from a cube of 5 cells into 14 pieces: nobody lists all of its assemblies. */
START_TEST(the_answer_comes_before_a_search_without_end) {
    NwDesign *design = dissection((uint64_t)_i, 5, 14);
    NwPlacement placements[14] = {{0}};
    for (int p = 0; p < 14; p++)
        placements[p].piece = p;
    gboolean intends = _i % 2;
    if (intends)
        nw_design_set_intended(design, placements, 14);
    NwSearch *search = make_search(design, &(NwSearchOptions){.threads = 1 + _i % 3}, NULL);
    nw_search_start(search);
    GPtrArray *batch = take_first(search);
    const NwFoundAssembly *first = batch->pdata[0];
    ck_assert_int_eq(first->intended, intends);
    ck_assert_int_eq(first->drawn, !intends);
    ck_assert_int_ne(first->verdict, NW_UNEXAMINED);
    ck_assert_ptr_null(nw_check_assembly(design, first->placements, 14));
    ck_assert(nw_search_is_intended(search, first->key) == intends);
    ck_assert(nw_search_is_drawn(search, first->key) == !intends);
    nw_search_stop(search);
    g_ptr_array_unref(batch);
    nw_search_free(search);
    nw_design_free(design);
}
END_TEST

/* On designs with and without an intended assembly: first, once, and the same list as ever. */
START_TEST(it_is_listed_once) {
    int shown = 0;
    for (uint64_t seed = 0; seed < 60; seed++) {
        NwDesign *design = seed % 2 ? nw_random_design(seed) : dissection(seed, 3, 5);
        NwSearchOptions options = {.threads = 1 + (int)(seed % 3), .fit_only = seed % 5 == 0};
        g_autoptr(GArray) expected = job_expected(design, &options), found = job_facts_new();
        NwSearch *search = make_search(design, &options, NULL);
        NwSearchProgress progress;
        nw_search_progress(search, &progress);
        gboolean has_first = progress.found > 0;
        ck_assert(has_first || !nw_search_has_intended(search));
        ck_assert(seed % 2 || has_first);
        nw_search_start(search);
        if (has_first) {
            GPtrArray *batch = take_first(search);
            const NwFoundAssembly *first = batch->pdata[0];
            ck_assert(first->intended || first->drawn);
            ck_assert_int_eq(first->intended, nw_search_has_intended(search));
            job_gather(found, design, batch);
        }
        job_run_to_end(search, design, found);
        job_assert_same(found, expected, FALSE);
        nw_search_progress(search, &progress);
        ck_assert_int_eq(progress.state, NW_SEARCH_COMPLETE);
        ck_assert_uint_eq(progress.found, expected->len);
        shown += has_first;
        nw_search_free(search);
        nw_design_free(design);
    }
    ck_assert_int_gt(shown, 40);
}
END_TEST

/* Stopped at any moment, also before its verdict, and begun again from what was saved. */
START_TEST(it_goes_on_where_it_was_stopped) {
    for (uint64_t seed = 0; seed < 24; seed++) {
        NwDesign *design = dissection(seed, 3, 5);
        NwSearchOptions options = {.threads = 1 + (int)(seed % 2)};
        g_autoptr(GArray) expected = job_expected(design, &options), found = job_facts_new();
        NwSearch *search = make_search(design, &options, NULL);
        for (int session = 0; session < 3; session++) {
            if (session || seed % 3) {
                nw_search_start(search);
                if (seed % 4)
                    g_usleep((gulong)(seed % 4) * 500);
                nw_search_stop(search);
            }
            GBytes *saved = nw_search_save(search);
            job_gather(found, design, nw_search_take(search, 0));
            nw_search_free(search);
            search = make_search(design, &options, saved);
            g_bytes_unref(saved);
        }
        job_run_to_end(search, design, found);
        job_assert_same(found, expected, FALSE);
        NwSearchProgress progress;
        nw_search_progress(search, &progress);
        ck_assert_uint_eq(progress.found, expected->len);
        nw_search_free(search);
        nw_design_free(design);
    }
}
END_TEST

START_TEST(a_limit_of_one_leaves_just_it) {
    NwDesign *design = dissection(1, 3, 5);
    NwSearch *search = make_search(design, &(NwSearchOptions){.threads = 2, .limit = 1}, NULL);
    g_autoptr(GArray) found = job_facts_new();
    NwSearchProgress progress;
    nw_search_start(search);
    do
        nw_search_progress(search, &progress);
    while (progress.state == NW_SEARCH_RUNNING);
    job_gather(found, design, nw_search_take(search, 0));
    ck_assert_int_eq(progress.state, NW_SEARCH_STOPPED);
    ck_assert_uint_eq(found->len, 1);
    ck_assert(nw_search_is_drawn(search, g_array_index(found, JobFact, 0).key));
    nw_search_free(search);
    nw_design_free(design);
}
END_TEST

/* ---- it holds nothing up ----------------------------------------------------------------- */

/* A shell that never opens, and 12 loose cubes in it: its positions are without end. */
static NwDesign *rattle(void) {
    NwDesign *design = nw_design_new("Rattle");
    NwSolid *outer = NULL;
    nw_named_solid_build(nw_named_solid_find("box"), (const int[3]){5, 5, 5}, &outer);
    NwSolid *shell = nw_solid_copy(outer);
    nw_solid_free(design->envelope);
    design->envelope = outer;
    for (int i = 0; i < 27; i++)
        nw_solid_remove(shell, nw_vec(1 + i / 9, 1 + i / 3 % 3, 1 + i % 3), NW_WHOLE);
    nw_design_take_piece(design, "shell", shell);
    for (int i = 0; i < 27; i++) {
        NwVec at = nw_vec(1 + i / 9, 1 + i / 3 % 3, 1 + i % 3);
        if (i >= 12) {
            nw_solid_add(design->may_be_empty, at, NW_WHOLE);
            continue;
        }
        NwSolid *cube = nw_solid_new();
        char name[16];
        g_snprintf(name, sizeof name, "c%d", i);
        nw_solid_add(cube, at, NW_WHOLE);
        nw_design_take_piece(design, name, cube);
    }
    return design;
}

START_TEST(slides_without_end_do_not_keep_the_search_from_others) {
    NwDesign *design = rattle();
    NwSearch *search = make_search(design, &(NwSearchOptions){.threads = 1}, NULL);
    NwSearchProgress progress = {.found = 0};
    nw_search_start(search);
    for (int i = 0; i < 900 && progress.found < 2; i++) {
        g_usleep(100000);
        nw_search_progress(search, &progress);
    }
    ck_assert_uint_ge(progress.found, 2);
    nw_search_stop(search);
    nw_search_free(search);
    nw_design_free(design);
}
END_TEST

/* What is drawn is listed first also where it is locked; the answer is then the first that opens.
 */
START_TEST(a_locked_first_is_no_answer) {
    NwFoundAssembly drawn = {.key = 9, .verdict = NW_UNREACHABLE, .drawn = true},
                    opens = {.key = 1, .verdict = NW_OPENS}, locked = {.verdict = NW_UNREACHABLE};
    g_autoptr(GPtrArray) list = g_ptr_array_new();
    g_ptr_array_add(list, &locked);
    g_ptr_array_add(list, &opens);
    g_ptr_array_add(list, &drawn);
    g_ptr_array_sort(list, nw_words_compare);
    ck_assert_ptr_eq(list->pdata[0], &drawn);
    ck_assert_ptr_eq(nw_search_results_answer_of(list, FALSE), &opens);
    drawn.verdict = NW_OPENS;
    ck_assert_ptr_eq(nw_search_results_answer_of(list, FALSE), &drawn);
    g_ptr_array_remove(list, &drawn);
    g_ptr_array_remove(list, &opens);
    ck_assert_ptr_null(nw_search_results_answer_of(list, FALSE));
}
END_TEST

int main(void) {
    Suite *suite = suite_create("first_look");
    TCase *group = tcase_create("first look");
    tcase_set_timeout(group, 200);
    tcase_add_loop_test(group, the_answer_comes_before_a_search_without_end, 0, 6);
    tcase_add_test(group, it_is_listed_once);
    tcase_add_test(group, it_goes_on_where_it_was_stopped);
    tcase_add_test(group, a_limit_of_one_leaves_just_it);
    tcase_add_test(group, slides_without_end_do_not_keep_the_search_from_others);
    tcase_add_test(group, a_locked_first_is_no_answer);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
