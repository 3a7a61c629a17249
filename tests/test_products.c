/* Every row of the products' table, on the designs that come with Notchwright.
 * The first argument is the folder of the bundled designs. */
#include <check.h>
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <math.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>

#include "export/export_request.h"
#include "export/option_words.h"
#include "export/products.h"
#include "make_fixture.h"
#include "suite.h"

static const char *design_folder;

/* The designs that more than one assembly opens of (data/designs/README.md): a sheet that says
 * there is one answer is refused. */
static const char *const cooked[] = {"Ember Lantern, chipped"};

static const NwProduct *const *each_product(void) {
    static const NwProduct *rows[16];
    for (size_t i = 0; i + 1 < G_N_ELEMENTS(rows); i++)
        rows[i] = nw_product(i);
    return rows;
}

static guint count_files(const char *folder) {
    GDir *dir = g_dir_open(folder, 0, NULL);
    ck_assert_ptr_nonnull(dir);
    guint count = 0;
    while (g_dir_read_name(dir))
        count++;
    g_dir_close(dir);
    return count;
}

/* A request that goes into the folder, to the file with that ending. */
static NwExportRequest *commission_into(const char *folder, const NwProduct *product,
                                        const NwDesign *design, const char *ending) {
    NwExportRequest *request = nw_export_request_new(product, design);
    g_autofree char *name = g_strconcat("made", ending, NULL);
    g_autofree char *path = g_build_filename(folder, name, NULL);
    nw_export_request_set_out(request, product->target == NW_EXPORT_TARGET_FOLDER ? folder : path);
    return request;
}

static const char *first_ending(const NwProduct *product) {
    return product->target == NW_EXPORT_TARGET_FOLDER ? "" : product->endings[0];
}

/* One sentence: something is said, on one line, without a full stop or with nothing after it. */
static void check_sentence(const GError *error) {
    ck_assert_ptr_nonnull(error);
    ck_assert_uint_gt(strlen(error->message), 10);
    ck_assert_ptr_null(strchr(error->message, '\n'));
    const char *stop = strstr(error->message, ". ");
    ck_assert_msg(!stop || strstr(stop, " Take "), "%s", error->message);
}

/* Makes it, which must be refused, with nothing left in the folder. The caller frees. */
static GError *make_refused(const NwExportRequest *request, NwProgress *progress,
                            const char *folder) {
    GError *error = NULL;
    NwExportReport *report = nw_export_request_make(request, progress, &error);
    ck_assert_msg(report == NULL, "%s is not refused", request->product->name);
    check_sentence(error);
    ck_assert_uint_eq(count_files(folder), 0);
    return error;
}

/* ---- what is made ------------------------------------------------------------------------- */

/* All but the sheet lead to tools, and so to cautions on every design. A sheet tells of its pieces
 * alone, which may be neither small nor sharp. */
static gboolean must_caution(const NwProduct *product) {
    return strcmp(product->name, "sheet") != 0;
}

static void check_made(const NwExportReport *report, const char *folder, const NwProduct *product) {
    ck_assert_uint_gt(report->paths->len, 0);
    ck_assert_msg(report->cautions->len || !must_caution(product), "%s has no caution",
                  product->name);
    for (guint i = 0; i < report->paths->len; i++) {
        GStatBuf status;
        ck_assert_int_eq(g_stat(report->paths->pdata[i], &status), 0);
        ck_assert_msg(status.st_size > 0, "%s is empty", (const char *)report->paths->pdata[i]);
    }
    ck_assert_uint_eq(count_files(folder), report->paths->len);
    for (guint i = 0; i < report->cautions->len; i++)
        ck_assert_uint_gt(strlen(report->cautions->pdata[i]), 10);
}

static void make_with_ending(const NwProduct *product, const NwDesign *design, const char *ending) {
    char *folder = nw_make_scratch();
    NwExportRequest *request = commission_into(folder, product, design, ending);
    g_autoptr(GError) error = NULL;
    NwExportReport *report = nw_export_request_make(request, NULL, &error);
    if (report) {
        check_made(report, folder, product);
    } else {
        gboolean may_be =
            strcmp(product->name, "sheet") == 0 && strcmp(design->name, cooked[0]) == 0;
        ck_assert_msg(may_be, "%s of %s: %s", product->name, design->name, error->message);
        check_sentence(error);
        ck_assert_uint_eq(count_files(folder), 0);
    }
    nw_export_report_free(report);
    nw_export_request_free(request);
    nw_make_clean(folder);
}

