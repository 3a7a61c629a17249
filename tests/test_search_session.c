/* The search of the window without the window: lists that are adopted, a run that is lent to
 * another search of the store, and versions that could not be saved. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/instances.h"
#include "export/inquiry.h"
#include "job_fixture.h"
#include "session/search_answer.h"
#include "session/search_import.h"
#include "store/runs.h"
#include "store/statement.h"
#include "store_fixture.h"
#include "suite.h"
#include "text/words.h"

enum { PATIENCE_SECONDS = 90 };

static NwDesign *soma; /* 480 assemblies at once, or 240 with mirror images together */
static NwLibrary *library;
static NwDocument *document;
static NwSearchSession *session;

static void set_up(void) {
    store_folder_make();
    library = nw_library_open(store_file("a.notch"), NW_LIBRARY_CREATE, NULL);
    ck_assert_ptr_nonnull(library);
    soma = nw_instance_build(nw_instance_find("soma"));
    soma->mirrors_together = false;
    document = nw_document_new(library);
    ck_assert(nw_document_create(document, soma, NULL));
    session = nw_search_session_new(document);
}

static void tear_down(void) {
    g_object_run_dispose(G_OBJECT(session));
    g_object_unref(session);
    g_object_unref(document);
    nw_design_free(soma);
    nw_library_close(library);
    store_folder_remove();
}

typedef gboolean Wish(void);

/* Runs the main loop until it is so. */
static void await(Wish *wish) {
    gint64 end = g_get_monotonic_time() + PATIENCE_SECONDS * G_USEC_PER_SEC;
    while (!wish()) {
        ck_assert_int_lt(g_get_monotonic_time(), end);
        if (!g_main_context_iteration(NULL, FALSE))
            g_usleep(1000);
    }
}

static gboolean is_complete(void) {
    return nw_search_session_get_state(session) == NW_SEARCH_SESSION_COMPLETE;
}

static gboolean has_answer(void) {
    return nw_search_session_has_answer(session);
}

static gboolean has_some(void) {
    return g_list_model_get_n_items(nw_search_session_get_assemblies(session)) > 0;
}

static guint count_rows(void) {
    return g_list_model_get_n_items(nw_search_session_get_assemblies(session));
}

/* Every row has the number that it has in the order of lists, and tells its way out if it has one.
 */
static void assert_rows(guint expected) {
    ck_assert_uint_eq(count_rows(), expected);
    g_autoptr(GPtrArray) sorted = g_ptr_array_new();
    for (guint i = 0; i < expected; i++) {
        g_autoptr(NwAssemblyItem) item =
            g_list_model_get_item(nw_search_session_get_assemblies(session), i);
        g_ptr_array_add(sorted, (gpointer)nw_assembly_item_get(item));
    }
    g_ptr_array_sort(sorted, nw_words_compare);
    g_autoptr(GHashTable) keys = g_hash_table_new(g_int64_hash, g_int64_equal);
    for (guint i = 0; i < expected; i++) {
        g_autoptr(NwAssemblyItem) item =
            g_list_model_get_item(nw_search_session_get_assemblies(session), i);
        const NwFoundAssembly *finding = nw_assembly_item_get(item);
        ck_assert_uint_eq(nw_assembly_item_get_order(item), i + 1);
        guint number = nw_assembly_item_get_number(item);
        ck_assert_uint_ge(number, 1);
        ck_assert_uint_le(number, expected);
        ck_assert_ptr_eq(sorted->pdata[number - 1], finding);
        ck_assert(g_hash_table_add(keys, (gpointer)&finding->key));
        if (finding->verdict == NW_OPENS)
            ck_assert_int_eq(finding->slide_count, finding->total);
        ck_assert_int_ne(finding->verdict, NW_UNEXAMINED);
    }
}

static NwStatus recolour(NwDesign *design, gpointer data) {
    (void)data;
    char *colour = design->pieces[0].colour;
    strcpy(colour, strcmp(colour, "#101010") == 0 ? "#202020" : "#101010");
    return NW_OK;
}

