/* The outside shape as the window takes it (session/envelope_shape.h), and the words for solids and
 * for what has changed (text/solid_words.h, text/compare_words.h). Untranslated: the texts are
 * English.
 */
#include <check.h>
#include <glib.h>
#include <locale.h>
#include <stdlib.h>
#include <string.h>

#include "session/envelope_shape.h"
#include "suite.h"
#include "text/compare_words.h"
#include "text/solid_words.h"

static NwSolid *built(const char *name, int a, int b, int c) {
    NwShape shape = {.named = nw_named_solid_find(name), .sizes = {a, b, c}};
    char *problem;
    NwSolid *solid = nw_shape_build(&shape, &problem);
    ck_assert_msg(solid && !problem, "%s", problem);
    return solid;
}

/* A cube of edge 4 as the envelope, and one piece that fills it. */
static NwDesign *full_cube(void) {
    NwDesign *design = nw_design_new("full");
    nw_solid_free(design->envelope);
    design->envelope = built("cube", 4, 0, 0);
    nw_design_take_piece(design, "A", nw_solid_copy(design->envelope));
    return design;
}

START_TEST(every_named_solid_has_words) {
    const NwNamedSolid *named;
    for (size_t i = 0; (named = nw_named_solid(i)); i++) {
        ck_assert_str_ne(nw_solid_words_name(named), named->name);
        for (int size = 0; size < named->sizes; size++)
            ck_assert_str_ne(nw_solid_words_measure(named, size), named->measure);
    }
}
END_TEST

START_TEST(volumes_are_in_sixths) {
    static const struct {
        long volume6;
        const char *text;
    } rows[] = {{0, "0"}, {1, "⅙"}, {3, "½"}, {6, "1"}, {128, "21⅓"}, {6 * 64 + 5, "64⅚"}};
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        char *text = nw_solid_words_volume(rows[i].volume6);
        ck_assert_str_eq(text, rows[i].text);
        g_free(text);
    }
}
END_TEST

/* A tetrahedron inscribed in a cube of edge n has volume n^3 / 3 (elementary). */
START_TEST(figures_tell_size_content_and_volume) {
    NwSolid *solid = built("tetrahedron", 4, 0, 0);
    char *text = nw_solid_words_figures(solid);
    ck_assert_ptr_nonnull(strstr(text, "Size: 4 × 4 × 4 cells"));
    ck_assert_ptr_nonnull(strstr(text, "Volume: 21⅓ cells"));
    g_free(text);
    nw_solid_free(solid);
}
END_TEST