static void make_all(const NwDesign *design) {
    for (const NwProduct *const *row = each_product(); *row; row++) {
        if ((*row)->target == NW_EXPORT_TARGET_FOLDER)
            make_with_ending(*row, design, "");
        else
            for (const char *const *ending = (*row)->endings; *ending; ending++)
                make_with_ending(*row, design, *ending);
    }
}

START_TEST(every_design_gives_every_product) {
    nw_make_each_design(design_folder, make_all);
    ck_assert_ptr_nonnull(nw_product_find("mesh"));
    ck_assert_ptr_null(nw_product_find("meshes"));
}
END_TEST

/* ---- options ------------------------------------------------------------------------------ */

static void check_number(NwExportRequest *request, const NwOption *option) {
    double step = fmax(1e-6, 1e-6 * option->most);
    const double wrong[] = {option->least - step, option->most + step, NAN, INFINITY, -INFINITY};
    ck_assert(option->standard >= option->least && option->standard <= option->most);
    ck_assert_double_eq(nw_export_request_number(request, option->name), option->standard);
    for (size_t i = 0; i < G_N_ELEMENTS(wrong); i++) {
        g_autoptr(GError) error = NULL;
        ck_assert(!nw_export_request_set_number(request, option->name, wrong[i], &error));
        ck_assert(g_error_matches(error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE));
        check_sentence(error);
        ck_assert_ptr_nonnull(strstr(error->message, option->name));
        ck_assert(!nw_export_request_is_set(request, option->name));
    }
    ck_assert(nw_export_request_set_number(request, option->name, option->most, NULL));
    ck_assert_double_eq(nw_export_request_number(request, option->name), option->most);
    ck_assert(nw_export_request_set_number(request, option->name, option->least, NULL));
    ck_assert(nw_export_request_is_set(request, option->name));
}

static void check_choice(NwExportRequest *request, const NwOption *option) {
    g_autoptr(GError) error = NULL;
    ck_assert_uint_gt(option->choice_count, 1);
    ck_assert_str_eq(nw_export_request_choice(request, option->name), option->choices[0].word);
    ck_assert(!nw_export_request_set_choice(request, option->name, "lead", &error));
    check_sentence(error);
    ck_assert_ptr_nonnull(strstr(error->message, "lead"));
    for (size_t i = 0; i < option->choice_count; i++) {
        g_autofree char *large = g_ascii_strup(option->choices[i].word, -1);
        ck_assert(nw_export_request_set_choice(request, option->name, large, NULL));
        ck_assert_str_eq(nw_export_request_choice(request, option->name), option->choices[i].word);
    }
}

START_TEST(options_keep_their_bounds) {
    NwDesign *design = nw_make_named("cube", 1);
    for (const NwProduct *const *row = each_product(); *row; row++) {
        NwExportRequest *request = nw_export_request_new(*row, design);
        for (size_t i = 0; i < (*row)->option_count; i++) {
            const NwOption *option = &(*row)->options[i];
            ck_assert_ptr_nonnull(option->label);
            ck_assert_ptr_nonnull(option->help);
            if (option->kind == NW_OPTION_NUMBER)
                check_number(request, option);
            else if (option->kind == NW_OPTION_CHOICE)
                check_choice(request, option);
            else {
                ck_assert(!nw_export_request_switch(request, option->name));
                nw_export_request_set_switch(request, option->name, TRUE);
                ck_assert(nw_export_request_switch(request, option->name));
            }
        }
        nw_export_request_free(request);
    }
    nw_design_free(design);
}
END_TEST

/* ---- refusals ----------------------------------------------------------------------------- */

static void refuse_design(const NwDesign *design, const char *word) {
    char *folder = nw_make_scratch();
    for (const NwProduct *const *row = each_product(); *row; row++) {
        NwExportRequest *request = commission_into(folder, *row, design, first_ending(*row));
        GError *error = make_refused(request, NULL, folder);
        ck_assert_msg(strstr(error->message, word) != NULL, "%s", error->message);
        g_error_free(error);
        nw_export_request_free(request);
    }
    nw_make_clean(folder);
}

/* The window has no "--sheet-mm": what a refusal says of an option is said of its label there, and
 * what is no option of the product, or only begins like one, stays. */
START_TEST(the_window_is_told_of_labels) {
    static const char *const told[][2] = {
        {"--cell-mm must be a number", "“Cell size” must be a number"},
        {"use thinner sheet (--sheet-mm) or larger cells (--cell-mm)",
         "use thinner sheet (“Sheet thickness”) or larger cells (“Cell size”)"},
        {"--out is missing -- name one", "--out is missing -- name one"},
        {"--cell-mms, --cell and --", "--cell-mms, --cell and --"},
        {"", ""},
    };
    const NwProduct *product = nw_product_find("cuts");
    for (size_t i = 0; i < G_N_ELEMENTS(told); i++) {
        g_autofree char *text = nw_option_words_dup_for_window(product, told[i][0]);
        ck_assert_str_eq(text, told[i][1]);
    }
}
END_TEST

