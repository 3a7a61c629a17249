/* The search in the background: the same findings for any number of threads, however often it is
 * paused, stopped, saved and begun again. To be run under ThreadSanitizer too. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "bench/instances.h"
#include "job_fixture.h"
#include "plain/random_design.h"
#include "sticks.h"
#include "suite.h"

/* ThreadSanitizer makes everything some ten times as slow: fewer rounds, and longer ones. */
#if defined(__SANITIZE_THREAD__)
enum { SLOWER = 12 };
#elif defined(__has_feature)
#if __has_feature(thread_sanitizer)
enum { SLOWER = 12 };
#else
enum { SLOWER = 1 };
#endif
#else
enum { SLOWER = 1 };
#endif

static const int thread_counts[] = {1, 2, 3, 8};
enum { THREAD_COUNTS = sizeof thread_counts / sizeof thread_counts[0] };

/* ---- designs ----------------------------------------------------------------------------- */

static NwDesign *soma(void) {
    NwDesign *design = nw_instance_build(nw_instance_find("soma"));
    design->mirrors_together = false; /* 480 assemblies */
    return design;
}

static NwDesign *piston(void) {
    return nw_sticks_design((const int[]){88, 512, 768, 922, 1008, 1008}, 6);
}

/* 8 assemblies, of which 2 are locked. */
static NwDesign *solid_sticks(void) {
    return nw_sticks_design((const int[]){52, 792, 824, 911, 975, 1024}, 6);
}

static NwDesign *slow_pentominoes(void) {
    return nw_instance_build(nw_instance_find("pentominoes-3x4x5"));
}

static NwDesign *(*const builders[])(void) = {soma, piston, solid_sticks};
enum { BUILDERS = sizeof builders / sizeof builders[0] };

static NwSearch *make_search(const NwDesign *design, const NwSearchOptions *options,
                             GBytes *saved) {
    g_autoptr(GError) error = NULL;
    NwSearch *search = nw_search_new(design, options, saved, &error);
    ck_assert_msg(search != NULL, "%s", error ? error->message : "no error");
    return search;
}

static NwSearchProgress progress_of(NwSearch *search) {
    NwSearchProgress progress;
    nw_search_progress(search, &progress);
    return progress;
}

static void assert_sums(const NwSearchProgress *progress, const GArray *expected) {
    guint64 verdicts[NW_VERDICT_COUNT] = {0};
    for (guint i = 0; i < expected->len; i++)
        verdicts[g_array_index(expected, JobFact, i).verdict]++;
    ck_assert_uint_eq(progress->found, expected->len);
    for (int v = 0; v < NW_VERDICT_COUNT; v++)
        ck_assert_uint_eq(progress->verdicts[v], verdicts[v]);
}

/* ---- the same for any number of threads -------------------------------------------------- */

START_TEST(any_number_of_threads_finds_the_same) {
    NwDesign *design = builders[_i]();
    NwSearchOptions options = {0};
    g_autoptr(GArray) expected = job_expected(design, &options);
    for (int t = 0; t < THREAD_COUNTS; t++) {
        options.threads = thread_counts[t];
        NwSearch *search = make_search(design, &options, NULL);
        ck_assert_int_eq(nw_search_threads(search), options.threads);
        g_autoptr(GArray) found = job_facts_new();
        job_run_to_end(search, design, found);
        job_assert_same(found, expected, FALSE);
        NwSearchProgress progress = progress_of(search);
        assert_sums(&progress, expected);
        nw_search_free(search);
    }
    nw_design_free(design);
}
END_TEST

START_TEST(options_reach_the_engines) {
    static const NwSearchOptions rows[] = {{.fit_only = TRUE},
                                           {.diagonals = TRUE},
                                           {.max_states = 3},
                                           {.max_states = 50, .diagonals = TRUE}};
    NwDesign *design = piston();
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        NwSearchOptions options = rows[i];
        options.threads = 2;
        g_autoptr(GArray) expected = job_expected(design, &options), found = job_facts_new();
        NwSearch *search = make_search(design, &options, NULL);
        job_run_to_end(search, design, found);
        job_assert_same(found, expected, FALSE);
        NwSearchProgress progress = progress_of(search);
        assert_sums(&progress, expected);
        ck_assert(!options.fit_only || progress.verdicts[NW_UNEXAMINED] == expected->len);
        ck_assert(options.max_states != 3 || progress.verdicts[NW_UNDECIDED] > 0);
        nw_search_free(search);
    }
    nw_design_free(design);
}
END_TEST

