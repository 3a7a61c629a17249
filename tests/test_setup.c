/* Setting up a fit: in steps of any size, given up at any step, with and without pruning, always
 * the same; and boxes cut at random against the plain solver. */
#include <check.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "fit/prune.h"
#include "fit/setup.h"
#include "lattice/named.h"
#include "plain/plain_fit.h"
#include "plain/random_design.h"
#include "suite.h"

enum { RAW_LIMIT = 20000 };

static NwDesign *cut_box(uint64_t seed, int a, int b, int c, bool whole_cells, int pieces) {
    NwSolid *box;
    nw_named_solid_build(nw_named_solid_find("box"), (const int[NW_SIZES_MAX]){a, b, c}, &box);
    NwDesign *design = nw_random_dissection(seed, box, whole_cells, pieces);
    nw_solid_free(box);
    return design;
}

/* ---- against the plain solver ------------------------------------------------------------ */

static size_t count_classes(const NwDesign *design) {
    NwFit *fit;
    size_t count = 0;
    NwAssembly assembly;
    ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){0}, &fit), NW_OK);
    NwFitSearch *search = nw_fit_search_new(fit);
    while (nw_fit_search_step(search, LONG_MAX, &assembly) == NW_OK)
        count++;
    nw_fit_search_free(search);
    nw_fit_free(fit);
    return count;
}

START_TEST(cut_boxes_have_the_plain_assemblies) {
    static const struct {
        int size[3], pieces;
        bool whole_cells;
    } rows[] = {{{2, 2, 2}, 3, true},  {{3, 2, 2}, 4, true},  {{3, 3, 2}, 5, true},
                {{3, 3, 3}, 6, true},  {{2, 1, 1}, 4, false}, {{2, 2, 1}, 5, false},
                {{2, 2, 2}, 6, false}, {{3, 2, 1}, 7, false}};
    int compared = 0;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        for (uint64_t seed = 0; seed < 25; seed++) {
            const int *size = rows[i].size;
            NwDesign *design =
                cut_box(seed, size[0], size[1], size[2], rows[i].whole_cells, rows[i].pieces);
            NwPlainFit *plain = nw_plain_fit(design, NW_PLAIN_BY_PART, RAW_LIMIT);
            if (plain->status == NW_OK) {
                ck_assert_msg(count_classes(design) == plain->classes, "row %zu, seed %lu", i,
                              (unsigned long)seed);
                ck_assert(plain->classes > 0);
                compared++;
            }
            nw_plain_fit_free(plain);
            nw_design_free(design);
        }
    ck_assert_int_gt(compared, 150);
}
END_TEST

/* ---- in steps ---------------------------------------------------------------------------- */

static int order_of(NwSetupStage stage) {
    return stage == NW_SETUP_DONE ? INT_MAX : (int)stage;
}

/* Sets it up with steps of random effort; gives up after `steps` of them with NULL. */
static NwFit *set_up(const NwDesign *design, NwRandom *random, int longest, int steps) {
    NwFitSetup *setup;
    NwFit *fit = NULL;
    ck_assert_int_eq(nw_fit_setup_new(design, (NwFitOptions){0}, &setup), NW_OK);
    int pruned = 0;
    NwSetupProgress before = {NW_SETUP_LISTING, 0, 0};
    for (NwStatus status = NW_STOPPED; status == NW_STOPPED && steps > 0; steps--) {
        status = nw_fit_setup_step(setup, 1 + nw_random_below(random, longest), &fit);
        NwSetupProgress now = nw_fit_setup_progress(setup);
        ck_assert(status == NW_OK || status == NW_STOPPED);
        ck_assert_int_eq(status == NW_OK, fit != NULL);
        ck_assert(now.done >= 0 && now.done <= now.total);
        if (order_of(now.stage) < order_of(before.stage)) { /* the matrix, made again */
            ck_assert_int_eq(before.stage, NW_SETUP_PRUNING);
            ck_assert_int_eq(now.stage, NW_SETUP_MATRIX);
            pruned++;
        }
        before = now;
    }
    ck_assert_int_le(pruned, 1);
    nw_fit_setup_free(setup);
    return fit;
}

static void compare_fits(const NwFit *a, const NwFit *b) {
    ck_assert_int_eq(a->places->place_count, b->places->place_count);
    ck_assert_int_eq(a->group->order, b->group->order);
    ck_assert(nw_matrix_fingerprint(a->matrix) == nw_matrix_fingerprint(b->matrix));
}

START_TEST(steps_of_any_size_make_the_same_fit) {
    NwRandom random = {3};
    for (uint64_t seed = 0; seed < 60; seed++) {
        NwDesign *design = seed % 3 ? nw_random_design(seed) : cut_box(seed, 3, 3, 3, seed % 2, 7);
        NwFit *whole;
        ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){0}, &whole), NW_OK);
        for (int longest = 1; longest <= 10000; longest *= 100) {
            NwFit *fit = set_up(design, &random, longest, INT_MAX);
            compare_fits(fit, whole);
            nw_fit_free(fit);
        }
        nw_fit_free(whole);
        nw_design_free(design);
    }
}
END_TEST

