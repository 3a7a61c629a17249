/* Work on a thread of its own: when its owner is called, and that it ends whenever it is told to.
 */
#include <check.h>
#include <stdlib.h>

#include "job/background.h"
#include "suite.h"

enum { ROUNDS = 1000, BURST = 500, PATIENCE_SECONDS = 60 };

typedef struct Job {
    NwBackground background;
    int calls;     /* the owner's */
    int bursts;    /* asked for, under the lock */
    int made;      /* under the lock */
    int steps;     /* the work's until it is over */
    gboolean left; /* the same */
} Job;

static void count_call(gpointer owner) {
    Job *job = owner;
    job->calls++;
}

static void iterate(void) {
    while (g_main_context_iteration(NULL, FALSE))
        continue;
}

/* Runs the main loop until it was called so often. */
static void await_calls(const Job *job, int calls) {
    gint64 end = g_get_monotonic_time() + PATIENCE_SECONDS * G_USEC_PER_SEC;
    while (job->calls < calls) {
        ck_assert_int_lt(g_get_monotonic_time(), end);
        if (!g_main_context_iteration(NULL, FALSE))
            g_usleep(50);
    }
}

/* ---- calls ------------------------------------------------------------------------------- */

/* Asks for many calls each time that it is told to, at some distance. */
static void work_in_bursts(gpointer data) {
    Job *job = data;
    NwBackground *background = &job->background;
    nw_background_lock(background);
    do {
        while (job->made < job->bursts) {
            for (int i = 0; i < BURST; i++) {
                nw_background_wake(background);
                nw_background_unlock(background);
                nw_background_lock(background);
            }
            job->made++;
            nw_background_tell_change(background);
        }
    } while (nw_background_wait(background));
    nw_background_unlock(background);
}

static void make_burst(Job *job) {
    NW_BACKGROUND_HOLD(&job->background);
    job->bursts++;
    nw_background_tell_change(&job->background);
    while (job->made < job->bursts)
        ck_assert(nw_background_wait(&job->background));
}

START_TEST(a_burst_is_one_call) {
    Job job = {.calls = 0};
    nw_background_begin(&job.background, "bursts", work_in_bursts, &job, count_call, &job);
    for (int i = 0; i < ROUNDS; i++) {
        make_burst(&job);
        ck_assert_int_eq(job.calls, i);
        iterate();
        ck_assert_int_eq(job.calls, i + 1);
    }
    nw_background_end(&job.background);
    iterate();
    ck_assert_int_eq(job.calls, ROUNDS);
}
END_TEST

START_TEST(no_call_comes_after_the_end) {
    for (int i = 0; i < ROUNDS; i++) {
        Job job = {.calls = 0};
        nw_background_begin(&job.background, "bursts", work_in_bursts, &job, count_call, &job);
        make_burst(&job);
        nw_background_end(&job.background);
        iterate();
        ck_assert_int_eq(job.calls, 0);
    }
}
END_TEST

static void do_nothing(gpointer data) {
    Job *job = data;
    job->left = TRUE;
}

START_TEST(the_end_of_the_work_is_a_call) {
    for (int i = 0; i < ROUNDS; i++) {
        Job job = {.calls = 0};
        nw_background_begin(&job.background, "nothing", do_nothing, &job, count_call, &job);
        await_calls(&job, 1);
        ck_assert(nw_background_is_over(&job.background));
        ck_assert(job.left);
        nw_background_end(&job.background);
        nw_background_end(&job.background); /* once is enough, twice no harm */
        iterate();
        ck_assert_int_eq(job.calls, 1);
    }
}
END_TEST

static void step(gpointer data) {
    Job *job = data;
    while (!nw_background_is_leaving(&job->background)) {
        NW_BACKGROUND_HOLD(&job->background);
        job->steps++;
        nw_background_wake_soon(&job->background);
    }
    job->left = TRUE;
}

