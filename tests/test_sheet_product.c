/* The sheet as a product: when it stops, what it takes from the store, what it says.
 * The arguments are the folder of the bundled designs and that of the catalogues of the build. */
#include <check.h>
#include <gio/gio.h>
#include <inttypes.h>
#include <libintl.h>
#include <locale.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>

#include "bench/instances.h"
#include "export/export_request.h"
#include "export/inquiry.h"
#include "export/products.h"
#include "format/design_json.h"
#include "job/run_store.h"
#include "pdf_fixture.h"
#include "store_fixture.h"
#include "suite.h"
#include "text/words.h"

static const char *design_folder, *catalogue_folder;

static NwDesign *bundled(const char *name) {
    g_autofree char *path = g_strdup_printf("%s/%s.json", design_folder, name);
    g_autoptr(GError) error = NULL;
    NwDesign *design = nw_design_load(path, &error);
    ck_assert_msg(design != NULL, "%s", error ? error->message : "no error");
    return design;
}

/* A request for out.pdf, where something is already. */
static NwExportRequest *commission_of(const NwDesign *design) {
    const NwProduct *product = nw_product_find("sheet");
    ck_assert_ptr_nonnull(product);
    NwExportRequest *request = nw_export_request_new(product, design);
    ck_assert(g_file_set_contents(store_file("out.pdf"), "as it was", -1, NULL));
    nw_export_request_set_out(request, store_file("out.pdf"));
    return request;
}

static NwExportReport *make(const NwExportRequest *request) {
    g_autoptr(GError) error = NULL;
    NwExportReport *made = nw_export_request_make(request, NULL, &error);
    ck_assert_msg(made != NULL, "%s", error ? error->message : "no error");
    return made;
}

static void assert_untouched(void) {
    g_autofree char *kept = NULL;
    ck_assert(g_file_get_contents(store_file("out.pdf"), &kept, NULL, NULL));
    ck_assert_str_eq(kept, "as it was");
}

/* ---- stopping ----------------------------------------------------------------------------- */

typedef struct Watcher {
    NwProgress *progress;
    double from; /* stops once the share of the whole is more */
    volatile gboolean over;
} Watcher;

static void *watch(void *data) {
    Watcher *watcher = data;
    while (!__atomic_load_n(&watcher->over, __ATOMIC_SEQ_CST)) {
        if (nw_progress_get(watcher->progress, NULL) > watcher->from)
            nw_progress_stop(watcher->progress);
        g_usleep(100);
    }
    return NULL;
}

/* Makes it, stopped at a share of the whole; TRUE if it was done before that was noticed. */
static gboolean make_and_stop(const NwExportRequest *request, double from) {
    Watcher watcher = {nw_progress_new(), from, FALSE};
    g_autoptr(GError) error = NULL;
    pthread_t thread;
    ck_assert_int_eq(pthread_create(&thread, NULL, watch, &watcher), 0);
    NwExportReport *made = nw_export_request_make(request, watcher.progress, &error);
    __atomic_store_n(&watcher.over, TRUE, __ATOMIC_SEQ_CST);
    pthread_join(thread, NULL);
    nw_progress_free(watcher.progress);
    if (made) {
        nw_export_report_free(made);
        return TRUE;
    }
    ck_assert_msg(g_error_matches(error, G_IO_ERROR, G_IO_ERROR_CANCELLED), "%s", error->message);
    return FALSE;
}

START_TEST(stopped_while_it_draws) {
    static const double shares[] = {0.61, 0.71, 0.8, 0.9};
    NwDesign *design = bundled("tide-chest");
    NwExportRequest *request = commission_of(design);
    int tries = 0;
    while (make_and_stop(request, shares[_i])) { /* too late: once more */
        ck_assert(g_file_set_contents(store_file("out.pdf"), "as it was", -1, NULL));
        ck_assert_int_lt(++tries, 100);
    }
    assert_untouched();
    nw_export_request_free(request);
    nw_design_free(design);
}
END_TEST

/* A search of some seconds; what it found until then stays in the store. */
START_TEST(stopped_while_it_searches) {
    NwDesign *design = nw_instance_build(nw_instance_find("pentominoes-3x4x5"));
    const char *path = store_file("a.notch");
    gint64 version;
    NwLibrary *library = nw_library_open(path, NW_LIBRARY_CREATE, NULL);
    ck_assert(nw_library_add_design(library, design, NULL, NULL, &version, NULL));
    nw_library_close(library);
    NwExportRequest *request = commission_of(design);
    nw_export_request_set_source(request, path, version);
    ck_assert(!make_and_stop(request, 0.01));
    assert_untouched();
    library = nw_library_open(path, NW_LIBRARY_READ_ONLY, NULL);
    NwRunStore *record = nw_run_store_open(library, version, &(NwSearchOptions){0}, NULL);
    ck_assert_ptr_nonnull(record);
    ck_assert_int_eq(nw_run_store_run(record)->state, NW_RUN_OPEN);
    ck_assert_int_gt(nw_run_store_run(record)->found, 0);
    nw_run_store_free(record);
    nw_library_close(library);
    nw_export_request_free(request);
    nw_design_free(design);
}
END_TEST