START_TEST(what_is_wrong_is_said) {
    static const struct {
        const char *planes, *said;
    } rows[] = {
        {"", "Enter planes"},
        {"x<=4 y=4", "“y=4” is no plane"},
        {"x<=4", "do not close"},
        {"x<=4 -x<=0 y<=4 -y<=0 z<=4 -z<=0 x+y+z<=7", "nearest are 6 and 8"},
        {"x<=4 -x<=0 y<=4 -y<=0 z<=4 -z<=0 x+y<=6", "not two"},
        {"x<=0 -x<=-1 y<=4 -y<=0 z<=4 -z<=0", "Nothing is left"},
        {"x<=900 -x<=0 y<=4 -y<=0 z<=4 -z<=0", "too large"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        NwShape shape = {.planes = rows[i].planes};
        char *problem;
        ck_assert_ptr_null(nw_shape_build(&shape, &problem));
        ck_assert_msg(problem && strstr(problem, rows[i].said), "%s: %s", rows[i].planes, problem);
        g_free(problem);
    }
    NwShape star = {.named = nw_named_solid_find("stella-octangula"), .sizes = {3}};
    char *problem;
    ck_assert_ptr_null(nw_shape_build(&star, &problem));
    ck_assert_ptr_nonnull(strstr(problem, "multiples of 2"));
    g_free(problem);
}
END_TEST

START_TEST(pictures_of_large_shapes_are_small) {
    const NwNamedSolid *named;
    for (size_t i = 0; (named = nw_named_solid(i)); i++) {
        int largest = named->largest - named->largest % named->step;
        NwShape shape = {.named = named, .sizes = {largest, largest, largest}};
        NwSolid *small = nw_shape_build_small(&shape);
        ck_assert_msg(small != NULL, "%s", named->name);
        ck_assert_uint_le(nw_solid_parts(small), 60000);
        nw_solid_free(small);
    }
    NwShape modest = {.named = nw_named_solid_find("box"), .sizes = {2, 3, 12}};
    NwSolid *same = nw_shape_build_small(&modest), *whole = built("box", 2, 3, 12);
    ck_assert(nw_solid_equal(same, whole));
    nw_solid_free(same);
    nw_solid_free(whole);
}
END_TEST

static size_t lost_in(const NwDesign *design, NwSolid *envelope) {
    size_t total;
    NwSolid *laid = nw_shape_lay(design, envelope, &total);
    ck_assert_ptr_nonnull(laid);
    ck_assert_uint_eq(nw_solid_parts(laid), nw_solid_parts(envelope));
    nw_solid_free(laid);
    nw_solid_free(envelope);
    return total;
}

START_TEST(an_envelope_is_laid_where_least_falls_out) {
    NwDesign *design = full_cube();
    ck_assert_uint_eq(lost_in(design, built("cube", 4, 0, 0)), 0);
    ck_assert_uint_eq(lost_in(design, built("cube", 5, 0, 0)), 0);
    ck_assert_uint_eq(lost_in(design, built("box", 9, 4, 6)), 0);
    ck_assert_uint_eq(lost_in(design, built("cube", 3, 0, 0)), 5 * (64 - 27));
    /* A cut envelope goes by even shifts only; the inscribed tetrahedron fits the cube exactly. */
    NwSolid *tetrahedron = built("tetrahedron", 4, 0, 0);
    size_t outside = nw_solid_parts(design->envelope) - nw_solid_parts(tetrahedron);
    ck_assert_uint_eq(lost_in(design, tetrahedron), outside);
    nw_design_free(design);
}
END_TEST

START_TEST(losses_are_told_by_piece) {
    NwDesign *design = full_cube();
    NwSolid *envelope = built("box", 4, 4, 3);
    int barred;
    char *text = nw_shape_losses(design, envelope, 0, &barred);
    ck_assert_str_eq(text, "“A” loses 80 parts");
    ck_assert_int_eq(barred, -1);
    g_free(text);
    text = nw_shape_losses(design, envelope, 1, &barred);
    ck_assert_int_eq(barred, 0);
    g_free(text);
    text = nw_shape_losses(design, design->envelope, 1, &barred);
    ck_assert_str_eq(text, "");
    ck_assert_int_eq(barred, -1);
    g_free(text);
    nw_solid_free(envelope);
    nw_design_free(design);
}
END_TEST

static void expect_words(const NwDesign *before, const NwDesign *after, const char *wanted) {
    char *words = nw_compare_words(before, after);
    ck_assert_str_eq(words, wanted);
    g_free(words);
}

START_TEST(changes_are_told_one_a_line) {
    NwDesign *before = full_cube(), *after = full_cube();
    expect_words(before, after, "These versions are the same.");
    NwSolid *core = nw_solid_new();
    nw_solid_add(core, nw_vec(0, 0, 0), NW_CORE);
    NwPiece *piece = &after->pieces[0];
    NwSolid *rest = nw_solid_difference(piece->solid, core);
    nw_solid_free(piece->solid);
    piece->solid = rest;
    expect_words(before, after, "“A” loses 1 part.");
    expect_words(after, before, "“A” gains 1 part.");
    nw_design_take_piece(after, "B", core);
    expect_words(before, after,
                 "“A” loses 1 part.\n“B”, with 1 part, is new.\n"
                 "1 part goes from “A” to “B”.");
    nw_design_free(before);
    nw_design_free(after);
}
END_TEST

int main(void) {
    setlocale(LC_ALL, "C.UTF-8");
    Suite *suite = suite_create("shape");
    TCase *group = tcase_create("shape");
    tcase_set_timeout(group, 60);
    tcase_add_test(group, every_named_solid_has_words);
    tcase_add_test(group, volumes_are_in_sixths);
    tcase_add_test(group, figures_tell_size_content_and_volume);
    tcase_add_test(group, what_is_wrong_is_said);
    tcase_add_test(group, pictures_of_large_shapes_are_small);
    tcase_add_test(group, an_envelope_is_laid_where_least_falls_out);
    tcase_add_test(group, losses_are_told_by_piece);
    tcase_add_test(group, changes_are_told_one_a_line);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
