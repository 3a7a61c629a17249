/* The sheet for the box and the chart of trials. What is in a PDF is read back by pdftotext and
 * pdfinfo of Poppler, where they are installed; where not, those tests say so and pass.
 * The arguments are the notch program and the folder of the bundled designs. */
#include <check.h>
#include <gio/gio.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "make/sheet/sheet.h"
#include "make/sheet/sheet_pdf.h"
#include "make/text_layout.h"
#include "measure/chart.h"
#include "pdf_fixture.h"
#include "store_fixture.h"
#include "suite.h"

static const char *program, *design_folder;

static const char *write_pdf(GBytes *bytes, const char *name) {
    const char *path = store_file(name);
    gsize size;
    const char *data = g_bytes_get_data(bytes, &size);
    ck_assert(g_file_set_contents(path, data, (gssize)size, NULL));
    ck_assert(g_str_has_prefix(data, "%PDF-"));
    return path;
}

/* ---- what may be claimed ------------------------------------------------------------------ */

static NwSheet *sample(int pieces, int steps) {
    NwSheet *sheet = nw_sheet_new();
    sheet->title = g_strdup("Sample & co");
    sheet->bodies = pieces;
    sheet->claims_only = TRUE;
    sheet->solid.surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, 160, 100);
    for (int i = 0; i < pieces; i++) {
        NwSheetPiece piece = {.name = g_strdup_printf("Piece%d", i), .copies = 1 + i % 2};
        piece.picture.surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, 50, 40);
        g_array_append_val(sheet->pieces, piece);
    }
    for (int i = 0; i < steps; i++) {
        NwSheetStep step = {.what = g_strdup_printf("Slidethis%d along.", i),
                            .holds = g_strdup_printf("Holdthat%d.", i)};
        step.picture.surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, 60, 40);
        step.picture.has_arrow = TRUE;
        step.picture.arrow[1][0] = step.picture.arrow[1][1] = i % 2; /* also of no length */
        step.picture.labels = g_array_new(FALSE, TRUE, sizeof(NwSheetLabel));
        NwSheetLabel label = {0.5, 0.5, g_strdup_printf("Label%d", i)};
        g_array_append_val(step.picture.labels, label);
        g_array_append_val(sheet->steps, step);
    }
    sheet->proof = (NwSheetProof){.complete = TRUE,
                                  .has_intended = TRUE,
                                  .answer_opens = TRUE,
                                  .fitting = 4,
                                  .opening = 1,
                                  .unreachable = 3,
                                  .levels = {2, {2, steps - 2}},
                                  .total = steps,
                                  .search = g_strdup("Searchedthus."),
                                  .version = g_strdup("Versionthis.")};
    return sheet;
}

START_TEST(what_is_not_proved_is_not_claimed) {
    static const struct {
        NwSheetProof proof;
        const char *because; /* with the claim; NULL: it may be made */
        gboolean without;    /* whether it may be made without the claim */
    } rows[] = {
        {{.complete = TRUE, .answer_opens = TRUE, .fitting = 1, .opening = 1}, NULL, TRUE},
        {{.complete = TRUE, .answer_opens = TRUE, .fitting = 4, .opening = 1, .unreachable = 3},
         NULL,
         TRUE},
        {{.complete = TRUE, .answer_opens = TRUE, .fitting = 4, .opening = 2, .unreachable = 2},
         "1 other assembly",
         TRUE},
        {{.complete = TRUE, .answer_opens = TRUE, .fitting = 9, .opening = 9},
         "8 other assemblies",
         TRUE},
        {{.answer_opens = TRUE, .fitting = 1, .opening = 1}, "not complete", TRUE},
        {{.answer_opens = TRUE, .fitting = 2, .opening = 2}, "1 other assembly", TRUE},
        {{.complete = TRUE, .answer_opens = TRUE, .fitting = 2, .opening = 1, .undecided = 1},
         "for 1 assembly",
         TRUE},
        {{.complete = TRUE, .answer_opens = TRUE, .fitting = 3, .opening = 1, .unexamined = 2},
         "for 2 assemblies",
         TRUE},
        {{.complete = TRUE, .has_intended = TRUE, .fitting = 1, .unreachable = 1},
         "intended assembly",
         FALSE},
        {{.complete = TRUE, .has_intended = TRUE, .fitting = 2, .opening = 1, .unreachable = 1},
         "intended assembly",
         FALSE},
        {{.complete = TRUE}, "no assembly", FALSE},
        {{.complete = FALSE}, "stopped", FALSE},
    };
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++)
        for (int challenge = 0; challenge < 2; challenge++) {
            NwSheet sheet = {.proof = rows[i].proof, .claims_only = TRUE, .challenge = challenge};
            g_autofree char *refusal = nw_sheet_dup_refusal(&sheet);
            if (rows[i].because)
                ck_assert_msg(refusal && strstr(refusal, rows[i].because), "%zu: %s", i, refusal);
            else
                ck_assert_ptr_null(refusal);
            sheet.claims_only = FALSE;
            g_autofree char *still = nw_sheet_dup_refusal(&sheet);
            ck_assert_msg((still == NULL) == rows[i].without, "%zu: %s", i, still);
        }
}
END_TEST

