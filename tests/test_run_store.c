/* A search tied to its run in a store: killed again and again, it ends up with the same findings.
 */
#include <check.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#include "bench/instances.h"
#include "job/run_store.h"
#include "job_fixture.h"
#include "plain/random_design.h"
#include "store/statement.h"
#include "store_fixture.h"
#include "suite.h"

static gint64 version;
static NwDesign *design;
static const char *path;

static NwLibrary *open_store(NwLibraryMode mode) {
    g_autoptr(GError) error = NULL;
    NwLibrary *library = nw_library_open(path, mode, &error);
    ck_assert_msg(library != NULL, "%s", error ? error->message : "no error");
    return library;
}

static void set_up(void) {
    store_folder_make();
    path = store_file("a.notch");
    design = nw_instance_build(nw_instance_find("soma"));
    design->mirrors_together = false; /* 480 assemblies */
    NwLibrary *library = open_store(NW_LIBRARY_CREATE);
    ck_assert(nw_library_add_design(library, design, NULL, NULL, &version, NULL));
    nw_library_close(library);
}

static void tear_down(void) {
    nw_design_free(design);
    store_folder_remove();
}

static NwRunStore *open_record(NwLibrary *library, const NwSearchOptions *options) {
    g_autoptr(GError) error = NULL;
    NwRunStore *record = nw_run_store_open(library, version, options, &error);
    ck_assert_msg(record != NULL, "%s", error ? error->message : "no error");
    return record;
}

static NwSearch *open_search(const NwRunStore *record, const NwSearchOptions *options) {
    g_autoptr(GError) error = NULL;
    NwSearch *search = nw_search_new(design, options, nw_run_store_run(record)->resume, &error);
    ck_assert_msg(search != NULL, "%s", error ? error->message : "no error");
    return search;
}

/* Goes on with the run until it is complete, saving every few milliseconds. */
static void go_on(const NwSearchOptions *options, int pause_us) {
    NwLibrary *library = open_store(NW_LIBRARY_READ_WRITE);
    NwRunStore *record = open_record(library, options);
    NwSearch *search = open_search(record, options);
    NwSearchProgress progress;
    nw_search_start(search);
    do {
        GPtrArray *batch = NULL;
        g_autoptr(GError) error = NULL;
        g_usleep((gulong)pause_us);
        nw_search_progress(search, &progress);
        gboolean saved = nw_run_store_save(record, search, &batch, &error);
        ck_assert_msg(saved, "%s", error ? error->message : "no error");
        g_ptr_array_unref(batch);
    } while (progress.state == NW_SEARCH_RUNNING);
    nw_search_free(search);
    nw_run_store_free(record);
    nw_library_close(library);
}

/* The findings that the store has; *state is how it says that the run stands. */
static GArray *stored_facts(const NwSearchOptions *options, NwRunState *state) {
    NwLibrary *library = open_store(NW_LIBRARY_READ_WRITE);
    NwRunStore *record = open_record(library, options);
    NwSearch *search = open_search(record, options);
    g_autoptr(GError) error = NULL;
    GPtrArray *findings = nw_run_store_load(record, search, &error);
    ck_assert_msg(findings != NULL, "%s", error ? error->message : "no error");
    GArray *facts = job_facts_new();
    ck_assert_int_eq(nw_run_store_run(record)->found, findings->len);
    job_gather(facts, design, findings);
    *state = nw_run_store_run(record)->state;
    nw_search_free(search);
    nw_run_store_free(record);
    nw_library_close(library);
    return facts;
}

static void begin_anew(const NwSearchOptions *options) {
    NwLibrary *library = open_store(NW_LIBRARY_READ_WRITE);
    NwRunStore *record = open_record(library, options);
    ck_assert(nw_run_store_restart(record, NULL));
    ck_assert_int_eq(nw_run_store_run(record)->state, NW_RUN_OPEN);
    ck_assert_int_eq(nw_run_store_run(record)->found, 0);
    nw_run_store_free(record);
    nw_library_close(library);
}