START_TEST(seconds_leave_no_claim) {
    NwDesign *design = nw_instance_build(nw_instance_find("pentominoes-3x4x5"));
    NwExportRequest *request = commission_of(design);
    g_autoptr(GError) error = NULL;
    ck_assert(nw_export_request_set_number(request, "seconds", 0.05, NULL));
    ck_assert_ptr_null(nw_export_request_make(request, NULL, &error));
    ck_assert_msg(g_error_matches(error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA), "%s",
                  error->message);
    ck_assert_msg(strstr(error->message, "one answer"), "%s", error->message);
    assert_untouched();
    nw_export_request_free(request);
    nw_design_free(design);
}
END_TEST

/* ---- the store ---------------------------------------------------------------------------- */

/* A run that says that it is complete, with all that the search needs to say so too, but of which
 * no assembly is stored. Whoever searched again would find the answer; whoever trusts the store
 * cannot. */
START_TEST(a_complete_search_is_not_repeated) {
    NwDesign *design = bundled("tide-chest");
    const char *path = store_file("a.notch");
    const NwSearchOptions options = {0};
    gint64 version;
    NwLibrary *library = nw_library_open(path, NW_LIBRARY_CREATE, NULL);
    ck_assert(nw_library_add_design(library, design, NULL, NULL, &version, NULL));
    NwRunStore *record = nw_run_store_open(library, version, &options, NULL);
    NwInquiry inquiry = {.design = design};
    NwSearchResults results;
    ck_assert(nw_inquire(&inquiry, NULL, &results, NULL));
    g_autoptr(GBytes) resume = nw_search_save(results.search);
    NwRunSave save = {.state = NW_RUN_COMPLETE, .share = 1, .resume = resume};
    ck_assert(nw_library_save_run(library, nw_run_store_run(record)->id, &save, NULL));
    nw_search_results_clear(&results);
    nw_run_store_free(record);

    NwExportRequest *request = commission_of(design);
    g_autoptr(GError) error = NULL;
    nw_export_request_set_source(request, path, version);
    ck_assert_ptr_null(nw_export_request_make(request, NULL, &error));
    ck_assert_msg(strstr(error->message, "there is no answer to give"), "%s", error->message);
    assert_untouched();

    record =
        nw_run_store_open(library, version, &options, NULL); /* anew, it is searched and kept */
    ck_assert(nw_run_store_restart(record, NULL));
    nw_run_store_free(record);
    nw_export_report_free(make(request));
    nw_export_report_free(make(request));
    record = nw_run_store_open(library, version, &options, NULL);
    ck_assert_int_eq(nw_run_store_run(record)->state, NW_RUN_COMPLETE);
    ck_assert_int_gt(nw_run_store_run(record)->found, 0);
    nw_run_store_free(record);
    nw_library_close(library);
    if (pdf_can_be_read()) {
        g_autofree char *words = pdf_words(store_file("out.pdf"));
        g_autofree char *wanted = g_strdup_printf("version %" PRId64 " of its store", version);
        ck_assert_msg(strstr(words, wanted) != NULL, "%s", words);
    }
    nw_export_request_free(request);
    nw_design_free(design);
}
END_TEST

/* ---- what it says ------------------------------------------------------------------------- */

static const char *const names[] = {"ember-lantern", "ember-lantern-chipped", "kite-harbour",
                                    "tide-chest", "quiet-comet"};

START_TEST(the_proof_counts_what_the_search_found) {
    NwDesign *design = bundled(names[_i]);
    NwExportRequest *request = commission_of(design);
    const NwInquiry inquiry = {.design = design};
    NwSearchResults results;
    ck_assert(nw_inquire(&inquiry, NULL, &results, NULL));
    NwTally tally = nw_tally_of_search(&results.progress);
    nw_export_request_set_switch(request, "no-claim", tally.opening > 1);
    nw_export_report_free(make(request));
    if (pdf_can_be_read()) {
        g_autofree char *words = pdf_words(store_file("out.pdf"));
        g_autofree char *fitting =
            g_strdup_printf(tally.fitting == 1 ? "%" PRIu64 " assembly of these pieces fits. "
                                               : "%" PRIu64 " assemblies of these pieces fit. ",
                            tally.fitting);
        g_autofree char *opening =
            g_strdup_printf("%" PRIu64 " of them can be put together by slides.", tally.opening);
        g_autofree char *closed =
            g_strdup_printf("%" PRIu64 " %s proved to be unreachable.", tally.unreachable,
                            tally.unreachable == 1 ? "is" : "are");
        g_autofree char *takes =
            g_strdup_printf("takes %d slide", nw_search_results_answer(&results)->total);
        const NwFoundAssembly *answer = nw_search_results_answer(&results);
        NwLevels levels = nw_levels_of(answer->slides, answer->slide_count);
        g_autofree char *list = nw_words_levels(&levels);
        ck_assert_ptr_nonnull(strstr(words, list));
        ck_assert_msg(strstr(words, fitting) && strstr(words, opening) && strstr(words, takes),
                      "%s", words);
        ck_assert_int_eq(strstr(words, closed) != NULL, tally.unreachable > 0);
        ck_assert_int_eq(strstr(words, "the only one") != NULL, tally.opening == 1);
    }
    nw_search_results_clear(&results);
    nw_export_request_free(request);
    nw_design_free(design);
}
END_TEST