START_TEST(a_refused_sheet_is_not_drawn) {
    NwSheet *sheet = sample(3, 4);
    sheet->proof.opening = 2;
    g_autoptr(GError) error = NULL;
    ck_assert_ptr_null(nw_sheet_to_pdf(sheet, &error));
    ck_assert_msg(strstr(error->message, "1 other assembly") != NULL, "%s", error->message);
    nw_sheet_free(sheet);
}
END_TEST

/* ---- what is on the pages ----------------------------------------------------------------- */

START_TEST(the_pages_hold_what_they_should) {
    static const struct {
        int pieces, steps, challenge_pages, pages;
    } rows[] = {{1, 1, 1, 3}, {6, 6, 1, 4}, {6, 10, 1, 4}, {9, 25, 1, 7}, {64, 3, 2, 4}};
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++)
        for (size_t paper = 0; nw_paper_size(paper) && (i == 3 || !paper); paper++) {
            NwSheet *sheet = sample(rows[i].pieces, rows[i].steps);
            sheet->paper = nw_paper_size(paper);
            gboolean a4 = g_str_equal(sheet->paper->name, "A4");
            g_autoptr(GError) error = NULL;
            g_autoptr(GBytes) whole = nw_sheet_to_pdf(sheet, &error);
            ck_assert_msg(whole != NULL, "%s", error ? error->message : "no error");
            sheet->challenge = TRUE;
            g_autoptr(GBytes) half = nw_sheet_to_pdf(sheet, &error);
            ck_assert_msg(half != NULL, "%s", error ? error->message : "no error");
            const char *all = write_pdf(whole, "all.pdf"), *part = write_pdf(half, "part.pdf");
            if (pdf_can_be_read()) {
                double width, height;
                int pages = pdf_pages(all, &width, &height);
                ck_assert_double_eq_tol(width, sheet->paper->width_mm * 72 / 25.4, 0.05);
                ck_assert_double_eq_tol(height, sheet->paper->height_mm * 72 / 25.4, 0.05);
                if (a4)
                    ck_assert_int_eq(pages, rows[i].pages);
                if (a4)
                    ck_assert_int_eq(pdf_pages(part, &width, &height), rows[i].challenge_pages);
                pdf_assert_inside(all);
                pdf_assert_inside(part);
                g_autofree char *text = pdf_text(all), *front = pdf_text(part);
                for (int p = 0; p < rows[i].pieces; p++) {
                    g_autofree char *name = g_strdup_printf("Piece%d", p);
                    ck_assert_msg(strstr(text, name) && strstr(front, name), "%s", name);
                }
                for (int s = 0; s < rows[i].steps; s++) {
                    g_autofree char *what = g_strdup_printf("Slidethis%d", s);
                    g_autofree char *holds = g_strdup_printf("Holdthat%d", s);
                    g_autofree char *label = g_strdup_printf("Label%d", s);
                    ck_assert_msg(strstr(text, what) && strstr(text, holds) && strstr(text, label),
                                  "%s", what);
                }
                static const char *const sealed[] = {"Slidethis",     "Holdthat",    "Label",
                                                     "Searchedthus",  "The way in",  "proved",
                                                     "Versionthis",   "seal",        "fold back",
                                                     "The answer to", "4 assemblies"};
                for (gsize k = 0; k < G_N_ELEMENTS(sealed); k++) {
                    ck_assert_msg(strstr(text, sealed[k]) != NULL, "lacks %s", sealed[k]);
                    ck_assert_msg(strstr(front, sealed[k]) == NULL, "tells %s", sealed[k]);
                }
                /* The sealed part begins on a page of its own. */
                const char *cover = strstr(text, "The answer to"),
                           *step = strstr(text, "Slidethis");
                const char *before = g_strrstr_len(text, cover - text, "\f");
                ck_assert(before && strstr(cover, "\f") < step);
                ck_assert_ptr_null(g_strstr_len(before, -1, "The pieces"));
                ck_assert_ptr_nonnull(strstr(text, "the only one"));
            }
            nw_sheet_free(sheet);
        }
}
END_TEST

