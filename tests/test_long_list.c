/* A list of hundreds of thousands of assemblies comes from the store into the window's list page by
 * page: the main loop turns in between, and in the end all are there, numbered. */
#include <check.h>
#include <stdlib.h>

#include "fit/fit.h"
#include "format/design_json.h"
#include "job/run_store.h"
#include "session/search_session.h"
#include "store/runs.h"
#include "store_fixture.h"
#include "suite.h"

/* Nine cubes, each a piece of its own, in an outside shape that no motion carries to itself: as
 * many assemblies as there are orders of nine. */
enum { CUBES = 9, ASSEMBLIES = 362880, PATIENCE_SECONDS = 200, MOST_A_TURN = 5000 };

static const NwVec cells[CUBES] = {{0, 0, 0}, {1, 0, 0}, {2, 0, 0}, {3, 0, 0}, {0, 1, 0},
                                   {1, 1, 0}, {2, 1, 0}, {0, 2, 0}, {0, 0, 1}};

static NwDesign *nine_cubes(void) {
    g_autoptr(GString) envelope = g_string_new(NULL);
    g_autoptr(GString) pieces = g_string_new(NULL);
    for (int i = 0; i < CUBES; i++) {
        g_autofree char *cell =
            g_strdup_printf("[%d,%d,%d,31]", cells[i].x, cells[i].y, cells[i].z);
        g_string_append_printf(envelope, "%s%s", i ? "," : "", cell);
        g_string_append_printf(pieces, "%s{\"name\":\"%c\",\"colour\":\"#808080\",\"cells\":[%s]}",
                               i ? "," : "", 'A' + i, cell);
    }
    g_autofree char *text =
        g_strdup_printf("{\"format\":\"notchwright design\",\"version\":1,\"name\":\"Nine\","
                        "\"envelope\":{\"cells\":[%s]},\"pieces\":[%s]}",
                        envelope->str, pieces->str);
    NwDesign *design = nw_design_from_json(text, -1, NULL, NULL);
    ck_assert_ptr_nonnull(design);
    return design;
}

/* All that fits, as a search that does not look at slides would leave it. */
static GPtrArray *find_all(const NwDesign *design) {
    GPtrArray *found = g_ptr_array_new_with_free_func((GDestroyNotify)nw_stored_assembly_free);
    NwFit *fit;
    NwAssembly assembly;
    NwStatus status;
    ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){0}, &fit), NW_OK);
    NwFitSearch *search = nw_fit_search_new(fit);
    while ((status = nw_fit_search_step(search, 100000, &assembly)) != NW_NONE)
        if (status == NW_OK)
            g_ptr_array_add(found, nw_stored_assembly_new(assembly.key, assembly.placements,
                                                          (gsize)assembly.count));
    nw_fit_search_free(search);
    nw_fit_free(fit);
    return found;
}

static void keep(NwDocument *document, GPtrArray *found) {
    NwLibrary *library = nw_document_get_library(document);
    NwSearchOptions options = {0};
    NwRunStore *record =
        nw_run_store_open(library, nw_document_get_version(document), &options, NULL);
    ck_assert_ptr_nonnull(record);
    NwRunSave save = {.state = NW_RUN_COMPLETE, .share = 1, .assemblies = found};
    ck_assert(nw_library_save_run(library, nw_run_store_run(record)->id, &save, NULL));
    nw_run_store_free(record);
}

typedef struct Arrivals {
    guint rows, batches, largest;
    gboolean was_reading; /* the list said how many there would be */
    NwSearchSession *session;
} Arrivals;

static void count_rows(Arrivals *arrivals, guint position, guint removed, guint added) {
    ck_assert_uint_eq(position, arrivals->rows);
    ck_assert_uint_eq(removed, 0);
    arrivals->rows += added;
    arrivals->batches++;
    arrivals->largest = MAX(arrivals->largest, added);
    arrivals->was_reading |= nw_search_session_get_reading(arrivals->session) == ASSEMBLIES;
}

static void await_numbers(NwSearchSession *session, gboolean *numbered) {
    gint64 end = g_get_monotonic_time() + PATIENCE_SECONDS * G_USEC_PER_SEC;
    while (!*numbered) {
        ck_assert_int_lt(g_get_monotonic_time(), end);
        ck_assert_int_ne(nw_search_session_get_state(session), NW_SEARCH_SESSION_FAILED);
        if (!g_main_context_iteration(NULL, FALSE))
            g_usleep(1000);
    }
}

static void set_true(gboolean *flag) {
    *flag = TRUE;
}

static void assert_all_are_there(GListModel *rows) {
    ck_assert_uint_eq(g_list_model_get_n_items(rows), ASSEMBLIES);
    g_autofree gboolean *has_number = g_new0(gboolean, ASSEMBLIES + 1);
    g_autoptr(GHashTable) keys = g_hash_table_new(g_int64_hash, g_int64_equal);
    for (guint i = 0; i < ASSEMBLIES; i++) {
        g_autoptr(NwAssemblyItem) item = g_list_model_get_item(rows, i);
        guint number = nw_assembly_item_get_number(item);
        ck_assert(number >= 1 && number <= ASSEMBLIES && !has_number[number]);
        has_number[number] = TRUE;
        ck_assert(g_hash_table_add(keys, (gpointer)&nw_assembly_item_get(item)->key));
        ck_assert_int_eq(nw_assembly_item_get(item)->placement_count, CUBES);
    }
}

START_TEST(a_long_list_is_read_in_pages) {
    store_folder_make();
    NwLibrary *library = nw_library_open(store_file("a.notch"), NW_LIBRARY_CREATE, NULL);
    NwDesign *design = nine_cubes();
    NwDocument *document = nw_document_new(library);
    ck_assert(nw_document_create(document, design, NULL));
    g_autoptr(GPtrArray) found = find_all(nw_document_get_design(document));
    ck_assert_uint_eq(found->len, ASSEMBLIES);
    keep(document, found);

    gboolean numbered = FALSE;
    NwSearchSession *session = nw_search_session_new(document);
    Arrivals arrivals = {.session = session};
    ck_assert_int_eq(nw_search_session_get_state(session), NW_SEARCH_SESSION_READING);
    g_signal_connect_swapped(nw_search_session_get_assemblies(session), "items-changed",
                             G_CALLBACK(count_rows), &arrivals);
    g_signal_connect_swapped(session, "numbered", G_CALLBACK(set_true), &numbered);
    await_numbers(session, &numbered);
    ck_assert_int_eq(nw_search_session_get_state(session), NW_SEARCH_SESSION_COMPLETE);
    ck_assert_uint_eq(arrivals.rows, ASSEMBLIES);
    ck_assert_uint_le(arrivals.largest, MOST_A_TURN);
    ck_assert_uint_ge(arrivals.batches, ASSEMBLIES / MOST_A_TURN);
    ck_assert(arrivals.was_reading);
    assert_all_are_there(nw_search_session_get_assemblies(session));

    g_signal_handlers_disconnect_by_data(nw_search_session_get_assemblies(session), &arrivals);
    g_object_run_dispose(G_OBJECT(session));
    g_object_unref(session);
    g_object_unref(document);
    nw_design_free(design);
    nw_library_close(library);
    store_folder_remove();
}
END_TEST

int main(void) {
    Suite *suite = suite_create("long-list");
    TCase *group = tcase_create("long-list");
    tcase_set_timeout(group, 280);
    tcase_add_test(group, a_long_list_is_read_in_pages);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