/* Random designs: the intended assembly is told from the others, and cooks are counted. */
START_TEST(cooks_are_what_opens_and_is_not_intended) {
    int with_cooks = 0, with_intended = 0;
    for (uint64_t seed = 0; seed < 60; seed++) {
        NwDesign *design = nw_random_design(seed);
        NwSearchOptions options = {.threads = 1 + (int)(seed % 3)};
        g_autoptr(GArray) expected = job_expected(design, &options), found = job_facts_new();
        NwSearch *search = make_search(design, &options, NULL);
        job_run_to_end(search, design, found);
        job_assert_same(found, expected, FALSE);
        NwSearchProgress progress = progress_of(search);
        ck_assert_int_eq(nw_search_has_intended(search), design->intended_count > 0);
        guint64 cooks = 0;
        gboolean opens = FALSE, met = FALSE;
        for (guint i = 0; i < expected->len; i++) {
            const JobFact *fact = &g_array_index(expected, JobFact, i);
            gboolean intended = nw_search_is_intended(search, fact->key);
            met = met || intended;
            opens = opens || (intended && fact->verdict == NW_OPENS);
            cooks += nw_search_has_intended(search) && !intended && fact->verdict == NW_OPENS;
        }
        ck_assert_int_eq(met, nw_search_has_intended(search));
        ck_assert_uint_eq(progress.cooks, cooks);
        ck_assert_int_eq(progress.intended_opens, opens);
        with_cooks += cooks > 0;
        with_intended += met;
        nw_search_free(search);
        nw_design_free(design);
    }
    ck_assert(with_cooks > 10 && with_intended > 30);
}
END_TEST

START_TEST(a_design_that_cannot_be_searched_is_refused) {
    NwDesign *design = nw_design_new("nothing");
    NwSearchOptions options = {.threads = 1};
    g_autoptr(GError) error = NULL;
    ck_assert_ptr_null(nw_search_new(design, &options, NULL, &error));
    ck_assert(g_error_matches(error, NW_SEARCH_ERROR, NW_SEARCH_ERROR_DESIGN));
    nw_design_free(design);
}
END_TEST

/* A design without any assembly is complete at once. */
START_TEST(an_empty_search_is_complete) {
    NwDesign *design = nw_instance_build(nw_instance_find("dominoes-2x2x1"));
    nw_solid_add(design->envelope, nw_vec(5, 5, 5), NW_WHOLE);
    NwSearchOptions options = {.threads = 3};
    NwSearch *search = make_search(design, &options, NULL);
    g_autoptr(GArray) found = job_facts_new();
    job_run_to_end(search, design, found);
    ck_assert_uint_eq(found->len, 0);
    nw_search_free(search);
    nw_design_free(design);
}
END_TEST

/* ---- pause and go on --------------------------------------------------------------------- */

/* Waits until the slices in hand are done: nothing changes for a while. */
static NwSearchProgress settle(NwSearch *search, const NwDesign *design, GArray *found) {
    NwSearchProgress before, now = progress_of(search);
    int quiet = 0;
    while (quiet < 25) {
        before = now;
        job_gather(found, design, nw_search_take(search, 4));
        now = progress_of(search);
        quiet = memcmp(&before.verdicts, &now.verdicts, sizeof now.verdicts) == 0 &&
                        before.found == now.found
                    ? quiet + 1
                    : 0;
    }
    return now;
}