START_TEST(without_the_claim_it_is_not_made) {
    NwSheet *sheet = sample(3, 4);
    sheet->claims_only = FALSE;
    sheet->proof.complete = FALSE;
    sheet->proof.opening = 2;
    sheet->proof.undecided = 1;
    g_autoptr(GBytes) bytes = nw_sheet_to_pdf(sheet, NULL);
    ck_assert_ptr_nonnull(bytes);
    const char *path = write_pdf(bytes, "several.pdf");
    if (pdf_can_be_read()) {
        g_autofree char *text = pdf_text(path);
        ck_assert_ptr_null(strstr(text, "the only one"));
        ck_assert_ptr_null(strstr(text, "exactly one way"));
        ck_assert_ptr_nonnull(strstr(text, "search is not complete"));
        ck_assert_ptr_nonnull(strstr(text, "1 is undecided"));
    }
    nw_sheet_free(sheet);
}
END_TEST

/* Titles that are long, empty, or in other scripts stay on the page. */
START_TEST(any_text_stays_on_its_page) {
    static const char *const titles[] = {
        "", "A title that is very long and goes on and on until nobody can say how it began",
        "Donaudampfschifffahrtsgesellschaftskapitaenswitwenrentenauszahlungsstelle",
        "\xce\x9a\xcf\x8d\xce\xb2\xce\xbf\xcf\x82 \xe2\x80\x94 \xd0\xba\xd1\x83\xd0\xb1"};
    for (gsize i = 0; i < G_N_ELEMENTS(titles); i++) {
        NwSheet *sheet = sample(4, 5);
        g_free(sheet->title);
        sheet->title = g_strdup(titles[i]);
        g_autoptr(GBytes) bytes = nw_sheet_to_pdf(sheet, NULL);
        ck_assert_ptr_nonnull(bytes);
        const char *path = write_pdf(bytes, "title.pdf");
#ifdef NW_PANGO
        if (pdf_can_be_read())
            pdf_assert_inside(path);
#else
        (void)path;
#endif
        nw_sheet_free(sheet);
    }
}
END_TEST

/* ---- the product -------------------------------------------------------------------------- */

#ifdef NW_PICTURES
/* Runs `notch make sheet` in the folder of the test; returns all that it said. */
static char *make_sheet(int wanted, const char *format, ...) G_GNUC_PRINTF(2, 3);
static char *make_sheet(int wanted, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    g_autofree char *words = g_strdup_vprintf(format, arguments);
    va_end(arguments);
    g_autofree char *line = g_strdup_printf("'%s' make sheet %s", program, words);
    g_auto(GStrv) argv = NULL;
    ck_assert(g_shell_parse_argv(line, NULL, &argv, NULL));
    g_autoptr(GSubprocessLauncher) launcher =
        g_subprocess_launcher_new(G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDERR_MERGE);
    g_subprocess_launcher_setenv(launcher, "LC_ALL", "C.UTF-8", TRUE);
    g_subprocess_launcher_setenv(launcher, "XDG_DATA_HOME", store_folder, TRUE);
    g_subprocess_launcher_set_cwd(launcher, store_folder);
    g_autoptr(GSubprocess) process =
        g_subprocess_launcher_spawnv(launcher, (const char *const *)argv, NULL);
    ck_assert_ptr_nonnull(process);
    char *out = NULL;
    ck_assert(g_subprocess_communicate_utf8(process, NULL, NULL, &out, NULL, NULL));
    ck_assert(g_subprocess_get_if_exited(process));
    ck_assert_msg(g_subprocess_get_exit_status(process) == wanted, "%s: %s", words, out);
    return out;
}