START_TEST(empty_designs_are_refused) {
    NwDesign *design = nw_make_named("cube", 1);
    nw_design_take_piece(design, "Nothing", nw_solid_new());
    refuse_design(design, "Nothing");
    nw_design_free(design);
    design = nw_design_new("empty");
    refuse_design(design, "no pieces");
    nw_design_free(design);
}
END_TEST

START_TEST(wrong_targets_are_refused) {
    NwDesign *design = nw_make_design(design_folder, "tide-chest.json");
    char *folder = nw_make_scratch();
    for (const NwProduct *const *row = each_product(); *row; row++) {
        NwExportRequest *request = nw_export_request_new(*row, design);
        g_error_free(make_refused(request, NULL, folder)); /* no target at all */
        nw_export_request_free(request);
        if ((*row)->target == NW_EXPORT_TARGET_FOLDER)
            continue;
        request = commission_into(folder, *row, design, ".txt");
        GError *error = make_refused(request, NULL, folder);
        ck_assert_ptr_nonnull(strstr(error->message, (*row)->endings[0]));
        g_error_free(error);
        nw_export_request_free(request);
    }
    nw_make_clean(folder);
    nw_design_free(design);
}
END_TEST

/* What cannot be made with options that are all within their bounds. */
START_TEST(what_cannot_be_made_leaves_nothing) {
    static const struct {
        const char *product, *option;
        double number;
    } rows[] = {{"nets", "cell-mm", 500},
                {"mesh", "clearance-mm", 20},
                {"cuts", "sheet-mm", 10},
                {"cuts", "stock-width-mm", 300},
                {"cuts", "stock-height-mm", 300}};
    NwDesign *design = nw_make_design(design_folder, "tide-chest.json");
    char *folder = nw_make_scratch();
    const NwProduct *product = nw_product_find(rows[_i].product);
    NwExportRequest *request = commission_into(folder, product, design, first_ending(product));
    ck_assert(nw_export_request_set_number(request, rows[_i].option, rows[_i].number, NULL));
    g_error_free(make_refused(request, NULL, folder));
    nw_export_request_free(request);
    nw_make_clean(folder);
    nw_design_free(design);
}
END_TEST

/* Makes nothing but the panels, on sheets of that size; the caller frees, NULL if refused. */
static NwExportReport *make_nested(const char *folder, const NwDesign *design, double width,
                                   double height, gboolean grain, GError **error) {
    NwExportRequest *request = commission_into(folder, nw_product_find("cuts"), design, "");
    ck_assert(nw_export_request_set_choice(request, "only", "panels", NULL));
    ck_assert(nw_export_request_set_number(request, "stock-width-mm", width, NULL));
    ck_assert(nw_export_request_set_number(request, "stock-height-mm", height, NULL));
    nw_export_request_set_switch(request, "grain", grain);
    NwExportReport *report = nw_export_request_make(request, NULL, error);
    nw_export_request_free(request);
    return report;
}

/* Six panels of 20 by 20 mm, 6 mm apart: all on one sheet of 72 by 46 mm, two on a sheet of 46 by
 * 20 mm, none on one that is lower. */
START_TEST(panels_are_laid_out_on_stock) {
    static const struct {
        double width, height;
        gboolean grain;
        const char *remark; /* NULL: refused */
    } rows[] = {{72, 46, FALSE, "The panels need 1 sheet of 72 × 46 mm."},
                {72, 46, TRUE, "The panels need 1 sheet of 72 × 46 mm."},
                {46, 20, FALSE, "The panels need 3 sheets of 46 × 20 mm."},
                {46, 19.9, FALSE, NULL}};
    NwDesign *design = nw_make_named("cube", 1);
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        char *folder = nw_make_scratch();
        g_autoptr(GError) error = NULL;
        NwExportReport *report =
            make_nested(folder, design, rows[i].width, rows[i].height, rows[i].grain, &error);
        if (rows[i].remark) {
            ck_assert_msg(report != NULL, "%s", error ? error->message : "");
            ck_assert_uint_eq(report->remarks->len, 1);
            ck_assert_str_eq(report->remarks->pdata[0], rows[i].remark);
            check_made(report, folder, nw_product_find("cuts"));
        } else {
            ck_assert_ptr_null(report);
            check_sentence(error);
            ck_assert_ptr_nonnull(strstr(error->message, "--stock-width-mm"));
            ck_assert_uint_eq(count_files(folder), 0);
        }
        nw_export_report_free(report);
        nw_make_clean(folder);
    }
    nw_design_free(design);
    /* A bar of three cells, 60 by 20 mm: it does not lie across a sheet of 20 mm with a grain. */
    design = nw_design_new("bar");
    NwSolid *bar = nw_solid_new();
    for (int x = 0; x < 3; x++)
        nw_solid_add(bar, nw_vec(x, 0, 0), NW_WHOLE);
    nw_design_take_piece(design, "Bar", bar);
    for (int grain = 0; grain < 2; grain++) {
        char *folder = nw_make_scratch();
        g_autoptr(GError) error = NULL;
        NwExportReport *report = make_nested(folder, design, 50, 200, grain, &error);
        ck_assert_msg((report != NULL) == !grain, "grain %d", grain);
        nw_export_report_free(report);
        nw_make_clean(folder);
    }
    nw_design_free(design);
}
END_TEST