/* Searches this version, makes another of the same shapes, and adopts the list for it. */
static void adopt(void) {
    ck_assert(nw_search_session_start(session, NULL));
    await(has_answer);
    NwFounds founds = nw_search_session_founds(session);
    ck_assert_uint_eq(founds.count, 480);
    ck_assert(nw_document_apply(document, "Colour", recolour, NULL));
    ck_assert_int_eq(nw_search_session_get_state(session), NW_SEARCH_SESSION_STALE);
    nw_search_session_adopt(session, &founds);
    ck_assert_uint_eq(founds.count, 0);
}

START_TEST(what_is_adopted_is_answered_for_when_it_is_examined) {
    NwTally tally;
    NwAssemblyItem *answer;
    adopt();
    await(is_complete);
    if (nw_search_session_is_examining(session)) { /* it is soon over */
        ck_assert(!nw_search_session_answer(session, &tally, &answer));
        ck_assert_ptr_null(answer);
    }
    await(has_answer);
    ck_assert(!nw_search_session_is_examining(session));
    assert_rows(480);
    ck_assert(nw_search_session_answer(session, &tally, &answer));
    ck_assert_uint_eq(tally.fitting, 480);
    ck_assert_ptr_nonnull(answer);
    ck_assert_int_gt(nw_assembly_item_get(answer)->slide_count, 0);
    g_object_unref(answer);
}
END_TEST

/* The keys of the rows by their numbers. */
static GArray *keys_by_number(void) {
    guint count = count_rows();
    GArray *keys = g_array_sized_new(FALSE, TRUE, sizeof(guint64), count);
    g_array_set_size(keys, count);
    for (guint i = 0; i < count; i++) {
        g_autoptr(NwAssemblyItem) item =
            g_list_model_get_item(nw_search_session_get_assemblies(session), i);
        guint number = nw_assembly_item_get_number(item);
        ck_assert(number >= 1 && number <= count);
        g_array_index(keys, guint64, number - 1) = nw_assembly_item_get(item)->key;
    }
    return keys;
}

static void assert_same_numbers(const GArray *wanted) {
    g_autoptr(GArray) found = keys_by_number();
    ck_assert_uint_eq(found->len, wanted->len);
    ck_assert_mem_eq(found->data, wanted->data, wanted->len * sizeof(guint64));
}

/* Whoever asks, and whenever: the same number means the same assembly. While the search runs there
 * is none, for it would become another. */
START_TEST(numbers_are_the_same_after_undo_and_for_the_command) {
    ck_assert(nw_search_session_start(session, NULL));
    await(has_some);
    if (nw_search_session_get_state(session) == NW_SEARCH_SESSION_RUNNING) {
        g_autoptr(NwAssemblyItem) first =
            g_list_model_get_item(nw_search_session_get_assemblies(session), 0);
        ck_assert_uint_eq(nw_assembly_item_get_number(first), 0);
    }
    await(has_answer);
    assert_rows(480);
    g_autoptr(GArray) keys = keys_by_number();

    ck_assert(nw_document_apply(document, "Colour", recolour, NULL));
    assert_same_numbers(keys); /* stale, but they can still be talked about */
    ck_assert(nw_document_undo(document));
    ck_assert_int_eq(nw_search_session_get_state(session), NW_SEARCH_SESSION_READING);
    await(has_answer);
    assert_same_numbers(keys);

    const NwInquiry inquiry = {.design = nw_document_get_design(document),
                               .store = nw_library_get_path(library),
                               .version = nw_document_get_version(document)};
    NwSearchResults results;
    ck_assert(nw_inquire(&inquiry, NULL, &results, NULL));
    ck_assert_uint_eq(results.findings->len, keys->len);
    for (guint i = 0; i < keys->len; i++)
        ck_assert_uint_eq(((NwFoundAssembly *)results.findings->pdata[i])->key,
                          g_array_index(keys, guint64, i));
    nw_search_results_clear(&results);
    ck_assert_uint_eq(nw_search_session_number_of(session, g_array_index(keys, guint64, 7)), 8);
}
END_TEST