/* Slides in all as data/designs/README.md gives them; so many steps the sheet must have. */
START_TEST(bundled_designs) {
    static const struct {
        const char *name, *option, *piece;
        int steps;
    } rows[] = {{"ember-lantern", "", "F", 10},
                {"ember-lantern-chipped", "--no-claim", "F", 10},
                {"ember-lantern", "--no-claim", "F", 10},
                {"kite-harbour", "--paper letter --cell-mm 12.5", "D", 13},
                {"tide-chest", "", "E", 12},
                {"quiet-comet", "", "E", 14}};
    g_autofree char *said = make_sheet(0, "'%s/%s.json' %s --out whole.pdf", design_folder,
                                       rows[_i].name, rows[_i].option);
    ck_assert(g_str_has_prefix(said, "whole.pdf\n"));
    g_autofree char *quiet = make_sheet(0, "'%s/%s.json' %s --challenge --out part.pdf",
                                        design_folder, rows[_i].name, rows[_i].option);
    ck_assert(g_str_has_prefix(quiet, "part.pdf\n"));
    const char *whole = store_file("whole.pdf"), *part = store_file("part.pdf");
    if (!pdf_can_be_read())
        return;
    double width, height;
    int proof = rows[_i].steps % 6 == 0; /* where the last page is full the proof has its own */
    ck_assert_int_eq(pdf_pages(whole, &width, &height), 2 + (rows[_i].steps + 5) / 6 + proof);
    ck_assert_int_eq(pdf_pages(part, &width, &height), 1);
    pdf_assert_inside(whole);
    g_autofree char *text = pdf_text(whole), *front = pdf_text(part);
    int steps = 0;
    for (const char *at = text; (at = strstr(at, "along the arrow")); at++)
        steps++;
    ck_assert_int_eq(steps, rows[_i].steps);
    ck_assert_ptr_nonnull(strstr(text, "fingerprint"));
    ck_assert_ptr_nonnull(strstr(text, rows[_i].piece));
    ck_assert_ptr_null(strstr(front, "arrow"));
    ck_assert_ptr_null(strstr(front, "Hold"));
    gboolean claims = strstr(front, "exactly one way") != NULL;
    ck_assert_int_eq(claims, !*rows[_i].option || rows[_i].option[2] == 'p');
    g_auto(GStrv) words = g_regex_split_simple("\\s+", text, 0, 0);
    g_autofree char *on_one_line = g_strjoinv(" ", words);
    ck_assert_int_eq(strstr(on_one_line, "So the answer above is the only one.") != NULL, claims);
    /* One picture of the solid and one of each piece: none of a step. */
    g_autofree char *command = g_strdup_printf("pdfimages -list '%s'", part),
                    *list = pdf_run(command);
    int pictures = 0;
    for (const char *at = list; (at = strchr(at, '\n')); at++)
        pictures++;
    ck_assert_int_eq(pictures - 2, 1 + (rows[_i].piece[0] - 'A' + 1));
}
END_TEST

START_TEST(the_product_refuses_in_one_line) {
    static const char *const rows[] = {"--out no.pdf '%s/ember-lantern-chipped.json'",
                                       "--challenge --out no.pdf '%s/ember-lantern-chipped.json'",
                                       "'%s/tide-chest.json'",
                                       "--out no.pdf --paper B7 '%s/tide-chest.json'",
                                       "--out no.pdf --cell-mm 0 '%s/tide-chest.json'",
                                       "--out no.pdf --cell-mm nan '%s/tide-chest.json'",
                                       "--out no.pdf --states -1 '%s/tide-chest.json'",
                                       "--out no.pdf '%s/nothing.json'"};
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(GString) words = g_string_new(rows[i]);
        g_string_replace(words, "%s", design_folder, 0);
        ck_assert(g_file_set_contents(store_file("no.pdf"), "as it was", -1, NULL));
        g_autofree char *out = make_sheet(2, "%s", words->str), *kept = NULL;
        ck_assert_msg(g_str_has_prefix(out, "notch: ") && strchr(out, '\n')[1] == 0, "%s", out);
        ck_assert(g_file_get_contents(store_file("no.pdf"), &kept, NULL, NULL));
        ck_assert_str_eq(kept, "as it was");
        if (i < 2)
            ck_assert_msg(strstr(out, "1 other assembly") && strstr(out, "--no-claim"), "%s", out);
    }
    g_autofree char *out =
        make_sheet(1, "'%s/tide-chest.json' --challenge --out no/such.pdf", design_folder);
    ck_assert_msg(g_str_has_prefix(out, "notch: ") && strstr(out, "no/such.pdf"), "%s", out);
}
END_TEST
#endif