START_TEST(a_pause_holds_everything_and_loses_nothing) {
    NwDesign *design = soma();
    NwSearchOptions options = {.threads = 3};
    g_autoptr(GArray) expected = job_expected(design, &options);
    NwRandom random = {5};
    int held = 0;
    for (int round = 0; round < 12; round++) {
        NwSearch *search = make_search(design, &options, NULL);
        g_autoptr(GArray) found = job_facts_new();
        nw_search_start(search);
        for (int pause = 0; pause < 3; pause++) {
            g_usleep((gulong)nw_random_below(&random, 6000));
            nw_search_pause(search);
            NwSearchProgress held_at = settle(search, design, found);
            if (held_at.state != NW_SEARCH_PAUSED)
                break; /* it was over before */
            g_usleep(20000);
            NwSearchProgress later = progress_of(search);
            ck_assert_uint_eq(later.found, held_at.found);
            ck_assert_int_eq(later.state, NW_SEARCH_PAUSED);
            ck_assert(later.seconds == held_at.seconds);
            held += later.found < expected->len;
            nw_search_go_on(search);
        }
        while (progress_of(search).state == NW_SEARCH_RUNNING)
            job_gather(found, design, nw_search_take(search, 20));
        job_gather(found, design, nw_search_take(search, 0));
        ck_assert_int_eq(progress_of(search).state, NW_SEARCH_COMPLETE);
        job_assert_same(found, expected, FALSE);
        nw_search_free(search);
    }
    ck_assert_int_gt(held, 5);
    nw_design_free(design);
}
END_TEST

/* A pause can be ended by stopping, and by closing. */
START_TEST(a_paused_search_can_be_stopped_and_closed) {
    NwDesign *design = slow_pentominoes();
    NwSearchOptions options = {.threads = 2};
    for (int close = 0; close < 2; close++) {
        NwSearch *search = make_search(design, &options, NULL);
        nw_search_start(search);
        g_usleep(3000);
        nw_search_pause(search);
        if (!close) {
            nw_search_stop(search);
            ck_assert_int_eq(progress_of(search).state, NW_SEARCH_STOPPED);
        }
        nw_search_free(search);
    }
    nw_design_free(design);
}
END_TEST

/* ---- stop, save, begin again ------------------------------------------------------------- */

/* Stops at random moments until it is complete: every assembly comes exactly once. */
static int run_in_sessions(const NwDesign *design, const GArray *expected, NwSearchOptions options,
                           NwRandom *random, int longest) {
    longest *= SLOWER;
    g_autoptr(GBytes) saved = NULL;
    g_autoptr(GArray) found = job_facts_new();
    NwSearchProgress progress = {.state = NW_SEARCH_READY};
    int sessions = 0;
    double share = 0;
    while (progress.state != NW_SEARCH_COMPLETE) {
        options.threads = thread_counts[nw_random_below(random, THREAD_COUNTS)];
        NwSearch *search = make_search(design, &options, saved);
        nw_search_start(search);
        g_usleep((gulong)nw_random_below(random, longest));
        if (nw_random_below(random, 2))
            job_gather(found, design, nw_search_take(search, 0));
        nw_search_stop(search);
        g_clear_pointer(&saved, g_bytes_unref);
        saved = nw_search_save(search);
        job_gather(found, design, nw_search_take(search, 0));
        progress = progress_of(search);
        ck_assert_msg(progress.share >= share - 1e-9 && progress.share <= 1, "%g after %g",
                      progress.share, share);
        share = progress.share;
        ck_assert(progress.state == NW_SEARCH_COMPLETE || progress.state == NW_SEARCH_STOPPED);
        nw_search_free(search);
        sessions++;
        ck_assert_int_lt(sessions, 20000);
    }
    job_assert_same(found, expected, FALSE);
    assert_sums(&progress, expected);
    /* A complete search that is opened again has nothing left to do. */
    NwSearch *after = make_search(design, &options, saved);
    g_autoptr(GArray) nothing = job_facts_new();
    job_run_to_end(after, design, nothing);
    ck_assert_uint_eq(nothing->len, 0);
    nw_search_free(after);
    return sessions;
}

START_TEST(stopped_searches_go_on_where_they_were) {
    NwDesign *design = builders[_i]();
    NwSearchOptions options = {0};
    NwRandom random = {11};
    g_autoptr(GArray) expected = job_expected(design, &options);
    int sessions = 0;
    for (int round = 0; round < (SLOWER > 1 ? 4 : 10); round++)
        sessions += run_in_sessions(design, expected, options, &random, 1500 << (round % 4));
    ck_assert_int_gt(sessions, 10);
    options.fit_only = TRUE;
    g_autoptr(GArray) fits = job_expected(design, &options);
    for (int round = 0; round < (SLOWER > 1 ? 1 : 3); round++)
        run_in_sessions(design, fits, options, &random, 4000);
    nw_design_free(design);
}
END_TEST

/* Saved while it runs, as a window saves every few seconds: save, then take, and both together
 * make up the search. What was still in work comes up again. */
