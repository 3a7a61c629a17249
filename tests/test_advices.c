/* Where advisors stand, in the store. */
#include <check.h>
#include <stdlib.h>

#include "job/advice_record.h"
#include "plain/random_design.h"
#include "store/history.h"
#include "store_fixture.h"
#include "suite.h"

static NwLibrary *library;
static gint64 design_id, version_id;
static NwDesign *design;

static void set_up(void) {
    store_folder_make();
    library = nw_library_open(store_file("a.notch"), NW_LIBRARY_CREATE, NULL);
    ck_assert_ptr_nonnull(library);
    NwAdvisor *advisor = NULL;
    for (guint64 seed = 1; !advisor; seed++) { /* the first that an advisor takes */
        nw_design_free(design);
        design = nw_random_design(seed);
        nw_advisor_new(design, (NwAdvisorOptions){0}, &advisor);
    }
    nw_advisor_free(advisor);
    ck_assert(nw_library_add_design(library, design, NULL, &design_id, &version_id, NULL));
}

static void tear_down(void) {
    nw_library_close(library);
    nw_design_free(design);
    design = NULL;
    store_folder_remove();
}

static void must_save(gint64 version, const char *question, const char *text, gboolean complete) {
    g_autoptr(GBytes) state = g_bytes_new_static(text, strlen(text));
    g_autoptr(GError) error = NULL;
    gboolean saved = nw_library_save_advice(library, version, question, state, complete, &error);
    ck_assert_msg(saved, "%s", error ? error->message : "no error");
}

static NwStoredAdvice *must_load(gint64 version, const char *question) {
    GError *error = NULL;
    NwStoredAdvice *advice = nw_library_load_advice(library, version, question, &error);
    ck_assert_msg(!error, "%s", error ? error->message : "");
    return advice;
}

static void assert_text(const NwStoredAdvice *advice, const char *text) {
    gsize size;
    ck_assert_ptr_nonnull(advice);
    const char *bytes = g_bytes_get_data(advice->state, &size);
    ck_assert_uint_eq(size, strlen(text));
    ck_assert_mem_eq(bytes, text, size);
}

START_TEST(one_is_kept_for_each_question) {
    must_save(version_id, "one", "first", FALSE);
    must_save(version_id, "other", "second", TRUE);
    must_save(version_id, "one", "third", FALSE);
    g_autoptr(NwStoredAdvice) one = must_load(version_id, "one");
    g_autoptr(NwStoredAdvice) other = must_load(version_id, "other");
    assert_text(one, "third");
    assert_text(other, "second");
    ck_assert(!one->complete && other->complete);
    ck_assert_int_gt(one->saved, 1700000000);
    ck_assert_ptr_null(must_load(version_id, "none"));
    ck_assert_ptr_null(must_load(version_id + 1, "one"));
    ck_assert(nw_library_remove_advice(library, version_id, "one", NULL));
    ck_assert(nw_library_remove_advice(library, version_id, "one", NULL)); /* gone already */
    ck_assert_ptr_null(must_load(version_id, "one"));
}
END_TEST

START_TEST(it_goes_with_its_version) {
    must_save(version_id, "one", "first", FALSE);
    ck_assert(nw_library_remove_design(library, design_id, NULL));
    ck_assert_ptr_null(must_load(version_id, "one"));
    g_autoptr(GError) error = NULL;
    g_autoptr(GBytes) state = g_bytes_new_static("x", 1);
    ck_assert(!nw_library_save_advice(library, version_id, "one", state, FALSE, &error));
    ck_assert(g_error_matches(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_GONE));
}
END_TEST

START_TEST(questions_have_texts) {
    const NwAdvisorOptions options[] = {
        {.cook = 0},
        {.singles = true},
        {.pairs = true},
        {.cook = 7},
        {.baseline = {.diagonals = true}},
        {.baseline = {.max_states = 5}},
    };
    for (gsize i = 0; i < G_N_ELEMENTS(options); i++)
        for (gsize k = 0; k < G_N_ELEMENTS(options); k++) {
            g_autofree char *a = nw_stored_advice_question(&options[i]);
            g_autofree char *b = nw_stored_advice_question(&options[k]);
            ck_assert_int_eq(g_strcmp0(a, b) == 0, i == k);
        }
    NwBaselineOptions plain = {0}, usual = {.max_states = NW_STATES_DEFAULT};
    g_autofree char *a = nw_stored_advice_design(&plain);
    g_autofree char *b = nw_stored_advice_design(&usual);
    ck_assert_str_eq(a, b);
}
END_TEST

START_TEST(an_advisor_is_taken_up_again) {
    NwAdvisor *advisor;
    gboolean taken;
    ck_assert_int_eq(nw_advisor_new(design, (NwAdvisorOptions){0}, &advisor), NW_OK);
    ck_assert(nw_advice_record_take_up(library, version_id, "q", advisor, &taken, NULL));
    ck_assert(!taken);
    ck_assert_int_eq(nw_advisor_search(advisor, 100000000), NW_NONE);
    size_t known = nw_advisor_ground(advisor)->known_count;
    ck_assert(nw_advice_record_save(library, version_id, "q", advisor, FALSE, NULL));
    nw_advisor_free(advisor);
    ck_assert_int_eq(nw_advisor_new(design, (NwAdvisorOptions){0}, &advisor), NW_OK);
    ck_assert(nw_advice_record_take_up(library, version_id, "q", advisor, &taken, NULL));
    ck_assert(taken && nw_advisor_ground(advisor)->complete);
    ck_assert_uint_eq(nw_advisor_ground(advisor)->known_count, known);
    must_save(version_id, "q", "no state", FALSE); /* counts as none */
    ck_assert(nw_advice_record_take_up(library, version_id, "q", advisor, &taken, NULL));
    ck_assert(!taken);
    nw_advisor_free(advisor);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("advices");
    TCase *group = tcase_create("advices");
    tcase_add_checked_fixture(group, set_up, tear_down);
    tcase_add_test(group, one_is_kept_for_each_question);
    tcase_add_test(group, it_goes_with_its_version);
    tcase_add_test(group, questions_have_texts);
    tcase_add_test(group, an_advisor_is_taken_up_again);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