/* At 5 millimetres a cell every piece goes into a mouth; at 60 none does. Tips prick at any size.
 */
START_TEST(the_front_says_what_to_mind) {
    static const struct {
        double cell_mm;
        gboolean small;
    } rows[] = {{5, TRUE}, {60, FALSE}};
    NwDesign *design = bundled("kite-harbour");
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        NwExportRequest *request = commission_of(design);
        nw_export_request_set_switch(request, "challenge", TRUE);
        ck_assert(nw_export_request_set_number(request, "cell-mm", rows[i].cell_mm, NULL));
        NwExportReport *made = make(request);
        gboolean small = FALSE, tips = FALSE;
        for (guint k = 0; k < made->cautions->len; k++) {
            small |= strstr(made->cautions->pdata[k], "16 CFR 1501.4") != NULL;
            tips |= strstr(made->cautions->pdata[k], "sharp tip") != NULL;
        }
        ck_assert_int_eq(small, rows[i].small);
        ck_assert(tips);
        if (pdf_can_be_read()) {
            double width, height;
            g_autofree char *words = pdf_words(store_file("out.pdf"));
            ck_assert_int_eq(strstr(words, "small enough to be swallowed") != NULL, small);
            ck_assert_ptr_nonnull(strstr(words, "sharp tips"));
            ck_assert_ptr_nonnull(strstr(words, "Local rules and the advice"));
            ck_assert_int_eq(pdf_pages(store_file("out.pdf"), &width, &height), 1);
            pdf_assert_inside(store_file("out.pdf"));
        }
        nw_export_report_free(made);
        nw_export_request_free(request);
    }
    nw_design_free(design);
}
END_TEST

START_TEST(it_speaks_the_language_of_its_user) {
    g_autofree char *catalogue =
        g_build_filename(catalogue_folder, "de", "LC_MESSAGES", "notchwright.mo", NULL);
    if (!g_file_test(catalogue, G_FILE_TEST_EXISTS) || !setlocale(LC_ALL, "C.UTF-8")) {
        printf("no German catalogue or no C.UTF-8: its words were not looked at\n");
        return;
    }
    g_setenv("LANG", "de_DE.UTF-8", TRUE);
    g_setenv("LANGUAGE", "de", TRUE);
    bindtextdomain("notchwright", catalogue_folder);
    bind_textdomain_codeset("notchwright", "UTF-8");
    textdomain("notchwright");
    NwDesign *design = bundled("tide-chest");
    NwExportRequest *request = commission_of(design);
    nw_export_report_free(make(request));
    if (pdf_can_be_read()) {
        g_autofree char *words = pdf_words(store_file("out.pdf"));
        static const char *const german[] = {"Die Stücke", "hier nach hinten falten",
                                             "Der Weg hinein",
                                             "Also ist die Lösung oben die einzige."};
        for (gsize i = 0; i < G_N_ELEMENTS(german); i++)
            ck_assert_msg(strstr(words, german[i]) != NULL, "lacks “%s”: %s", german[i], words);
        ck_assert_ptr_null(strstr(words, "The way in"));
    }
    nw_export_request_free(request);
    nw_design_free(design);
}
END_TEST

int main(int argc, char **argv) {
    design_folder = argc > 1 ? argv[1] : "data/designs";
    catalogue_folder = argc > 2 ? argv[2] : "build/po";
    Suite *suite = suite_create("sheet-product");
    TCase *group = tcase_create("sheet-product");
    tcase_add_checked_fixture(group, store_folder_make, store_folder_remove);
    tcase_set_timeout(group, 120);
    tcase_add_loop_test(group, stopped_while_it_draws, 0, 4);
    tcase_add_test(group, stopped_while_it_searches);
    tcase_add_test(group, seconds_leave_no_claim);
    tcase_add_test(group, a_complete_search_is_not_repeated);
    tcase_add_loop_test(group, the_proof_counts_what_the_search_found, 0, G_N_ELEMENTS(names));
    tcase_add_test(group, the_front_says_what_to_mind);
    tcase_add_test(group, it_speaks_the_language_of_its_user);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