START_TEST(a_search_saved_while_it_runs_is_whole) {
    NwDesign *design = soma();
    NwSearchOptions options = {.threads = 3};
    NwRandom random = {23};
    g_autoptr(GArray) expected = job_expected(design, &options);
    int early = 0;
    for (int round = 0; round < 25; round++) {
        NwSearch *search = make_search(design, &options, NULL);
        g_autoptr(GArray) found = job_facts_new();
        nw_search_start(search);
        g_usleep((gulong)nw_random_below(&random, 15000));
        g_autoptr(GBytes) saved = nw_search_save(search);
        job_gather(found, design, nw_search_take(search, 0));
        early += found->len < expected->len;
        g_usleep((gulong)nw_random_below(&random, 2000));
        nw_search_free(search); /* as if killed: what came later is lost */
        NwSearch *again = make_search(design, &options, saved);
        job_run_to_end(again, design, found);
        job_assert_same(found, expected, TRUE);
        ck_assert_uint_eq(progress_of(again).found, expected->len);
        nw_search_free(again);
    }
    ck_assert_int_gt(early, 5);
    nw_design_free(design);
}
END_TEST

START_TEST(a_search_that_never_began_can_be_saved) {
    NwDesign *design = piston();
    NwSearchOptions options = {.threads = 2};
    g_autoptr(GArray) expected = job_expected(design, &options), found = job_facts_new();
    NwSearch *search = make_search(design, &options, NULL);
    g_autoptr(GBytes) saved = nw_search_save(search);
    nw_search_stop(search);
    nw_search_free(search);
    search = make_search(design, &options, saved);
    job_run_to_end(search, design, found);
    job_assert_same(found, expected, FALSE);
    nw_search_free(search);
    nw_design_free(design);
}
END_TEST

static GBytes *save_at_work(const NwDesign *design, const NwSearchOptions *options) {
    NwSearch *search = make_search(design, options, NULL);
    nw_search_start(search);
    g_usleep(4000);
    nw_search_stop(search);
    GBytes *saved = nw_search_save(search);
    nw_search_free(search);
    return saved;
}

START_TEST(a_saved_search_of_another_design_is_refused) {
    NwDesign *own = soma(), *other = piston();
    NwSearchOptions options = {.threads = 2};
    g_autoptr(GBytes) saved = save_at_work(own, &options);
    g_autoptr(GError) error = NULL;
    ck_assert_ptr_null(nw_search_new(other, &options, saved, &error));
    ck_assert(g_error_matches(error, NW_SEARCH_ERROR, NW_SEARCH_ERROR_RESUME));
    g_clear_error(&error);
    own->mirrors_together = true; /* another question about the same pieces */
    ck_assert_ptr_null(nw_search_new(own, &options, saved, &error));
    ck_assert(g_error_matches(error, NW_SEARCH_ERROR, NW_SEARCH_ERROR_RESUME));
    nw_design_free(own);
    nw_design_free(other);
}
END_TEST

/* Given up while it is set up, a search is where it was begun: with what was saved, or nothing. */
START_TEST(a_search_given_up_while_it_is_set_up_stands_where_it_did) {
    NwDesign *design = soma();
    NwSearchOptions options = {.threads = 2};
    g_autoptr(GArray) expected = job_expected(design, &options), found = job_facts_new();
    NwSearch *search = make_search(design, &options, NULL);
    nw_search_start(search);
    while (found->len < 40)
        job_gather(found, design, nw_search_take(search, 1));
    nw_search_stop(search);
    g_autoptr(GBytes) saved = nw_search_save(search);
    job_gather(found, design, nw_search_take(search, 0));
    nw_search_free(search);
    search = nw_search_begin(design, &options, saved, NULL);
    ck_assert_ptr_null(nw_search_fit(search));
    ck_assert_int_eq(progress_of(search).setup.stage, NW_SETUP_LISTING);
    ck_assert(progress_of(search).share < 1);
    nw_search_start(search); /* too soon: nothing happens */
    ck_assert_int_eq(progress_of(search).state, NW_SEARCH_READY);
    g_autoptr(GBytes) again = nw_search_save(search);
    ck_assert(g_bytes_equal(saved, again));
    nw_search_stop(search);
    nw_search_free(search);
    search = make_search(design, &options, again);
    ck_assert_int_eq(progress_of(search).setup.stage, NW_SETUP_DONE);
    job_run_to_end(search, design, found);
    job_assert_same(found, expected, FALSE);
    nw_search_free(search);
    nw_design_free(design);
}
END_TEST