START_TEST(news_many_times_a_second_are_few_calls) {
    Job job = {.calls = 0};
    gint64 began = g_get_monotonic_time();
    nw_background_begin(&job.background, "news", step, &job, count_call, &job);
    await_calls(&job, 4);
    gint64 took = g_get_monotonic_time() - began;
    nw_background_end(&job.background);
    ck_assert_int_eq(job.calls, 4);
    ck_assert_int_gt(job.steps, 100);
    ck_assert_int_ge(took, 4 * 95000);
}
END_TEST

/* ---- the end ----------------------------------------------------------------------------- */

/* Waits for a burst, which does not come. */
static void wait_in_vain(gpointer data) {
    Job *job = data;
    nw_background_lock(&job->background);
    while (nw_background_wait(&job->background))
        job->steps++;
    nw_background_unlock(&job->background);
    job->left = TRUE;
}

START_TEST(it_ends_in_any_state) {
    NwBackgroundWork *const works[] = {do_nothing, step, wait_in_vain};
    g_autoptr(GRand) rand = g_rand_new_with_seed(3);
    for (int i = 0; i < ROUNDS; i++) {
        Job job = {.calls = 0};
        nw_background_begin(&job.background, "any", works[i % 3], &job, count_call, &job);
        if (g_rand_boolean(rand))
            g_usleep((gulong)g_rand_int_range(rand, 0, 300));
        if (g_rand_boolean(rand))
            iterate();
        int calls = job.calls;
        if (g_rand_boolean(rand))
            nw_background_ask_to_leave(&job.background);
        nw_background_end(&job.background);
        ck_assert(job.left);
        iterate();
        ck_assert_int_eq(job.calls, calls);
    }
}
END_TEST

static int freed;

static void free_job(gpointer owner) {
    Job *job = owner;
    nw_background_end(&job->background);
    ck_assert(job->left);
    free(job);
    freed++;
}

START_TEST(who_is_called_may_free_it) {
    for (int i = 0; i < ROUNDS; i++) {
        Job *job = calloc(1, sizeof *job);
        NwBackgroundWork *work = i % 20 ? do_nothing : step; /* which goes on, and takes a while */
        nw_background_begin(&job->background, "freed", work, job, free_job, job);
        while (freed == i)
            if (!g_main_context_iteration(NULL, FALSE))
                g_usleep(20);
    }
    iterate();
    ck_assert_int_eq(freed, ROUNDS);
}
END_TEST

START_TEST(one_can_wait_without_a_main_loop) {
    Job job = {.calls = 0};
    nw_background_begin(&job.background, "alone", wait_in_vain, &job, NULL, NULL);
    gint64 began = g_get_monotonic_time();
    ck_assert(!nw_background_await(&job.background, 30));
    ck_assert_int_ge(g_get_monotonic_time() - began, 30000);
    nw_background_ask_to_leave(&job.background);
    ck_assert(nw_background_await(&job.background, 1000 * PATIENCE_SECONDS));
    ck_assert_int_lt(g_get_monotonic_time() - began, PATIENCE_SECONDS * G_USEC_PER_SEC);
    nw_background_end(&job.background);
}
END_TEST

int main(void) {
    TCase *calls = tcase_create("calls"), *ends = tcase_create("ends");
    tcase_set_timeout(calls, PATIENCE_SECONDS);
    tcase_set_timeout(ends, PATIENCE_SECONDS);
    tcase_add_test(calls, a_burst_is_one_call);
    tcase_add_test(calls, no_call_comes_after_the_end);
    tcase_add_test(calls, the_end_of_the_work_is_a_call);
    tcase_add_test(calls, news_many_times_a_second_are_few_calls);
    tcase_add_test(ends, it_ends_in_any_state);
    tcase_add_test(ends, who_is_called_may_free_it);
    tcase_add_test(ends, one_can_wait_without_a_main_loop);
    Suite *suite = suite_create("background");
    suite_add_tcase(suite, calls);
    suite_add_tcase(suite, ends);
    return run_suite(suite);
}
