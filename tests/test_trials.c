/* Trials in the store, their table, what they are plotted against, and the verb. The arguments are
 * the notch program, the folder of the fixtures, and that of the bundled designs. */
#include <check.h>
#include <gio/gio.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "format/design_json.h"
#include "measure/measuring.h"
#include "measure/times.h"
#include "store/history.h"
#include "store/schema.h"
#include "store/statement.h"
#include "store/trials.h"
#include "store_fixture.h"
#include "suite.h"
#include "text/trial_words.h"

static const char *program, *fixtures, *design_folder;
static NwLibrary *library;
static gint64 design_id, version_id;

static void set_up(void) {
    store_folder_make();
    g_autoptr(GError) error = NULL;
    library = nw_library_open(store_file("trials.notch"), NW_LIBRARY_CREATE, &error);
    ck_assert_msg(library != NULL, "%s", error ? error->message : "no error");
    NwDesign *design = store_sample("One", 1);
    ck_assert(nw_library_add_design(library, design, NULL, &design_id, &version_id, NULL));
    nw_design_free(design);
}

static void tear_down(void) {
    nw_library_close(library);
    store_folder_remove();
}

static NwStoredTrial sample(void) {
    return (NwStoredTrial){.design = design_id,
                           .who = (char *)"Ann \xc3\xa9",
                           .remark = (char *)"sat \"still\", then\nran",
                           .tried = 1772375400,
                           .colours = TRUE,
                           .minutes = 12.5};
}

static gint64 must_add(const NwStoredTrial *trial) {
    g_autoptr(GError) error = NULL;
    gint64 id = 0;
    ck_assert_msg(nw_library_add_trial(library, trial, &id, &error), "%s",
                  error ? error->message : "no error");
    ck_assert_int_gt(id, 0);
    return id;
}

static GPtrArray *must_list(gint64 design) {
    g_autoptr(GError) error = NULL;
    GPtrArray *list = nw_library_list_trials(library, design, &error);
    ck_assert_msg(list != NULL, "%s", error ? error->message : "no error");
    return list;
}

static void assert_same(const NwStoredTrial *a, const NwStoredTrial *b) {
    ck_assert_int_eq(a->design, b->design);
    ck_assert_str_eq(a->who, b->who);
    ck_assert_str_eq(a->remark, b->remark);
    ck_assert_int_eq(a->tried, b->tried);
    ck_assert_int_eq(a->colours, b->colours);
    ck_assert_int_eq(a->gave_up, b->gave_up);
    ck_assert_double_eq(a->minutes, b->minutes);
}

START_TEST(what_is_noted_is_read_back) {
    NwStoredTrial one = sample(), two = sample();
    two.tried -= 10;
    two.gave_up = TRUE;
    two.colours = FALSE;
    two.minutes = 0;
    gint64 first = must_add(&one), second = must_add(&two);
    g_autoptr(GPtrArray) list = must_list(design_id);
    ck_assert_uint_eq(list->len, 2);
    const NwStoredTrial *earlier = list->pdata[0], *later = list->pdata[1];
    ck_assert_int_eq(earlier->id, second); /* by time, not by number */
    ck_assert_int_eq(later->id, first);
    assert_same(earlier, &two);
    assert_same(later, &one);
    ck_assert_int_eq(later->version, version_id);
    ck_assert_str_eq(later->design_name, "One");

    two.id = second;
    two.who = (char *)"";
    two.minutes = 90;
    ck_assert(nw_library_edit_trial(library, &two, NULL));
    g_autoptr(NwStoredTrial) edited = nw_library_load_trial(library, second, NULL);
    assert_same(edited, &two);
    ck_assert(nw_library_remove_trial(library, first, NULL));
    g_autoptr(GPtrArray) rest = must_list(0);
    ck_assert_uint_eq(rest->len, 1);
    g_autoptr(GPtrArray) none = must_list(design_id + 1);
    ck_assert_uint_eq(none->len, 0);
}
END_TEST

static void assert_refused(NwStoredTrial trial, NwLibraryError code) {
    g_autoptr(GError) error = NULL;
    ck_assert(!nw_library_add_trial(library, &trial, NULL, &error));
    ck_assert_msg(g_error_matches(error, NW_LIBRARY_ERROR, (int)code), "%s", error->message);
    ck_assert_ptr_nonnull(strchr(error->message, ';'));
}