/* A position as earlier versions wrote it (their format, and the check sum after it). */
static GBytes *first_format(void) {
    g_autoptr(GVariant) saved = g_variant_ref_sink(g_variant_new_parsed(
        "(uint64 5, uint32 256, @au [0, 2], @a(uai) [(1, [0, 3])], @a(ta(iiiii)) [],"
        " [uint64 0, 0, 0, 0, 0, 0, 0], 2.5)"));
    GByteArray *bytes = g_byte_array_new();
    g_byte_array_append(bytes, g_variant_get_data(saved), (guint)g_variant_get_size(saved));
    guint64 sum = bytes->len;
    for (guint i = 0; i < bytes->len; i++)
        sum = nw_mix(sum + bytes->data[i] + UINT64_C(0x9e3779b97f4a7c15));
    g_byte_array_append(bytes, (const guint8 *)&sum, sizeof sum);
    return g_byte_array_free_to_bytes(bytes);
}

START_TEST(a_position_of_an_earlier_version_is_recognised) {
    NwDesign *design = soma();
    NwSearchOptions options = {.threads = 2};
    g_autoptr(GBytes) saved = first_format();
    g_autoptr(GError) error = NULL;
    ck_assert_ptr_null(nw_search_new(design, &options, saved, &error));
    ck_assert(g_error_matches(error, NW_SEARCH_ERROR, NW_SEARCH_ERROR_OLDER));
    ck_assert(nw_search_saved_seconds(saved) == 2.5);
    g_clear_error(&error);
    NwSearch *search = nw_search_begin(design, &options, saved, NULL);
    NwStatus status;
    while ((status = nw_search_set_up(search, &error)) == NW_STOPPED)
        continue;
    ck_assert_int_eq(status, NW_BAD_RESUME);
    g_autoptr(GArray) expected = job_expected(design, &options), found = job_facts_new();
    job_run_to_end(search, design, found); /* from the beginning */
    job_assert_same(found, expected, FALSE);
    nw_search_free(search);
    nw_design_free(design);
}
END_TEST

static gboolean is_refused(const NwDesign *design, const guint8 *bytes, gsize size) {
    NwSearchOptions options = {.threads = 2};
    g_autoptr(GBytes) damaged = g_bytes_new(bytes, size);
    g_autoptr(GError) error = NULL;
    NwSearch *search = nw_search_new(design, &options, damaged, &error);
    if (!search) {
        ck_assert(g_error_matches(error, NW_SEARCH_ERROR, NW_SEARCH_ERROR_RESUME));
        return TRUE;
    }
    nw_search_free(search);
    return FALSE;
}

/* One bit turned, an end cut off, bytes put on: a saved search is never half believed. */
START_TEST(damaged_saved_searches_are_refused) {
    NwDesign *design = soma();
    NwSearchOptions options = {.threads = 3};
    NwRandom random = {31};
    for (int round = 0; round < (SLOWER > 1 ? 1 : 4); round++) {
        g_autoptr(GBytes) saved = save_at_work(design, &options);
        gsize size;
        const guint8 *whole = g_bytes_get_data(saved, &size);
        ck_assert(!is_refused(design, whole, size));
        g_autofree guint8 *bytes = g_malloc(size + 64);
        for (int k = 0; k < 30; k++) {
            memcpy(bytes, whole, size);
            gsize at = (gsize)nw_random_below(&random, (int)size);
            bytes[at] ^= (guint8)(1 << nw_random_below(&random, 8));
            ck_assert_msg(is_refused(design, bytes, size), "a turned bit in byte %zu of %zu", at,
                          size);
            memcpy(bytes, whole, size);
            ck_assert(is_refused(design, bytes, at));
            for (int more = 0; more < 64; more++)
                bytes[size + (gsize)more] = (guint8)nw_random_next(&random);
            ck_assert(is_refused(design, bytes, size + 1 + (gsize)nw_random_below(&random, 64)));
            for (gsize i = 0; i < size; i++)
                bytes[i] = (guint8)nw_random_next(&random);
            ck_assert(is_refused(design, bytes, size));
        }
    }
    ck_assert(is_refused(design, (const guint8 *)"", 0));
    nw_design_free(design);
}
END_TEST