/* Somebody who cannot wait for what is read: the search goes on from there. */
START_TEST(what_is_being_read_can_be_searched_at_once) {
    ck_assert(nw_search_session_start(session, NULL));
    await(has_answer);
    ck_assert(nw_document_apply(document, "Colour", recolour, NULL));
    ck_assert(nw_document_undo(document));
    ck_assert_int_eq(nw_search_session_get_state(session), NW_SEARCH_SESSION_READING);
    ck_assert(nw_search_session_start(session, NULL));
    await(has_answer);
    assert_rows(480);
}
END_TEST

START_TEST(an_edit_ends_the_examining) {
    adopt();
    await(is_complete);
    ck_assert(nw_document_apply(document, "Colour", recolour, NULL));
    ck_assert_int_eq(nw_search_session_get_state(session), NW_SEARCH_SESSION_STALE);
    ck_assert(!nw_search_session_is_examining(session));
    ck_assert(nw_document_undo(document)); /* to the list as far as it was examined */
    ck_assert(nw_search_session_start(session, NULL));
    await(has_answer);
    assert_rows(480);
}
END_TEST

/* ---- lending ----------------------------------------------------------------------------- */

static void search_elsewhere(void) {
    const NwInquiry inquiry = {.design = nw_document_get_design(document),
                               .store = nw_library_get_path(library),
                               .version = nw_document_get_version(document)};
    NwSearchResults results;
    ck_assert(nw_inquire(&inquiry, NULL, &results, NULL));
    ck_assert_uint_eq(results.findings->len, 480);
    nw_search_results_clear(&results);
}

START_TEST(a_run_that_is_lent_is_taken_back_with_what_was_found) {
    if (_i) {
        ck_assert(nw_search_session_start(session, NULL));
        await(has_some);
    }
    gboolean running = nw_search_session_get_state(session) == NW_SEARCH_SESSION_RUNNING;
    nw_search_session_lend(session);
    if (running)
        ck_assert_int_eq(nw_search_session_get_state(session), NW_SEARCH_SESSION_PAUSED);
    search_elsewhere();
    nw_search_session_take_back(session);
    await(has_answer);
    assert_rows(480);
}
END_TEST

/* Another version has come about: its list is not that of the one before. */
START_TEST(what_has_changed_is_not_taken_back) {
    ck_assert(nw_search_session_start(session, NULL));
    await(has_some);
    nw_search_session_lend(session);
    ck_assert(nw_document_apply(document, "Colour", recolour, NULL));
    nw_search_session_take_back(session);
    ck_assert_int_eq(nw_search_session_get_state(session), NW_SEARCH_SESSION_STALE);
}
END_TEST

/* ---- strokes ----------------------------------------------------------------------------- */

/* F5 while the brush is down: what is searched is not kept as the version before the stroke. */
START_TEST(a_search_ends_the_stroke) {
    gint64 before = nw_document_get_version(document);
    const NwDesign *design = nw_document_get_design(document);
    NwSolid *cell = nw_solid_new();
    nw_solid_add(cell, nw_cell_at(&design->pieces[0].solid->cells[0]), 31);
    nw_document_begin_stroke(document, NW_TOUCH_TAKE);
    nw_document_touch(document, cell);
    nw_solid_free(cell);
    nw_search_session_start(session, NULL);
    ck_assert(!nw_document_in_stroke(document));
    ck_assert_int_ne(nw_document_get_version(document), before);
    g_autoptr(GPtrArray) runs = nw_library_list_runs(library, before, NULL);
    ck_assert_uint_eq(runs->len, 0);
}
END_TEST

/* ---- removed by somebody else ---------------------------------------------------------------- */

static guint times_gone;

static void count_gone(void) {
    times_gone++;
}