START_TEST(what_makes_no_sense_is_refused) {
    NwStoredTrial trial = sample();
    trial.minutes = 0;
    assert_refused(trial, NW_LIBRARY_ERROR_UNFIT);
    trial.minutes = -1;
    assert_refused(trial, NW_LIBRARY_ERROR_UNFIT);
    trial.minutes = NAN;
    assert_refused(trial, NW_LIBRARY_ERROR_UNFIT);
    trial.minutes = INFINITY;
    assert_refused(trial, NW_LIBRARY_ERROR_UNFIT);
    trial = sample();
    trial.who = (char *)"\xff";
    assert_refused(trial, NW_LIBRARY_ERROR_UNFIT);
    trial = sample();
    trial.design += 1;
    assert_refused(trial, NW_LIBRARY_ERROR_GONE);
    trial = sample();
    trial.version = version_id + 1;
    assert_refused(trial, NW_LIBRARY_ERROR_GONE);

    NwDesign *other = store_sample("Two", 2); /* a version, but of another design */
    ck_assert(nw_library_add_design(library, other, NULL, NULL, &trial.version, NULL));
    nw_design_free(other);
    assert_refused(trial, NW_LIBRARY_ERROR_GONE);

    g_autoptr(GError) error = NULL;
    trial = sample();
    trial.id = 99;
    ck_assert(!nw_library_edit_trial(library, &trial, &error));
    ck_assert(g_error_matches(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_GONE));
    g_clear_error(&error);
    ck_assert(!nw_library_remove_trial(library, 99, &error));
    ck_assert(g_error_matches(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_GONE));
    g_clear_error(&error);
    ck_assert_ptr_null(nw_library_load_trial(library, 99, &error));
    ck_assert(g_error_matches(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_GONE));
    g_autoptr(GPtrArray) none = must_list(0);
    ck_assert_uint_eq(none->len, 0);
}
END_TEST

START_TEST(a_trial_outlives_its_version_and_goes_with_its_design) {
    NwStoredTrial trial = sample();
    must_add(&trial);
    for (int i = 2; i < 8; i++) {
        NwDesign *design = store_sample("One", i);
        ck_assert(nw_library_save_edit(library, design_id, design, "edit", NULL, NULL));
        nw_design_free(design);
    }
    int removed = 0;
    ck_assert(nw_library_prune(library, design_id, 1, &removed, NULL));
    ck_assert_int_gt(removed, 0);
    g_autoptr(GPtrArray) list = must_list(design_id);
    ck_assert_uint_eq(list->len, 1);
    const NwStoredTrial *kept = list->pdata[0];
    ck_assert_int_eq(kept->version, 0);
    ck_assert_str_eq(kept->who, trial.who);
    ck_assert(nw_library_remove_design(library, design_id, NULL));
    g_autoptr(GPtrArray) none = must_list(0);
    ck_assert_uint_eq(none->len, 0);
}
END_TEST

START_TEST(the_table_can_be_read_by_others) {
    NwStoredTrial trial = sample();
    must_add(&trial);
    trial.tried++;
    trial.who = (char *)"=1+1";
    trial.remark = (char *)"";
    trial.gave_up = TRUE;
    trial.minutes = 0;
    trial.colours = FALSE;
    must_add(&trial);
    g_autoptr(GPtrArray) list = must_list(0);
    g_autofree char *csv = nw_stored_trials_to_csv(list);
    ck_assert_str_eq(csv, "number,design,version,who,tried,colours,gave_up,minutes,remark\r\n"
                          "1,\"One\",1,\"Ann \xc3\xa9\",2026-03-01T14:30:00Z,yes,no,12.5,"
                          "\"sat \"\"still\"\", then\nran\"\r\n"
                          "2,\"One\",1,\"'=1+1\",2026-03-01T14:30:01Z,no,yes,,\"\"\r\n");
}
END_TEST

/* A store of version 1 gets the table when it is opened. */
START_TEST(an_old_store_learns_of_trials) {
    g_autofree char *from = g_build_filename(fixtures, "store-1.notch", NULL), *bytes = NULL;
    gsize size;
    ck_assert(g_file_get_contents(from, &bytes, &size, NULL));
    const char *path = store_file("old.notch");
    ck_assert(g_file_set_contents(path, bytes, (gssize)size, NULL));
    g_autoptr(GError) error = NULL;
    NwLibrary *old = nw_library_open(path, NW_LIBRARY_READ_WRITE, &error);
    ck_assert_msg(old != NULL, "%s", error ? error->message : "no error");
    gint64 version = 0;
    ck_assert(nw_library_ask(old, "PRAGMA user_version", nw_null(), 0, &version, NULL));
    ck_assert_int_eq(version, nw_schema.count);
    g_autoptr(GPtrArray) designs = nw_library_list_designs(old, NULL);
    ck_assert_uint_gt(designs->len, 0);
    NwStoredTrial trial = sample();
    trial.design = ((const NwDesignEntry *)designs->pdata[0])->id;
    ck_assert(nw_library_add_trial(old, &trial, NULL, NULL));
    g_autoptr(GPtrArray) list = nw_library_list_trials(old, trial.design, NULL);
    ck_assert_uint_eq(list->len, 1);
    nw_library_close(old);
}
END_TEST