/* ---- limits ------------------------------------------------------------------------------ */

START_TEST(a_limit_stops_at_exactly_so_many) {
    NwDesign *design = soma();
    NwSearchOptions options = {0};
    g_autoptr(GArray) expected = job_expected(design, &options);
    static const guint64 limits[] = {1, 2, 7, 100, 479, 480, 481, 100000};
    for (gsize i = 0; i < G_N_ELEMENTS(limits); i++) {
        options.threads = thread_counts[i % THREAD_COUNTS];
        options.limit = limits[i];
        NwSearch *search = make_search(design, &options, NULL);
        g_autoptr(GArray) found = job_facts_new();
        nw_search_start(search);
        while (progress_of(search).state == NW_SEARCH_RUNNING)
            job_gather(found, design, nw_search_take(search, 20));
        nw_search_stop(search);
        g_autoptr(GBytes) saved = nw_search_save(search);
        job_gather(found, design, nw_search_take(search, 0));
        NwSearchProgress progress = progress_of(search);
        ck_assert_uint_eq(found->len, MIN(limits[i], expected->len));
        ck_assert_uint_eq(progress.found, found->len);
        if (limits[i] != expected->len)
            ck_assert_int_eq(progress.state,
                             limits[i] < expected->len ? NW_SEARCH_STOPPED : NW_SEARCH_COMPLETE);
        nw_search_free(search);
        options.limit = 0; /* and on without it */
        search = make_search(design, &options, saved);
        job_run_to_end(search, design, found);
        job_assert_same(found, expected, FALSE);
        nw_search_free(search);
    }
    nw_design_free(design);
}
END_TEST

/* A worker with nothing to do must notice that another one left at the limit. The client takes
 * nothing meanwhile, so no batch that it took wakes anybody. */
START_TEST(all_workers_leave_at_the_limit) {
    NwDesign *design = soma();
    NwSearchOptions options = {.threads = 4, .fit_only = TRUE, .limit = 479};
    for (int round = 0; round < 40; round++) {
        NwSearch *search = make_search(design, &options, NULL);
        nw_search_start(search);
        for (int wait = 0; progress_of(search).state == NW_SEARCH_RUNNING; wait++) {
            ck_assert_int_lt(wait, 60000);
            g_usleep(1000);
        }
        nw_search_free(search);
    }
    nw_design_free(design);
}
END_TEST

/* ---- wake-ups and closing ---------------------------------------------------------------- */

static int wakes; /* used with atomic operations */

static void count_wake(gpointer data) {
    ck_assert_ptr_eq(data, &wakes);
    __atomic_add_fetch(&wakes, 1, __ATOMIC_SEQ_CST);
}

/* A wake-up is asked for only when none was since the last batch was taken. So there are never more
 * of them than batches taken, and one. The client here sleeps until it is woken. */
START_TEST(at_most_one_wake_up_is_pending) {
    NwDesign *design = soma();
    NwSearchOptions options = {.threads = 7};
    g_autoptr(GArray) expected = job_expected(design, &options);
    for (int round = 0; round < 10; round++) {
        wakes = 0;
        NwSearch *search = make_search(design, &options, NULL);
        nw_search_set_wake(search, count_wake, &wakes);
        g_autoptr(GArray) found = job_facts_new();
        int takes = 0, seen = 0;
        nw_search_start(search);
        gint64 patience = g_get_monotonic_time() + 60 * G_USEC_PER_SEC;
        while (progress_of(search).state == NW_SEARCH_RUNNING || found->len < expected->len) {
            int now = __atomic_load_n(&wakes, __ATOMIC_SEQ_CST);
            ck_assert_int_le(now, takes + 1);
            ck_assert_msg(g_get_monotonic_time() < patience, "nobody woke the client");
            if (now == seen) {
                g_usleep(200);
                continue;
            }
            seen = now;
            if (round % 2)
                g_usleep(3000); /* however many arrive meanwhile */
            takes++;
            job_gather(found, design, nw_search_take(search, 0));
        }
        nw_search_free(search);
        ck_assert_int_le(wakes, takes + 1);
        ck_assert_int_ge(wakes, 1);
        job_assert_same(found, expected, FALSE);
    }
    /* A client that never takes is woken once. */
    wakes = 0;
    NwSearch *search = make_search(design, &options, NULL);
    nw_search_set_wake(search, count_wake, &wakes);
    nw_search_start(search);
    while (progress_of(search).state == NW_SEARCH_RUNNING)
        g_usleep(1000);
    nw_search_free(search);
    ck_assert_int_eq(wakes, 1);
    nw_design_free(design);
}
END_TEST