/* What is on the bench stays there, may be edited on, and is saved again when it is kept. */
START_TEST(what_others_remove_stays_on_the_bench) {
    times_gone = 0;
    g_signal_connect(document, "notify::gone", G_CALLBACK(count_gone), NULL);
    ck_assert(nw_document_apply(document, "Colour", recolour, NULL));
    nw_document_look(document);
    ck_assert(!nw_document_is_gone(document));
    NwLibrary *other = nw_library_open(nw_library_get_path(library), NW_LIBRARY_READ_WRITE, NULL);
    ck_assert(nw_library_remove_design(other, nw_document_get_design_id(document), NULL));
    if (_i) /* told, or noticed at the next edit */
        nw_document_look(document);
    ck_assert(nw_document_apply(document, "Colour", recolour, NULL));
    ck_assert(nw_document_is_gone(document));
    ck_assert_uint_eq(times_gone, 1);
    ck_assert_ptr_null(nw_document_dup_undo(document));
    ck_assert(!nw_document_undo(document));
    NwDesign *wanted = nw_design_copy(nw_document_get_design(document));
    ck_assert(nw_document_create(document, wanted, NULL));
    ck_assert(!nw_document_is_gone(document));
    ck_assert_uint_eq(times_gone, 2);
    NwDesign *kept = nw_library_load_design(other, nw_document_get_version(document), NULL);
    ck_assert(store_same(kept, wanted));
    ck_assert(nw_document_apply(document, "Colour", recolour, NULL));
    ck_assert_int_gt(nw_document_get_version(document), 0);
    nw_design_free(kept);
    nw_design_free(wanted);
    nw_library_close(other);
}
END_TEST

/* With what a finished search has found, which comes into the store again. */
START_TEST(what_is_kept_keeps_its_list) {
    ck_assert(nw_search_session_start(session, NULL));
    await(has_answer);
    NwLibrary *other = nw_library_open(nw_library_get_path(library), NW_LIBRARY_READ_WRITE, NULL);
    ck_assert(nw_library_remove_design(other, nw_document_get_design_id(document), NULL));
    nw_document_look(document);
    ck_assert(nw_document_is_gone(document));
    NwFounds founds = nw_search_session_founds(session);
    NwDesign *kept = nw_design_copy(nw_document_get_design(document));
    ck_assert(nw_document_create(document, kept, NULL));
    nw_search_session_adopt(session, &founds);
    await(has_answer);
    ck_assert_ptr_null(nw_search_session_get_message(session));
    assert_rows(480);
    g_autoptr(GPtrArray) runs =
        nw_library_list_runs(other, nw_document_get_version(document), NULL);
    ck_assert_uint_eq(runs->len, 1);
    ck_assert_int_eq(((NwRun *)runs->pdata[0])->found, 480);
    nw_design_free(kept);
    nw_library_close(other);
}
END_TEST

/* ---- versions that could not be saved ------------------------------------------------------ */

START_TEST(what_could_not_be_saved_is_searched) {
    ck_assert(nw_library_run(library,
                             "CREATE TEMP TRIGGER full BEFORE INSERT ON version "
                             "BEGIN SELECT raise(ABORT, 'full'); END",
                             NULL));
    ck_assert(nw_document_apply(document, "Colour", recolour, NULL));
    ck_assert_int_lt(nw_document_get_version(document), 0);
    ck_assert(nw_search_session_start(session, NULL));
    nw_search_session_lend(session); /* there is nothing to be shared */
    ck_assert_int_eq(nw_search_session_get_state(session), NW_SEARCH_SESSION_RUNNING);
    search_elsewhere();
    nw_search_session_take_back(session);
    await(has_answer);
    ck_assert_ptr_null(nw_search_session_get_message(session));
    assert_rows(480);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("search-session");
    TCase *group = tcase_create("session");
    tcase_set_timeout(group, 200);
    tcase_add_checked_fixture(group, set_up, tear_down);
    tcase_add_test(group, what_is_adopted_is_answered_for_when_it_is_examined);
    tcase_add_test(group, an_edit_ends_the_examining);
    tcase_add_loop_test(group, what_others_remove_stays_on_the_bench, 0, 2);
    tcase_add_test(group, what_is_kept_keeps_its_list);
    tcase_add_test(group, numbers_are_the_same_after_undo_and_for_the_command);
    tcase_add_test(group, what_is_being_read_can_be_searched_at_once);
    tcase_add_loop_test(group, a_run_that_is_lent_is_taken_back_with_what_was_found, 0, 2);
    tcase_add_test(group, what_has_changed_is_not_taken_back);
    tcase_add_test(group, a_search_ends_the_stroke);
    tcase_add_test(group, what_could_not_be_saved_is_searched);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