/* ---- words and times ---------------------------------------------------------------------- */

START_TEST(times_are_read_as_they_are_told) {
    static const char *const good[] = {"2026-03-01 14:30", "2026-03-01T14:30", " 2026-03-01 14:30 ",
                                       "2026-03-01T14:30:00"};
    static const char *const bad[] = {"",           "yesterday", "2026-03",
                                      "2026-02-30", "14:30",     "2026-03-01 25:00"};
    gint64 tried;
    for (gsize i = 0; i < G_N_ELEMENTS(good); i++) {
        tried = 0;
        ck_assert_msg(nw_trial_words_read_time(good[i], &tried, NULL), "%s", good[i]);
        g_autofree char *told = nw_trial_words_time(tried);
        ck_assert_str_eq(told, "2026-03-01 14:30");
    }
    ck_assert(nw_trial_words_read_time("2026-03-01", &tried, NULL));
    g_autofree char *noon = nw_trial_words_time(tried);
    ck_assert_str_eq(noon, "2026-03-01 12:00");
    for (gsize i = 0; i < G_N_ELEMENTS(bad); i++) {
        g_autoptr(GError) error = NULL;
        tried = 7;
        ck_assert_msg(!nw_trial_words_read_time(bad[i], &tried, &error), "%s", bad[i]);
        ck_assert_int_eq(tried, 7);
        ck_assert_ptr_nonnull(strstr(error->message, "write 2026-03-01 or"));
    }
}
END_TEST

START_TEST(an_end_is_told_in_words) {
    NwStoredTrial trial = sample();
    g_autofree char *solved = nw_trial_words_result(&trial);
    ck_assert_str_eq(solved, "12.5 min");
    trial.gave_up = TRUE;
    g_autofree char *after = nw_trial_words_result(&trial);
    ck_assert_str_eq(after, "gave up, 12.5 min");
    trial.minutes = 0;
    g_autofree char *plain = nw_trial_words_result(&trial);
    ck_assert_str_eq(plain, "gave up");
}
END_TEST

/* Design 1 has ten slides, design 2 is not measured, design 3 has no way out. */
static const NwMeasures *measures_of(const NwStoredTrial *trial, gpointer data) {
    NwMeasures *measures = data;
    return trial->design == 2 ? NULL : &measures[trial->design == 3];
}

START_TEST(dots_are_trials_with_minutes_and_a_measure) {
    NwMeasures measures[2] = {{.has_way = TRUE, .total = 10}, {.has_way = FALSE}};
    static const struct {
        gint64 design;
        const char *name;
        double minutes;
    } rows[] = {{1, "One", 4}, {1, "One", 0},   {2, "Two", 5},
                {2, "Two", 6}, {3, "Three", 7}, {1, "One", 2.5}};
    g_autoptr(GPtrArray) trials =
        g_ptr_array_new_with_free_func((GDestroyNotify)nw_stored_trial_free);
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        NwStoredTrial *trial = g_new0(NwStoredTrial, 1);
        trial->design = rows[i].design;
        trial->design_name = g_strdup(rows[i].name);
        trial->minutes = rows[i].minutes;
        trial->gave_up = rows[i].minutes != 4;
        g_ptr_array_add(trials, trial);
    }
    NwTimes times;
    nw_times_init(&times, trials, NW_MEASURE_TOTAL, measures_of, measures);
    ck_assert_uint_eq(times.dots->len, 2);
    ck_assert_uint_eq(times.untimed, 1);
    ck_assert_uint_eq(times.unmeasured, 3);
    ck_assert_uint_eq(times.unmeasured_designs, 2);
    const NwChartDot *dots = (const NwChartDot *)times.dots->data;
    ck_assert(dots[0].value == 10 && dots[0].minutes == 4 && !dots[0].gave_up);
    ck_assert(dots[1].value == 10 && dots[1].minutes == 2.5 && dots[1].gave_up);
    g_autofree char *words = nw_times_dup_words(&times);
    ck_assert_str_eq(words, "2 dots. One (10): 2 trials, 2.5 to 4 minutes.");
    nw_times_clear(&times);
    nw_times_init(&times, trials, NW_MEASURE_BLIND, measures_of, measures);
    ck_assert_uint_eq(times.dots->len, 0);
    ck_assert_uint_eq(times.unmeasured_designs, 3);
    nw_times_clear(&times);
}
END_TEST