static int threads_of_process(void) {
    GDir *tasks = g_dir_open("/proc/self/task", 0, NULL);
    int count = 0;
    while (tasks && g_dir_read_name(tasks))
        count++;
    if (tasks)
        g_dir_close(tasks);
    return count;
}

START_TEST(closing_in_the_middle_joins_the_workers) {
    NwDesign *designs[] = {soma(), slow_pentominoes()};
    NwRandom random = {3};
    int before = 0;
    for (int round = 0; round < 40; round++) {
        NwSearchOptions options = {.threads = thread_counts[round % THREAD_COUNTS]};
        NwSearch *search = make_search(designs[round % 2], &options, NULL);
        wakes = 0;
        nw_search_set_wake(search, count_wake, &wakes);
        nw_search_start(search);
        g_usleep((gulong)nw_random_below(&random, 5000));
        gint64 start = g_get_monotonic_time();
        nw_search_free(search);
        ck_assert_int_lt((int)(g_get_monotonic_time() - start), 20 * G_USEC_PER_SEC);
        int after = wakes;
        g_usleep(500);
        ck_assert_int_eq(wakes, after); /* nobody is left to wake the client */
        if (!before) /* a sanitizer has a thread of its own, from the first search on */
            before = threads_of_process();
    }
    ck_assert_int_eq(threads_of_process(), before);
    nw_design_free(designs[0]);
    nw_design_free(designs[1]);
}
END_TEST

/* A slow search stops at once: it is asked often enough. */
START_TEST(stopping_is_prompt) {
    NwDesign *design = slow_pentominoes();
    NwSearchOptions options = {.threads = 2};
    NwSearch *search = make_search(design, &options, NULL);
    nw_search_start(search);
    g_usleep(50000);
    gint64 start = g_get_monotonic_time();
    nw_search_stop(search);
    ck_assert_int_lt((int)(g_get_monotonic_time() - start), 5 * G_USEC_PER_SEC);
    ck_assert_int_eq(progress_of(search).state, NW_SEARCH_STOPPED);
    nw_search_free(search);
    nw_design_free(design);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("search");
    TCase *same = tcase_create("same"), *again = tcase_create("again"),
          *control = tcase_create("control");
    TCase *const cases[] = {same, again, control};
    tcase_add_loop_test(same, any_number_of_threads_finds_the_same, 0, BUILDERS);
    tcase_add_test(same, options_reach_the_engines);
    tcase_add_test(same, cooks_are_what_opens_and_is_not_intended);
    tcase_add_test(same, a_design_that_cannot_be_searched_is_refused);
    tcase_add_test(same, an_empty_search_is_complete);
    tcase_add_loop_test(again, stopped_searches_go_on_where_they_were, 0, BUILDERS);
    tcase_add_test(again, a_search_saved_while_it_runs_is_whole);
    tcase_add_test(again, a_search_that_never_began_can_be_saved);
    tcase_add_test(again, a_saved_search_of_another_design_is_refused);
    tcase_add_test(again, damaged_saved_searches_are_refused);
    tcase_add_test(again, a_search_given_up_while_it_is_set_up_stands_where_it_did);
    tcase_add_test(again, a_position_of_an_earlier_version_is_recognised);
    tcase_add_test(control, a_pause_holds_everything_and_loses_nothing);
    tcase_add_test(control, a_paused_search_can_be_stopped_and_closed);
    tcase_add_test(control, a_limit_stops_at_exactly_so_many);
    tcase_add_test(control, all_workers_leave_at_the_limit);
    tcase_add_test(control, at_most_one_wake_up_is_pending);
    tcase_add_test(control, closing_in_the_middle_joins_the_workers);
    tcase_add_test(control, stopping_is_prompt);
    for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
        tcase_set_timeout(cases[i], 600);
        suite_add_tcase(suite, cases[i]);
    }
    return run_suite(suite);
}