static void assert_complete(const NwSearchOptions *options, const GArray *expected) {
    NwRunState state;
    g_autoptr(GArray) facts = stored_facts(options, &state);
    ck_assert_int_eq(state, NW_RUN_COMPLETE);
    job_assert_same(facts, expected, FALSE);
}

START_TEST(a_run_keeps_what_was_found) {
    NwSearchOptions options = {.threads = 2};
    g_autoptr(GArray) expected = job_expected(design, &options);
    go_on(&options, 2000);
    assert_complete(&options, expected);
    go_on(&options, 2000); /* again: nothing is added, nothing lost */
    assert_complete(&options, expected);
}
END_TEST

/* Children are killed at random moments, wherever they are: in the search, in a save. `took` is the
 * time, in microseconds, that a child takes when it is left alone. Returns how many were killed;
 * adds to *halfway those that left some findings, but not all. */
static int kill_until_complete(const NwSearchOptions *options, const GArray *expected,
                               NwRandom *random, int took, int *halfway) {
    int kills = 0;
    guint before = 0;
    for (int longest = took;; longest += took / 8) {
        pid_t child = fork();
        ck_assert_int_ge(child, 0);
        if (!child) {
            go_on(options, 1000);
            _exit(0);
        }
        g_usleep((gulong)nw_random_below(random, longest));
        kill(child, SIGKILL);
        int status;
        ck_assert_int_eq(waitpid(child, &status, 0), child);
        if (WIFEXITED(status))
            ck_assert_int_eq(WEXITSTATUS(status), 0);
        kills += WIFSIGNALED(status);
        NwRunState state;
        g_autoptr(GArray) facts = stored_facts(options, &state);
        ck_assert_uint_ge(facts->len, before); /* what was saved stays */
        ck_assert_uint_le(facts->len, expected->len);
        *halfway += facts->len > before && facts->len < expected->len;
        before = facts->len;
        if (state == NW_RUN_COMPLETE)
            return kills;
        ck_assert_int_lt(kills, 500);
    }
}

START_TEST(killed_searches_go_on_from_their_last_save) {
    NwRandom random = {(uint64_t)_i};
    NwSearchOptions options = {.threads = 1 + _i, .fit_only = _i == 2};
    g_autoptr(GArray) expected = job_expected(design, &options);
    gint64 start = g_get_monotonic_time();
    go_on(&options, 1000);
    int took = (int)(g_get_monotonic_time() - start), kills = 0, halfway = 0;
    /* Where a kill falls is a matter of the machine's mood: go on until one has hit the middle, and
     * some have hit at all. */
    for (int round = 0; round < 8 || ((!halfway || kills <= 5) && round < 40); round++) {
        begin_anew(&options);
        kills += kill_until_complete(&options, expected, &random, took, &halfway);
        assert_complete(&options, expected);
    }
    ck_assert_int_gt(kills, 5);
}
END_TEST

/* Stopped in good order at random moments, with any number of threads each time. */
START_TEST(stopped_searches_go_on_from_the_store) {
    NwRandom random = {77};
    NwSearchOptions options = {0};
    g_autoptr(GArray) expected = job_expected(design, &options);
    NwSearchState state = NW_SEARCH_STOPPED;
    int sessions = 0;
    while (state != NW_SEARCH_COMPLETE) {
        options.threads = 1 + nw_random_below(&random, 4);
        NwLibrary *library = open_store(NW_LIBRARY_READ_WRITE);
        NwRunStore *record = open_record(library, &options);
        NwSearch *search = open_search(record, &options);
        nw_search_start(search);
        g_usleep((gulong)nw_random_below(&random, 8000));
        nw_search_stop(search);
        GPtrArray *batch;
        ck_assert(nw_run_store_save(record, search, &batch, NULL));
        g_ptr_array_unref(batch);
        NwSearchProgress progress;
        nw_search_progress(search, &progress);
        state = progress.state;
        nw_search_free(search);
        nw_run_store_free(record);
        nw_library_close(library);
        sessions++;
        ck_assert_int_lt(sessions, 5000);
    }
    assert_complete(&options, expected);
    ck_assert_int_gt(sessions, 1);
}
END_TEST