/* A folder that is a file, and a file in a folder that is not there. */
START_TEST(what_cannot_be_written_is_told) {
    NwDesign *design = nw_make_design(design_folder, "tide-chest.json");
    char *folder = nw_make_scratch();
    g_autofree char *missing = g_build_filename(folder, "missing", NULL);
    g_autofree char *file = g_build_filename(folder, "file", NULL);
    for (const NwProduct *const *row = each_product(); *row; row++) {
        gboolean is_folder = (*row)->target == NW_EXPORT_TARGET_FOLDER;
        NwExportRequest *request = commission_into(missing, *row, design, first_ending(*row));
        g_autoptr(GError) error = NULL;
        if (is_folder) {
            ck_assert(g_file_set_contents(file, "x", 1, NULL));
            nw_export_request_set_out(request, file);
        }
        ck_assert_ptr_null(nw_export_request_make(request, NULL, &error));
        check_sentence(error);
        ck_assert_msg(strstr(error->message, is_folder ? file : missing) != NULL, "%s",
                      error->message);
        if (is_folder)
            g_unlink(file);
        ck_assert_uint_eq(count_files(folder), 0);
        nw_export_request_free(request);
    }
    nw_make_clean(folder);
    nw_design_free(design);
}
END_TEST

/* ---- stopped ------------------------------------------------------------------------------ */