/* ---- the chart ---------------------------------------------------------------------------- */

START_TEST(scales_hold_all_values) {
    static const double sets[][4] = {
        {1, 2, 3, 4},     {10, 10, 10, 10},      {0, 0, 0, 0},         {0, 5, 900, 1e6},
        {1, 5, 900, 1e6}, {0.02, 0.3, 0.4, 0.5}, {1e9, 2e9, 3e9, 4e9}, {99, 100, 101, 102}};
    for (gsize i = 0; i < G_N_ELEMENTS(sets); i++) {
        NwChartScale scale = nw_chart_scale(sets[i], 4);
        ck_assert_int_eq(scale.powers, i == 4);
        double before = -1;
        for (int k = 0; k < 4; k++) {
            double place = nw_chart_place(&scale, sets[i][k]);
            ck_assert_msg(place >= 0 && place <= 1 && place >= before, "%zu %d: %g", i, k, place);
            before = place;
        }
    }
    const double far[] = {1, 1000, 31622.7766};
    NwChartScale scale = nw_chart_scale(far, 3);
    ck_assert_double_eq_tol(nw_chart_place(&scale, 1), 0, 1e-12);
    ck_assert_double_eq_tol(nw_chart_place(&scale, 1e5), 1, 1e-12);
    ck_assert_double_eq_tol(nw_chart_place(&scale, 31622.7766), 0.9, 1e-6);
}
END_TEST

START_TEST(a_chart_names_its_designs) {
    const NwChartDot dots[] = {
        {3, 12, FALSE, TRUE, "One"}, {3, 90, TRUE, FALSE, "One"}, {20, 240, FALSE, FALSE, "Two"}};
    const NwChart chart = {"Level", "Trials", dots, 3};
    g_autoptr(GBytes) svg = nw_chart_to_svg(&chart, NULL);
    g_autoptr(GBytes) pdf = nw_chart_to_pdf(&chart, NULL);
    ck_assert(svg && pdf);
    gsize size;
    const char *bytes = g_bytes_get_data(svg, &size);
    g_autofree char *copy = g_strndup(bytes, size);
    ck_assert(g_str_has_prefix(copy, "<?xml") && strstr(copy, "</svg>"));
    const char *path = write_pdf(pdf, "chart.pdf");
    if (pdf_can_be_read()) {
        g_autofree char *text = pdf_text(path);
        ck_assert(strstr(text, "One") && strstr(text, "Two") && strstr(text, "Level") &&
                  strstr(text, "Minutes"));
        pdf_assert_inside(path);
    }
}
END_TEST

int main(int argc, char **argv) {
    program = argc > 1 ? argv[1] : "build/src/cli/notch";
    design_folder = argc > 2 ? argv[2] : "data/designs";
    Suite *suite = suite_create("sheet");
    TCase *pages = tcase_create("pages");
    tcase_add_checked_fixture(pages, store_folder_make, store_folder_remove);
    tcase_set_timeout(pages, 120);
    tcase_add_test(pages, what_is_not_proved_is_not_claimed);
    tcase_add_test(pages, a_refused_sheet_is_not_drawn);
    tcase_add_test(pages, the_pages_hold_what_they_should);
    tcase_add_test(pages, without_the_claim_it_is_not_made);
    tcase_add_test(pages, any_text_stays_on_its_page);
    tcase_add_test(pages, scales_hold_all_values);
    tcase_add_test(pages, a_chart_names_its_designs);
#ifdef NW_PICTURES
    tcase_add_loop_test(pages, bundled_designs, 0, 6);
    tcase_add_test(pages, the_product_refuses_in_one_line);
#endif
    suite_add_tcase(suite, pages);
    return run_suite(suite);
}