/* ---- measuring from the store -------------------------------------------------------------- */

static gint64 add_bundled(const char *name) {
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_strdup_printf("%s/%s.json", design_folder, name);
    NwDesign *design = nw_design_load(path, &error);
    ck_assert_msg(design != NULL, "%s", error ? error->message : "no error");
    gint64 version;
    ck_assert(nw_library_add_design(library, design, NULL, NULL, &version, NULL));
    nw_design_free(design);
    return version;
}

static void search_in_store(const char *design) {
    g_autofree char *line = g_strdup_printf("'%s' fit '%s' --store '%s'", program, design,
                                            nw_library_get_path(library));
    int status = 1;
    ck_assert(g_spawn_command_line_sync(line, NULL, NULL, &status, NULL));
    ck_assert_int_eq(status, 0);
}

/* The figures are those that data/designs/README.md gives; nothing is searched for them. */
START_TEST(a_complete_search_in_the_store_is_measured) {
    const NwMeasuring measuring = {.dives = 100, .seed = NW_MEASURE_SEED};
    const char *path = nw_library_get_path(library);
    gint64 version = add_bundled("ember-lantern-chipped");
    NwMeasures measures;
    g_autoptr(GError) error = NULL;
    ck_assert(!nw_measuring_from_store(&measuring, path, version, NULL, &measures, &error));
    ck_assert_msg(g_error_matches(error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND), "%s", error->message);
    g_clear_error(&error);
    search_in_store("Ember Lantern, chipped");
    ck_assert_msg(nw_measuring_from_store(&measuring, path, version, NULL, &measures, &error), "%s",
                  error ? error->message : "no error");
    ck_assert(measures.tally.complete);
    ck_assert_uint_eq(measures.tally.fitting, 4);
    ck_assert_uint_eq(measures.tally.opening, 2);
    ck_assert_uint_eq(measures.tally.unreachable, 2);
    ck_assert_int_eq(measures.levels.slides[0], 4);
    ck_assert_int_eq(measures.total, 10);
    ck_assert_uint_eq(measures.blind.dives, 100);

    /* Slides along diagonals are another search. */
    const NwMeasuring other = {.diagonals = TRUE};
    ck_assert(!nw_measuring_from_store(&other, path, version, NULL, &measures, &error));
    ck_assert(g_error_matches(error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND));
    g_clear_error(&error);
    NwProgress *progress = nw_progress_new();
    nw_progress_stop(progress);
    ck_assert(!nw_measuring_from_store(&measuring, path, version, progress, &measures, &error));
    ck_assert(g_error_matches(error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
    g_clear_error(&error);
    nw_progress_free(progress);
    ck_assert(!nw_measuring_from_store(&measuring, path, version + 9, NULL, &measures, &error));
}
END_TEST

/* ---- the verb ----------------------------------------------------------------------------- */

/* Runs it on the store of the test; returns standard output and error as one text. */
static char *notch(int wanted, const char *words) {
    g_autofree char *line =
        g_strdup_printf("'%s' trial %s --store '%s'", program, words, nw_library_get_path(library));
    g_auto(GStrv) argv = NULL;
    ck_assert(g_shell_parse_argv(line, NULL, &argv, NULL));
    g_autoptr(GSubprocessLauncher) launcher =
        g_subprocess_launcher_new(G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDERR_MERGE);
    g_subprocess_launcher_setenv(launcher, "LC_ALL", "C.UTF-8", TRUE);
    g_subprocess_launcher_setenv(launcher, "TZ", "UTC", TRUE);
    g_subprocess_launcher_set_cwd(launcher, store_folder);
    g_autoptr(GError) error = NULL;
    g_autoptr(GSubprocess) process =
        g_subprocess_launcher_spawnv(launcher, (const char *const *)argv, &error);
    ck_assert_msg(process != NULL, "%s", error ? error->message : "no error");
    char *out = NULL;
    ck_assert(g_subprocess_communicate_utf8(process, NULL, NULL, &out, NULL, NULL));
    ck_assert(g_subprocess_get_if_exited(process));
    ck_assert_ptr_nonnull(out);
    ck_assert_msg(g_subprocess_get_exit_status(process) == wanted, "%s: %s", words, out);
    return out;
}

static void expect(int wanted, const char *words, const char *said) {
    g_autofree char *out = notch(wanted, words);
    ck_assert_msg(strstr(out, said) != NULL, "%s: %s", words, out);
}

START_TEST(the_verb_keeps_the_log) {
    expect(0, "", "No trials yet");
    expect(0, "add One --who 'Ann B' --minutes 12.5 --when '2026-03-01 14:30' --remark 'a, b'",
           "trial 1 of");
    expect(0, "add One --gave-up --no-colours --when 2026-03-02", "trial 2 of");
    g_autofree char *list = notch(0, "list One");
    ck_assert_ptr_nonnull(strstr(list, "    1  2026-03-01 14:30  One"));
    ck_assert_ptr_nonnull(strstr(list, "12.5 min"));
    ck_assert_ptr_nonnull(strstr(list, "    2  2026-03-02 12:00  One"));
    ck_assert_ptr_nonnull(strstr(list, "without colours"));
    expect(0, "edit 2 --solved --minutes 44 --colours --who Bo", "");
    g_autoptr(NwStoredTrial) edited = nw_library_load_trial(library, 2, NULL);
    ck_assert(!edited->gave_up && edited->colours && edited->minutes == 44);
    ck_assert_str_eq(edited->who, "Bo");
    ck_assert_int_eq(edited->tried, 1772452800);
    expect(0, "export One", "1,\"One\",1,\"Ann B\",2026-03-01T14:30:00Z,yes,no,12.5,\"a, b\"\r\n");
    expect(0, "export --out table.csv", "");
    g_autofree char *csv = NULL;
    ck_assert(g_file_get_contents(store_file("table.csv"), &csv, NULL, NULL));
    ck_assert_ptr_nonnull(
        strstr(csv, "2,\"One\",1,\"Bo\",2026-03-02T12:00:00Z,yes,no,44,\"\"\r\n"));
    expect(0, "remove 1", "");
    g_autoptr(GPtrArray) rest = must_list(0);
    ck_assert_uint_eq(rest->len, 1);
    expect(0, "--help", "stays on this machine");
}
END_TEST

START_TEST(the_verb_refuses_in_one_line) {
    static const char *const rows[] = {"add One",
                                       "add One --minutes -3",
                                       "add One --minutes 3x",
                                       "add One --minutes nan",
                                       "add One --minutes 3 --when yesterday",
                                       "add One --minutes 3 --gave-up --solved",
                                       "add Two --minutes 3",
                                       "add",
                                       "edit",
                                       "edit 1x --minutes 3",
                                       "edit 7 --minutes 3",
                                       "remove 7",
                                       "remove -7",
                                       "list Two",
                                       "export --out no/such/folder.csv",
                                       "frob"};
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *out = notch(i == 14 ? 1 : 2, rows[i]);
        if (i == 12)
            continue; /* an unknown option */
        ck_assert_msg(g_str_has_prefix(out, "notch: "), "%s: %s", rows[i], out);
        ck_assert_msg(strchr(out, '\n')[1] == 0, "%s: %s", rows[i], out);
    }
    g_autoptr(GPtrArray) none = must_list(0);
    ck_assert_uint_eq(none->len, 0);
}
END_TEST

int main(int argc, char **argv) {
    program = argc > 1 ? argv[1] : "build/src/cli/notch";
    fixtures = argc > 2 ? argv[2] : "tests/fixtures";
    design_folder = argc > 3 ? argv[3] : "data/designs";
    Suite *suite = suite_create("trials");
    TCase *store = tcase_create("store");
    tcase_add_checked_fixture(store, set_up, tear_down);
    tcase_add_test(store, what_is_noted_is_read_back);
    tcase_add_test(store, what_makes_no_sense_is_refused);
    tcase_add_test(store, a_trial_outlives_its_version_and_goes_with_its_design);
    tcase_add_test(store, the_table_can_be_read_by_others);
    tcase_add_test(store, an_old_store_learns_of_trials);
    suite_add_tcase(suite, store);
    TCase *words = tcase_create("words");
    tcase_add_test(words, times_are_read_as_they_are_told);
    tcase_add_test(words, an_end_is_told_in_words);
    tcase_add_test(words, dots_are_trials_with_minutes_and_a_measure);
    suite_add_tcase(suite, words);
    TCase *measured = tcase_create("measured");
    tcase_add_checked_fixture(measured, set_up, tear_down);
    tcase_set_timeout(measured, 60);
    tcase_add_test(measured, a_complete_search_in_the_store_is_measured);
    suite_add_tcase(suite, measured);
    TCase *verb = tcase_create("verb");
    tcase_add_checked_fixture(verb, set_up, tear_down);
    tcase_set_timeout(verb, 60);
    tcase_add_test(verb, the_verb_keeps_the_log);
    tcase_add_test(verb, the_verb_refuses_in_one_line);
    suite_add_tcase(suite, verb);
    return run_suite(suite);
}