START_TEST(what_is_stopped_before_it_begins_is_not_made) {
    NwDesign *design = nw_make_design(design_folder, "tide-chest.json");
    char *folder = nw_make_scratch();
    for (const NwProduct *const *row = each_product(); *row; row++) {
        NwExportRequest *request = commission_into(folder, *row, design, first_ending(*row));
        NwProgress *progress = nw_progress_new();
        nw_progress_stop(progress);
        GError *error = make_refused(request, progress, folder);
        ck_assert(g_error_matches(error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
        g_error_free(error);
        nw_progress_free(progress);
        nw_export_request_free(request);
    }
    nw_make_clean(folder);
    nw_design_free(design);
}
END_TEST

typedef struct Maker {
    NwExportRequest *request;
    NwProgress *progress;
    const char *folder;
    NwExportReport *report;
    GError *error;
} Maker;

static void *make_in_thread(void *data) {
    Maker *maker = data;
    maker->report = nw_export_request_make(maker->request, maker->progress, &maker->error);
    return NULL;
}

/* Watches until so much is done, then stops it. Shares never fall. */
static void stop_at(Maker *maker, double share) {
    pthread_t thread;
    double done = 0;
    ck_assert_int_eq(pthread_create(&thread, NULL, make_in_thread, maker), 0);
    while (done < share) {
        g_autofree char *what = NULL;
        double now = nw_progress_get(maker->progress, &what);
        ck_assert_msg(now >= done && now <= 1, "%s: %.17g after %.17g", what, now, done);
        ck_assert(now == 0 || *what);
        done = now;
        g_usleep(200);
        ck_assert_msg(now >= share || pthread_tryjoin_np(thread, NULL) != 0, "over at %g: %s", now,
                      maker->error ? maker->error->message : "");
    }
    nw_progress_stop(maker->progress);
    pthread_join(thread, NULL);
    ck_assert_ptr_null(maker->report);
    check_sentence(maker->error);
    ck_assert_msg(g_error_matches(maker->error, G_IO_ERROR, G_IO_ERROR_CANCELLED), "%s",
                  maker->error->message);
    ck_assert_uint_eq(count_files(maker->folder), 0);
}

/* Balls of cells, at 2.812 mm a hair too large for the small-parts cylinder in any orientation: to
 * settle that lasts far longer than what comes before. */
static NwDesign *round_pieces(void) {
    enum { RADIUS = 5, PIECES = 12 };
    NwDesign *design = nw_make_named("cube", 1);
    nw_solid_add(design->envelope, nw_vec(0, 0, 0), NW_WHOLE);
    for (int i = 0; i < PIECES; i++) {
        NwSolid *ball = nw_solid_new();
        for (int x = -RADIUS; x <= RADIUS; x++)
            for (int y = -RADIUS; y <= RADIUS; y++)
                for (int z = -RADIUS; z <= RADIUS; z++)
                    if (x * x + y * y + z * z <= RADIUS * RADIUS)
                        nw_solid_add(ball, nw_vec(x, y, z), NW_WHOLE);
        g_autofree char *name = g_strdup_printf("Ball %d", i + 1);
        nw_design_take_piece(design, name, ball);
    }
    return design;
}

START_TEST(what_is_stopped_while_it_is_made_leaves_nothing) {
    static const struct {
        const char *product;
        gboolean balls;
        double cell_mm, shares[3];
    } rows[] = {{"mesh", TRUE, 2.812, {0.02, 0.35, 0.7002}},
                {"nets", FALSE, 10, {0.02, 0.2, 0.35}},
                {"cuts", FALSE, 20, {0.02, 0.2, 0.35}}};
    NwDesign *design =
        rows[_i].balls ? round_pieces() : nw_make_design(design_folder, "kite-harbour.json");
    char *folder = nw_make_scratch();
    const NwProduct *product = nw_product_find(rows[_i].product);
    for (size_t i = 0; i < G_N_ELEMENTS(rows[_i].shares); i++) {
        Maker maker = {commission_into(folder, product, design, first_ending(product)),
                       nw_progress_new(), folder, NULL, NULL};
        ck_assert(nw_export_request_set_number(maker.request, "cell-mm", rows[_i].cell_mm, NULL));
        ck_assert(nw_export_request_set_number(maker.request, "clearance-mm", 0, NULL));
        stop_at(&maker, rows[_i].shares[i]);
        g_error_free(maker.error);
        nw_progress_free(maker.progress);
        nw_export_request_free(maker.request);
    }
    nw_make_clean(folder);
    nw_design_free(design);
}
END_TEST

/* The same of the parts of a stage. */
START_TEST(parts_are_shares_of_their_stage) {
    NwProgress *progress = nw_progress_new();
    ck_assert(nw_progress_stage(progress, "one", 0.2, 0.6));
    ck_assert(nw_progress_part(progress, 0.5, 1));
    ck_assert_double_eq_tol(nw_progress_get(progress, NULL), 0.4, 1e-12);
    ck_assert(nw_progress_tell(progress, 0.5));
    ck_assert_double_eq_tol(nw_progress_get(progress, NULL), 0.5, 1e-12);
    ck_assert(nw_progress_tell(progress, 7));
    ck_assert_double_eq_tol(nw_progress_get(progress, NULL), 0.6, 1e-12);
    ck_assert(nw_progress_stage(progress, "two", 0.6, 1));
    ck_assert(nw_progress_tell(progress, 0.5));
    ck_assert_double_eq_tol(nw_progress_get(progress, NULL), 0.8, 1e-12);
    nw_progress_stop(progress);
    ck_assert(!nw_progress_tell(progress, 0.6));
    ck_assert(!nw_progress_part(progress, 0.6, 1));
    ck_assert(!nw_progress_stage(progress, "three", 1, 1));
    nw_progress_free(progress);
}
END_TEST

int main(int argc, char **argv) {
    if (argc != 2)
        return EXIT_FAILURE;
    design_folder = argv[1];
    Suite *suite = suite_create("products");
    TCase *group = tcase_create("products");
    tcase_set_timeout(group, 120);
    tcase_add_test(group, every_design_gives_every_product);
    tcase_add_test(group, options_keep_their_bounds);
    tcase_add_test(group, the_window_is_told_of_labels);
    tcase_add_test(group, empty_designs_are_refused);
    tcase_add_test(group, wrong_targets_are_refused);
    tcase_add_loop_test(group, what_cannot_be_made_leaves_nothing, 0, 5);
    tcase_add_test(group, panels_are_laid_out_on_stock);
    tcase_add_test(group, what_cannot_be_written_is_told);
    tcase_add_test(group, what_is_stopped_before_it_begins_is_not_made);
    tcase_add_loop_test(group, what_is_stopped_while_it_is_made_leaves_nothing, 0, 3);
    tcase_add_test(group, parts_are_shares_of_their_stage);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
