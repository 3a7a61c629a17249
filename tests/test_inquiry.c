/* Searches that are run to their end on demand: what they bring in, when they stop, what is kept.
 */
#include <check.h>
#include <gio/gio.h>
#include <pthread.h>
#include <stdlib.h>

#include "bench/instances.h"
#include "export/inquiry.h"
#include "job/run_store.h"
#include "job/search_run.h"
#include "job_fixture.h"
#include "store_fixture.h"
#include "suite.h"
#include "text/words.h"

static NwDesign *design, *large; /* 480 assemblies at once; some thousands in some seconds */
static const char *path;
static gint64 version, large_version;

static void set_up(void) {
    store_folder_make();
    path = store_file("a.notch");
    design = nw_instance_build(nw_instance_find("soma"));
    design->mirrors_together = false;
    large = nw_instance_build(nw_instance_find("pentominoes-3x4x5"));
    NwLibrary *library = nw_library_open(path, NW_LIBRARY_CREATE, NULL);
    ck_assert(nw_library_add_design(library, design, NULL, NULL, &version, NULL));
    ck_assert(nw_library_add_design(library, large, NULL, NULL, &large_version, NULL));
    nw_library_close(library);
}

static void tear_down(void) {
    nw_design_free(design);
    nw_design_free(large);
    store_folder_remove();
}

static void assert_found_all(NwSearchResults *results) {
    g_autoptr(GArray) expected = job_expected(design, &(NwSearchOptions){0});
    g_autoptr(GArray) found = job_facts_new();
    ck_assert_int_eq(results->progress.state, NW_SEARCH_COMPLETE);
    for (guint i = 1; i < results->findings->len; i++)
        ck_assert_int_lt(
            nw_words_compare(&results->findings->pdata[i - 1], &results->findings->pdata[i]), 0);
    job_gather(found, design, g_ptr_array_ref(results->findings));
    job_assert_same(found, expected, FALSE);
}

START_TEST(everything_is_found_with_a_store_and_without) {
    for (int round = 0; round < 3; round++) { /* without, the first with, and from the store */
        const NwInquiry inquiry = {
            .design = design, .store = round ? path : NULL, .version = version};
        NwProgress *progress = nw_progress_new();
        NwSearchResults results;
        g_autoptr(GError) error = NULL;
        ck_assert(nw_progress_stage(progress, "Searching", 0.5, 0.75));
        ck_assert_msg(nw_inquire(&inquiry, progress, &results, &error), "%s",
                      error ? error->message : "no error");
        ck_assert_double_eq_tol(nw_progress_get(progress, NULL), 0.75, 1e-9);
        ck_assert_int_eq(results.from_store, round == 2);
        assert_found_all(&results);
        NwTally tally = nw_tally_of_search(&results.progress);
        ck_assert(tally.complete);
        ck_assert_uint_eq(tally.fitting, 480);
        ck_assert_uint_eq(tally.opening + tally.unreachable, 480);
        ck_assert_uint_eq(tally.undecided + tally.unexamined, 0);
        nw_search_results_clear(&results);
        nw_progress_free(progress);
    }
}
END_TEST

/* What was found by then stays; and there is nothing for the caller to clear. */
START_TEST(one_that_was_stopped_goes_on_from_the_store) {
    const NwInquiry inquiry = {.design = design, .store = path, .version = version};
    NwProgress *progress = nw_progress_new();
    NwSearchResults results;
    g_autoptr(GError) error = NULL;
    nw_progress_stop(progress);
    ck_assert(!nw_inquire(&inquiry, progress, &results, &error));
    ck_assert_msg(g_error_matches(error, G_IO_ERROR, G_IO_ERROR_CANCELLED), "%s", error->message);
    ck_assert(nw_inquire(&inquiry, NULL, &results, NULL));
    assert_found_all(&results);
    nw_search_results_clear(&results);
    nw_progress_free(progress);
}
END_TEST