/* Options that bear on the result make runs of their own; threads and limits do not. */
START_TEST(runs_belong_to_their_options) {
    static const NwSearchOptions rows[] = {
        {.threads = 1},    {.fit_only = TRUE},         {.diagonals = TRUE},
        {.max_states = 9}, {.threads = 5, .limit = 3}, {.max_states = NW_STATES_DEFAULT}};
    static const int same_as_first[] = {1, 0, 0, 0, 1, 1};
    NwLibrary *library = open_store(NW_LIBRARY_READ_WRITE);
    gint64 first = 0;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        NwRunStore *record = open_record(library, &rows[i]);
        gint64 id = nw_run_store_run(record)->id;
        first = first ? first : id;
        ck_assert_int_eq(id == first, same_as_first[i]);
        nw_run_store_free(record);
    }
    nw_library_close(library);
}
END_TEST

/* A search that saves where it stands over what another one has found and saved. */
START_TEST(what_another_search_found_is_found_once) {
    const NwSearchOptions options = {.threads = 1};
    g_autoptr(GArray) expected = job_expected(design, &options);
    NwLibrary *library = open_store(NW_LIBRARY_READ_WRITE);
    NwRunStore *slow = open_record(library, &options), *quick = open_record(library, &options);
    NwSearch *behind = open_search(slow, &options), *ahead = open_search(quick, &options);
    GPtrArray *batch;
    nw_search_start(ahead);
    NwSearchProgress progress;
    do {
        g_usleep(1000);
        nw_search_progress(ahead, &progress);
        ck_assert(nw_run_store_save(quick, ahead, &batch, NULL));
        g_ptr_array_unref(batch);
    } while (progress.state == NW_SEARCH_RUNNING && !progress.verdicts[NW_OPENS]);
    nw_search_free(ahead);
    ck_assert(nw_run_store_save(slow, behind, &batch, NULL));
    g_ptr_array_unref(batch);
    nw_search_free(behind);
    nw_run_store_free(slow);
    nw_run_store_free(quick);

    NwRunStore *record = open_record(library, &options);
    ck_assert_int_eq(nw_run_store_run(record)->state, NW_RUN_OPEN);
    ck_assert_int_gt(nw_run_store_run(record)->found, 0);
    NwSearch *search = open_search(record, &options);
    GPtrArray *findings = nw_run_store_load(record, search, NULL);
    nw_search_start(search);
    do {
        g_usleep(1000);
        nw_search_progress(search, &progress);
        ck_assert(nw_run_store_save(record, search, &batch, NULL));
        for (guint i = 0; i < batch->len; i++)
            g_ptr_array_add(findings, g_steal_pointer(&batch->pdata[i]));
        g_ptr_array_unref(batch);
    } while (progress.state == NW_SEARCH_RUNNING);
    g_autoptr(GArray) facts = job_facts_new();
    job_gather(facts, design, findings);
    job_assert_same(facts, expected, FALSE);
    nw_search_free(search);
    nw_run_store_free(record);
    nw_library_close(library);
    assert_complete(&options, expected);
}
END_TEST

/* The position of a later save is behind what an earlier one could not write. */
START_TEST(what_a_save_could_not_write_is_not_lost) {
    const NwSearchOptions options = {.threads = 1};
    g_autoptr(GArray) expected = job_expected(design, &options);
    NwLibrary *library = open_store(NW_LIBRARY_READ_WRITE);
    NwRunStore *record = open_record(library, &options);
    NwSearch *search = open_search(record, &options);
    NwSearchProgress progress;
    GPtrArray *batch;
    g_autoptr(GError) error = NULL;
    ck_assert(nw_library_run(library,
                             "CREATE TEMP TRIGGER full BEFORE INSERT ON assembly "
                             "BEGIN SELECT raise(ABORT, 'full'); END",
                             NULL));
    nw_search_start(search);
    do {
        g_usleep(1000);
        nw_search_progress(search, &progress);
    } while (progress.state == NW_SEARCH_RUNNING && !progress.verdicts[NW_OPENS]);
    ck_assert(!nw_run_store_save(record, search, &batch, &error));
    ck_assert_ptr_nonnull(error);
    ck_assert_uint_gt(batch->len, 0); /* it is shown all the same */
    g_ptr_array_unref(batch);
    ck_assert(nw_library_run(library, "DROP TRIGGER full", NULL));
    do {
        g_usleep(1000);
        nw_search_progress(search, &progress);
        ck_assert(nw_run_store_save(record, search, &batch, NULL));
        g_ptr_array_unref(batch);
    } while (progress.state == NW_SEARCH_RUNNING);
    nw_search_free(search);
    nw_run_store_free(record);
    nw_library_close(library);
    assert_complete(&options, expected);
}
END_TEST