/* What was given up leaves nothing behind: to be run with the address sanitizer too. */
START_TEST(it_can_be_given_up_at_any_step) {
    NwRandom random = {5};
    NwDesign *design = cut_box(1, 3, 3, 3, false, 8);
    int given_up = 0;
    for (int steps = 1; steps < 400; steps += 1 + steps / 20) {
        NwFit *fit = set_up(design, &random, 200, steps);
        given_up += fit == NULL;
        nw_fit_free(fit);
    }
    ck_assert_int_gt(given_up, 20);
    nw_design_free(design);
}
END_TEST

/* Every stage of a large design comes back to its caller again and again. */
START_TEST(no_stage_is_done_in_one_go) {
    NwDesign *design = cut_box(1, 5, 5, 5, true, 14);
    NwFitSetup *setup;
    NwFit *fit = NULL;
    int steps[NW_SETUP_PRUNING + 1] = {0};
    ck_assert_int_eq(nw_fit_setup_new(design, (NwFitOptions){0}, &setup), NW_OK);
    do
        steps[nw_fit_setup_progress(setup).stage]++;
    while (nw_fit_setup_step(setup, 300, &fit) == NW_STOPPED);
    for (NwSetupStage stage = NW_SETUP_LISTING; stage <= NW_SETUP_PRUNING; stage++)
        ck_assert_msg(steps[stage] > 5, "stage %d took %d steps", (int)stage, steps[stage]);
    nw_fit_setup_free(setup);
    nw_fit_free(fit);
    nw_design_free(design);
}
END_TEST

/* ---- pruning ----------------------------------------------------------------------------- */

static bool conflict(const NwMatrix *matrix, int a, int b) {
    for (int item = 0; item < matrix->item_count; item++) {
        bool both = nw_matrix_row(matrix, a)[item / 64] >> item % 64 & 1 &&
                    nw_matrix_row(matrix, b)[item / 64] >> item % 64 & 1;
        bool shared = item >= matrix->part_items && matrix->copies[item - matrix->part_items] > 1;
        if (both && !shared)
            return true;
    }
    return false;
}

/* Whether a row leaves each item a row, looked at one by one. */
static bool is_viable(const NwMatrix *matrix, const bool *dead, int chosen) {
    for (int item = 0; item < matrix->item_count; item++) {
        bool needed = item >= matrix->part_items || matrix->required[item / 64] >> item % 64 & 1;
        bool covered = !needed || nw_matrix_row(matrix, chosen)[item / 64] >> item % 64 & 1;
        for (int r = 0; r < matrix->row_count && !covered; r++)
            covered = !dead[r] && nw_matrix_row(matrix, r)[item / 64] >> item % 64 & 1 &&
                      !conflict(matrix, chosen, r);
        if (!covered)
            return false;
    }
    return true;
}

/* Rows that die are rows that the plain way finds dead, round after round. */
START_TEST(only_dead_rows_are_pruned) {
    int died = 0;
    for (uint64_t seed = 0; seed < 60; seed++) {
        NwDesign *design = nw_random_design(seed);
        NwPlacementTable *places;
        ck_assert_int_eq(nw_placement_table_build(design, &places), NW_OK);
        NwMatrixMaker *maker = nw_matrix_maker_new(design, places, NULL);
        NwMatrix *matrix = nw_matrix_maker_step(maker, LONG_MAX);
        nw_matrix_maker_free(maker);
        NwPruner *pruner = nw_pruner_new(matrix);
        while (!nw_pruner_step(pruner, 1 + (long)(seed % 50)))
            continue;
        const bool *dead;
        int count = nw_pruner_dead(pruner, &dead), counted = 0;
        bool *plain = nw_alloc((size_t)matrix->row_count, sizeof *plain);
        for (bool more = count > 0; more;) {
            more = false;
            for (int r = 0; r < matrix->row_count; r++)
                if (!plain[r] && !is_viable(matrix, plain, r))
                    more = plain[r] = true;
        }
        for (int r = 0; r < matrix->row_count; r++) {
            ck_assert(!dead[r] || plain[r]);
            counted += dead[r];
        }
        ck_assert_int_eq(counted, count);
        died += count;
        free(plain);
        nw_pruner_free(pruner);
        nw_matrix_free(matrix);
        nw_placement_table_free(places);
        nw_design_free(design);
    }
    ck_assert_int_gt(died, 100);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("setup");
    TCase *steps = tcase_create("steps"), *plain = tcase_create("plain");
    tcase_set_timeout(steps, 0);
    tcase_set_timeout(plain, 0);
    tcase_add_test(plain, cut_boxes_have_the_plain_assemblies);
    tcase_add_test(plain, only_dead_rows_are_pruned);
    tcase_add_test(steps, steps_of_any_size_make_the_same_fit);
    tcase_add_test(steps, it_can_be_given_up_at_any_step);
    tcase_add_test(steps, no_stage_is_done_in_one_go);
    suite_add_tcase(suite, plain);
    suite_add_tcase(suite, steps);
    return run_suite(suite);
}