/* As soon as the search has come somewhere. */
static void *stop_soon(void *progress) {
    while (nw_progress_get(progress, NULL) < 0.01)
        g_usleep(1000);
    nw_progress_stop(progress);
    return NULL;
}

START_TEST(it_stops_in_the_middle) {
    const NwInquiry inquiry = {.design = large, .store = path, .version = large_version};
    NwProgress *progress = nw_progress_new();
    NwSearchResults results;
    g_autoptr(GError) error = NULL;
    pthread_t thread;
    ck_assert(nw_progress_stage(progress, "Searching", 0, 1));
    ck_assert_int_eq(pthread_create(&thread, NULL, stop_soon, progress), 0);
    ck_assert(!nw_inquire(&inquiry, progress, &results, &error));
    ck_assert(g_error_matches(error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
    pthread_join(thread, NULL);
    nw_progress_free(progress);
    NwLibrary *library = nw_library_open(path, NW_LIBRARY_READ_ONLY, NULL);
    NwRunStore *record = nw_run_store_open(library, large_version, &inquiry.options, NULL);
    ck_assert_int_eq(nw_run_store_run(record)->state, NW_RUN_OPEN);
    ck_assert_int_gt(nw_run_store_run(record)->found, 0);
    nw_run_store_free(record);
    nw_library_close(library);
}
END_TEST

/* A busy machine may need more of them until there is something. */
START_TEST(seconds_end_it_with_what_there_is) {
    NwInquiry inquiry = {.design = large, .seconds = 0.2};
    NwSearchResults results;
    ck_assert(nw_inquire(&inquiry, NULL, &results, NULL));
    while (!results.findings->len && inquiry.seconds < 30) {
        nw_search_results_clear(&results);
        inquiry.seconds *= 2;
        ck_assert(nw_inquire(&inquiry, NULL, &results, NULL));
    }
    ck_assert_int_eq(results.progress.state, NW_SEARCH_STOPPED);
    ck_assert_uint_gt(results.findings->len, 0);
    NwTally tally = nw_tally_of_search(&results.progress);
    ck_assert(!tally.complete);
    ck_assert_uint_eq(tally.opening + tally.unreachable + tally.undecided, results.findings->len);
    nw_search_results_clear(&results);
}
END_TEST

START_TEST(what_cannot_be_searched_is_told) {
    NwSearchResults results;
    g_autoptr(GError) missing = NULL, empty = NULL;
    const NwInquiry nowhere = {.design = design, .store = store_file("no.notch")};
    ck_assert(!nw_inquire(&nowhere, NULL, &results, &missing));
    ck_assert(g_error_matches(missing, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_NOT_FOUND));
    NwDesign *nothing = nw_design_new("nothing");
    const NwInquiry of_nothing = {.design = nothing};
    ck_assert(!nw_inquire(&of_nothing, NULL, &results, &empty));
    ck_assert(g_error_matches(empty, NW_SEARCH_ERROR, NW_SEARCH_ERROR_DESIGN));
    nw_design_free(nothing);
}
END_TEST

/* ---- stores that can only be read --------------------------------------------------------- */

static void pursue(NwLibraryMode mode, NwSearchResults *results) {
    const NwSearchRunGoal goal = {
        .design = design, .library = nw_library_open(path, mode, NULL), .version = version};
    g_autoptr(GError) error = NULL;
    GPtrArray *batch;
    nw_search_results_init(results);
    NwSearchRun *run = nw_search_run_begin(&goal, results, &error);
    ck_assert_msg(run != NULL, "%s", error ? error->message : "no error");
    do {
        ck_assert(nw_search_run_step(run, &batch, NULL));
        nw_search_results_keep(results, batch);
        g_ptr_array_unref(batch);
    } while (!nw_search_run_is_over(run));
    ck_assert(nw_search_run_end(run, &batch, NULL));
    nw_search_results_keep(results, batch);
    g_ptr_array_unref(batch);
    nw_search_run_free(run);
    nw_library_close(goal.library);
    nw_search_results_sort(results);
}

START_TEST(a_store_for_reading_is_read_and_left_alone) {
    NwSearchResults results;
    for (int filled = 0; filled < 2; filled++) {
        g_autofree char *before = store_snapshot();
        pursue(NW_LIBRARY_READ_ONLY, &results);
        ck_assert_int_eq(results.from_store, filled);
        assert_found_all(&results);
        nw_search_results_clear(&results);
        g_autofree char *after = store_snapshot();
        ck_assert_str_eq(before, after);
        pursue(NW_LIBRARY_READ_WRITE, &results);
        nw_search_results_clear(&results);
    }
}
END_TEST

/* ---- the answer --------------------------------------------------------------------------- */

START_TEST(the_answer_is_the_first_that_opens) {
    static const struct {
        NwVerdict verdict;
        bool intended;
        gboolean has_intended, answer;
    } rows[] = {{NW_OPENS, TRUE, TRUE, TRUE},        {NW_OPENS, FALSE, TRUE, FALSE},
                {NW_OPENS, FALSE, FALSE, TRUE},      {NW_UNREACHABLE, TRUE, TRUE, FALSE},
                {NW_UNDECIDED, FALSE, FALSE, FALSE}, {NW_UNEXAMINED, FALSE, FALSE, FALSE}};
    g_autoptr(GPtrArray) findings = g_ptr_array_new();
    ck_assert_ptr_null(nw_search_results_answer_of(findings, FALSE));
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        NwFoundAssembly finding = {.verdict = rows[i].verdict, .intended = rows[i].intended};
        g_ptr_array_set_size(findings, 0);
        g_ptr_array_add(findings, &finding);
        ck_assert_ptr_eq(nw_search_results_answer_of(findings, rows[i].has_intended),
                         rows[i].answer ? &finding : NULL);
    }
}
END_TEST

/* ---- the words of a table ----------------------------------------------------------------- */

/* Letters stand side by side; a name of more, or a copy that is numbered, is set apart. */
START_TEST(a_table_names_bodies_briefly) {
    static const struct {
        guint32 bodies;
        const char *text;
    } rows[] = {{0x0, ""}, {0x1, "A"}, {0x3, "AÄ"}, {0x5, "A, Lid"}, {0x19, "A, D (1), D (2)"}};
    NwDesign *named = nw_design_new("Named");
    nw_design_take_piece(named, "A", nw_solid_new());
    nw_design_take_piece(named, "Ä", nw_solid_new());
    nw_design_take_piece(named, "Lid", nw_solid_new());
    named->pieces[nw_design_take_piece(named, "D", nw_solid_new())].copies = 2;
    NwPlacement placements[5] = {
        {.piece = 0}, {.piece = 1}, {.piece = 2}, {.piece = 3}, {.piece = 3}};
    NwFoundAssembly finding = {.placement_count = 5, .placements = placements};
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *text = nw_words_bodies_short(named, &finding, rows[i].bodies);
        ck_assert_str_eq(text, rows[i].text);
    }
    nw_design_free(named);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("inquiry");
    TCase *group = tcase_create("inquiry");
    tcase_set_timeout(group, 120);
    tcase_add_checked_fixture(group, set_up, tear_down);
    tcase_add_test(group, everything_is_found_with_a_store_and_without);
    tcase_add_test(group, one_that_was_stopped_goes_on_from_the_store);
    tcase_add_test(group, it_stops_in_the_middle);
    tcase_add_test(group, seconds_end_it_with_what_there_is);
    tcase_add_test(group, what_cannot_be_searched_is_told);
    tcase_add_test(group, a_store_for_reading_is_read_and_left_alone);
    tcase_add_test(group, the_answer_is_the_first_that_opens);
    tcase_add_test(group, a_table_names_bodies_briefly);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