START_TEST(a_run_can_be_begun_anew) {
    NwSearchOptions options = {.threads = 2};
    go_on(&options, 5000);
    begin_anew(&options);
    g_autoptr(GArray) expected = job_expected(design, &options);
    go_on(&options, 5000);
    assert_complete(&options, expected);
}
END_TEST

static double seconds_of(NwSearch *search) {
    NwSearchProgress progress;
    nw_search_progress(search, &progress);
    return progress.seconds;
}

/* What a search took is its time, not its age: neither that of the session nor of the store. */
START_TEST(what_it_took_does_not_grow) {
    const NwSearchOptions options = {.threads = 1};
    NwLibrary *library = open_store(NW_LIBRARY_READ_WRITE);
    NwRunStore *record = open_record(library, &options);
    NwSearch *search = open_search(record, &options);
    NwSearchProgress progress;
    nw_search_start(search);
    do {
        g_usleep(500);
        nw_search_progress(search, &progress);
    } while (progress.state == NW_SEARCH_RUNNING);
    double took = seconds_of(search);
    ck_assert_double_gt(took, 0);
    for (int session = 0; session < 3; session++) {
        g_usleep(100000);
        ck_assert_double_eq(seconds_of(search), took);
        nw_search_stop(search);
        GPtrArray *batch;
        ck_assert(nw_run_store_save(record, search, &batch, NULL));
        g_ptr_array_unref(batch);
        nw_search_free(search);
        nw_run_store_free(record);
        record = open_record(library, &options);
        search = nw_run_store_new_search(record, design, &options, NULL);
        g_ptr_array_unref(nw_run_store_load(record, search, NULL));
        ck_assert(nw_run_store_recall(record, search));
        nw_search_start(search);
    }
    nw_search_free(search);
    nw_run_store_free(record);
    nw_library_close(library);
}
END_TEST

START_TEST(a_store_for_reading_gets_no_new_run) {
    NwSearchOptions options = {.threads = 1};
    g_autofree char *before = store_snapshot();
    NwLibrary *library = open_store(NW_LIBRARY_READ_ONLY);
    g_autoptr(GError) error = NULL;
    ck_assert_ptr_null(nw_run_store_open(library, version, &options, &error));
    ck_assert_ptr_null(error);
    nw_library_close(library);
    g_autofree char *after = store_snapshot();
    ck_assert_str_eq(before, after);
    go_on(&options, 5000);
    library = open_store(NW_LIBRARY_READ_ONLY);
    NwRunStore *record = open_record(library, &options);
    ck_assert_int_eq(nw_run_store_run(record)->state, NW_RUN_COMPLETE);
    nw_run_store_free(record);
    nw_library_close(library);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("run-store");
    TCase *group = tcase_create("record");
    tcase_set_timeout(group, 600);
    tcase_add_checked_fixture(group, set_up, tear_down);
    tcase_add_test(group, a_run_keeps_what_was_found);
    tcase_add_loop_test(group, killed_searches_go_on_from_their_last_save, 0, 3);
    tcase_add_test(group, stopped_searches_go_on_from_the_store);
    tcase_add_test(group, runs_belong_to_their_options);
    tcase_add_test(group, what_another_search_found_is_found_once);
    tcase_add_test(group, what_a_save_could_not_write_is_not_lost);
    tcase_add_test(group, a_run_can_be_begun_anew);
    tcase_add_test(group, what_it_took_does_not_grow);
    tcase_add_test(group, a_store_for_reading_gets_no_new_run);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
