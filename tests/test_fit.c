/* The fit engine against the plain solver, against itself under every way of cutting its work up,
 * and against published counts. */
#include <check.h>
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "bench/instances.h"
#include "design/check_assembly.h"
#include "fit/fit.h"
#include "plain/plain_fit.h"
#include "plain/random_design.h"
#include "suite.h"

enum { SEEDS = 400, RAW_LIMIT = 100000 };

/* A share is a sum of fractions in floating point; equal sums may differ in their last bits. */
#define ROUNDING 1e-12

/* ---- lists of keys ----------------------------------------------------------------------- */

typedef struct Keys {
    uint64_t *list;
    size_t count, capacity;
} Keys;

static void add_key(Keys *keys, uint64_t key) {
    keys->list = nw_grow(keys->list, keys->count, &keys->capacity, sizeof *keys->list);
    keys->list[keys->count++] = key;
}

static int compare_keys(const void *a, const void *b) {
    uint64_t x = *(const uint64_t *)a, y = *(const uint64_t *)b;
    return (x > y) - (x < y);
}

/* Sorted, and no key twice. */
static void settle(Keys *keys) {
    if (keys->count)
        qsort(keys->list, keys->count, sizeof *keys->list, compare_keys);
    for (size_t i = 1; i < keys->count; i++)
        ck_assert_msg(keys->list[i - 1] != keys->list[i], "one assembly was found twice");
}

static void assert_same_keys(const Keys *found, const Keys *wanted, const char *how,
                             uint64_t seed) {
    ck_assert_msg(found->count == wanted->count, "seed %lu, %s: %zu assemblies, not %zu",
                  (unsigned long)seed, how, found->count, wanted->count);
    for (size_t i = 0; i < found->count; i++)
        ck_assert_msg(found->list[i] == wanted->list[i], "seed %lu, %s: another key",
                      (unsigned long)seed, how);
}

static Keys find_keys(const NwFit *fit) {
    Keys keys = {0};
    NwAssembly assembly;
    NwFitSearch *search = nw_fit_search_new(fit);
    while (nw_fit_search_step(search, LONG_MAX, &assembly) == NW_OK)
        add_key(&keys, assembly.key);
    nw_fit_search_free(search);
    settle(&keys);
    return keys;
}

static NwFit *make_fit(const NwDesign *design, bool keep_symmetry) {
    NwFit *fit;
    ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){keep_symmetry}, &fit), NW_OK);
    return fit;
}

/* ---- against the plain solver ------------------------------------------------------------ */

/* The numbers of the places of an assembly among the plain places, in rising order. */
static void plain_numbers(const NwDesign *design, const NwPlainFit *plain,
                          const NwPlacement *placements, size_t *numbers) {
    for (size_t i = 0; i < plain->bodies; i++) {
        size_t base = 0, piece = (size_t)placements[i].piece;
        for (size_t p = 0; p < piece; p++)
            base += plain->places[p].count;
        NwSolid *solid;
        NwStatus moved = nw_solid_moved(design->pieces[piece].solid, placements[i].motion, &solid);
        ck_assert_int_eq(moved, NW_OK);
        size_t at = nw_plain_places_find(&plain->places[piece], solid);
        ck_assert_msg(at < plain->places[piece].count, "a place that the plain list lacks");
        nw_solid_free(solid);
        numbers[i] = base + at;
    }
    for (size_t i = 1; i < plain->bodies; i++)
        for (size_t k = i; k > 0 && numbers[k - 1] > numbers[k]; k--) {
            size_t swap = numbers[k];
            numbers[k] = numbers[k - 1];
            numbers[k - 1] = swap;
        }
}

/* Every class of the plain solver comes up exactly once, told by the parts that the pieces fill. */
static void compare_with_plain(const NwDesign *design, const NwFit *fit, const NwPlainFit *plain) {
    size_t width = plain->bodies;
    size_t *raw = nw_alloc(plain->raw * width, sizeof *raw);
    size_t *own = nw_alloc(width, sizeof *own);
    bool *met = nw_alloc(plain->classes, sizeof *met);
    for (size_t i = 0; i < plain->raw; i++)
        plain_numbers(design, plain, plain->placements + i * width, raw + i * width);
    NwFitSearch *search = nw_fit_search_new(fit);
    NwAssembly assembly;
    size_t count = 0;
    for (; nw_fit_search_step(search, LONG_MAX, &assembly) == NW_OK; count++) {
        ck_assert_int_eq(assembly.count, (int)width);
        const char *fault = nw_check_assembly(design, assembly.placements, width);
        ck_assert_msg(fault == NULL, "recount: %s", fault);
        plain_numbers(design, plain, assembly.placements, own);
        size_t at = 0;
        while (at < plain->raw && memcmp(raw + at * width, own, width * sizeof *own) != 0)
            at++;
        ck_assert_msg(at < plain->raw, "an assembly that the plain solver lacks");
        ck_assert_msg(!met[plain->class_of[at]], "two assemblies of one class");
        met[plain->class_of[at]] = true;
    }
    ck_assert_int_eq((long)count, (long)plain->classes);
    ck_assert_int_eq((int)nw_fit_search_step(search, LONG_MAX, &assembly), NW_NONE);
    nw_fit_search_free(search);
    free(raw);
    free(own);
    free(met);
}

/* Tallies that show that all kinds of designs came up. */
static int with_results, with_many, with_copies, with_cuts, with_empty, with_mirrors;

static void tally(const NwDesign *design, const NwPlainFit *plain) {
    bool copies = false;
    for (size_t p = 0; p < design->piece_count; p++)
        copies = copies || design->pieces[p].copies > 1;
    with_results += plain->raw > 0;
    with_many += plain->classes > 3;
    with_copies += copies && plain->raw > 0;
    with_cuts += !nw_design_is_whole(design) && plain->raw > 0;
    with_empty += design->may_be_empty->count > 0 && plain->raw > 0;
    with_mirrors += design->mirrors_together && plain->classes < plain->raw;
}

START_TEST(random_designs_have_the_plain_assemblies) {
    for (uint64_t seed = 1000; seed < 1000 + SEEDS; seed++)
        for (int together = 0; together < 2; together++) {
            NwDesign *design = nw_random_design(seed);
            design->mirrors_together = together;
            NwPlainFit *plain = nw_plain_fit(design, NW_PLAIN_BY_PART, RAW_LIMIT);
            ck_assert_int_eq(plain->status, NW_OK);
            NwFit *broken = make_fit(design, false), *kept = make_fit(design, true);
            ck_assert_int_eq(broken->group->order, (int)plain->symmetries);
            compare_with_plain(design, broken, plain);
            Keys a = find_keys(broken), b = find_keys(kept);
            assert_same_keys(&b, &a, "symmetry kept", seed);
            tally(design, plain);
            free(a.list);
            free(b.list);
            nw_fit_free(broken);
            nw_fit_free(kept);
            nw_plain_fit_free(plain);
            nw_design_free(design);
        }
    ck_assert_int_gt(with_results, SEEDS);
    ck_assert(with_many > 40 && with_copies > 40 && with_cuts > 40 && with_empty > 40 &&
              with_mirrors > 40);
}
END_TEST

/* With its symmetry kept, the search meets every raw assembly, and each once. */
START_TEST(kept_symmetry_meets_every_raw_assembly_once) {
    for (uint64_t seed = 0; seed < 150; seed++) {
        NwDesign *design = nw_random_design(seed);
        NwPlainFit *plain = nw_plain_fit(design, NW_PLAIN_BY_PART, RAW_LIMIT);
        NwFit *fit = make_fit(design, true);
        NwFitSearch *search = nw_fit_search_new(fit);
        NwAssembly assembly;
        while (nw_fit_search_step(search, LONG_MAX, &assembly) == NW_OK)
            continue;
        ck_assert_int_eq((long)nw_fit_search_raw(search), (long)plain->raw);
        nw_fit_search_free(search);
        nw_fit_free(fit);
        nw_plain_fit_free(plain);
        nw_design_free(design);
    }
}
END_TEST

START_TEST(the_intended_assembly_is_among_them) {
    int intended = 0;
    for (uint64_t seed = 0; seed < 200; seed++) {
        NwDesign *design = nw_random_design(seed);
        NwFit *fit = make_fit(design, false);
        NwAssembly assembly;
        if (!design->intended_count) {
            ck_assert_int_eq(nw_fit_intended(fit, &assembly), NW_NONE);
        } else {
            intended++;
            ck_assert_int_eq(nw_fit_intended(fit, &assembly), NW_OK);
            Keys keys = find_keys(fit);
            ck_assert_ptr_nonnull(
                bsearch(&assembly.key, keys.list, keys.count, sizeof(uint64_t), compare_keys));
            free(keys.list);
            nw_fit_free(fit);
            design->intended[0].motion.shift.x += 2;
            fit = make_fit(design, false);
            NwStatus status = nw_fit_intended(fit, &assembly);
            bool fits = !nw_check_assembly(design, design->intended, design->intended_count);
            ck_assert_int_eq(status, fits ? NW_OK : NW_DOES_NOT_FIT);
        }
        nw_fit_free(fit);
        nw_design_free(design);
    }
    ck_assert_int_gt(intended, 100);
}
END_TEST

/* ---- stopping, resuming, sharing out ----------------------------------------------------- */

/* Searches with `effort` at a time; after each step the search is saved, thrown away, and begun
 * again there. */
static void search_in_pieces(const NwFit *fit, long effort, Keys *keys) {
    NwFitSearch *search = nw_fit_search_new(fit);
    double left = 1;
    NwAssembly assembly;
    NwPosition position;
    for (NwStatus status; (status = nw_fit_search_step(search, effort, &assembly)) != NW_NONE;) {
        ck_assert(status == NW_OK || status == NW_STOPPED);
        if (status == NW_OK)
            add_key(keys, assembly.key);
        double now = nw_cover_left(nw_fit_search_cover(search));
        ck_assert_msg(now <= left + ROUNDING && now >= 0, "what is left went from %.17g to %.17g",
                      left, now);
        left = now;
        nw_cover_save(nw_fit_search_cover(search), &position);
        nw_fit_search_free(search);
        search = nw_fit_search_new(fit);
        ck_assert_int_eq(nw_cover_restore(nw_fit_search_cover(search), &position), NW_OK);
    }
    ck_assert(nw_cover_left(nw_fit_search_cover(search)) == 0);
    nw_cover_save(nw_fit_search_cover(search), &position);
    NwFitSearch *after = nw_fit_search_new(fit);
    ck_assert_int_eq(nw_cover_restore(nw_fit_search_cover(after), &position), NW_OK);
    ck_assert_int_eq(nw_fit_search_step(after, LONG_MAX, &assembly), NW_NONE);
    nw_fit_search_free(after);
    nw_fit_search_free(search);
}

START_TEST(stopping_and_resuming_changes_nothing) {
    static const long efforts[] = {1, 2, 3, 7, 50};
    for (uint64_t seed = 0; seed < 200; seed++) {
        NwDesign *design = nw_random_design(seed);
        NwFit *fit = make_fit(design, seed % 3 == 0);
        Keys all = find_keys(fit);
        for (size_t i = 0; i < sizeof efforts / sizeof efforts[0]; i++) {
            Keys keys = {0};
            search_in_pieces(fit, efforts[i], &keys);
            settle(&keys);
            assert_same_keys(&keys, &all, "resumed", seed);
            free(keys.list);
        }
        free(all.list);
        nw_fit_free(fit);
        nw_design_free(design);
    }
}
END_TEST

/* Parts of one search that wait to be gone on with, each with its share of the tree. */
typedef struct Parts {
    NwPosition *list;
    double *left;
    size_t count, capacity, left_capacity;
} Parts;

static void add_part(Parts *parts, const NwPosition *position, double left) {
    parts->list = nw_grow(parts->list, parts->count, &parts->capacity, sizeof *parts->list);
    parts->left = nw_grow(parts->left, parts->count, &parts->left_capacity, sizeof *parts->left);
    parts->list[parts->count] = *position;
    parts->left[parts->count++] = left;
}

static double sum_left(const Parts *parts) {
    double sum = 0;
    for (size_t i = 0; i < parts->count; i++)
        sum += parts->left[i];
    return sum;
}

/* Goes on with any part for a while, gives some of it away or not, and puts what is left back; one
 * search goes from part to part. */
static unsigned long long search_shared(const NwFit *fit, NwRandom *random, int longest,
                                        Keys *keys) {
    NwFitSearch *search = nw_fit_search_new(fit);
    NwCover *cover = nw_fit_search_cover(search);
    Parts parts = {0};
    NwPosition position;
    nw_cover_save(cover, &position);
    if (position.length)
        add_part(&parts, &position, nw_cover_left(cover));
    double before = 1;
    while (parts.count) {
        size_t at = (size_t)nw_random_below(random, (int)parts.count);
        ck_assert_int_eq(nw_cover_restore(cover, &parts.list[at]), NW_OK);
        ck_assert(fabs(nw_cover_left(cover) - parts.left[at]) <= ROUNDING);
        parts.count--;
        parts.list[at] = parts.list[parts.count];
        parts.left[at] = parts.left[parts.count];
        NwAssembly assembly;
        NwStatus status =
            nw_fit_search_step(search, 1 + nw_random_below(random, longest), &assembly);
        if (status == NW_OK)
            add_key(keys, assembly.key);
        double share, left = nw_cover_left(cover);
        ck_assert_msg(sum_left(&parts) + left <= before + ROUNDING, "more is left than before");
        before = sum_left(&parts) + left;
        while (nw_random_below(random, 2) && nw_cover_give(cover, &position, &share))
            add_part(&parts, &position, share);
        nw_cover_save(cover, &position);
        if (status != NW_NONE || position.length)
            add_part(&parts, &position, nw_cover_left(cover));
        ck_assert(fabs(sum_left(&parts) - before) <= ROUNDING);
    }
    unsigned long long raw = nw_fit_search_raw(search);
    nw_fit_search_free(search);
    free(parts.list);
    free(parts.left);
    return raw;
}

START_TEST(parts_given_away_make_up_the_search) {
    NwRandom random = {41};
    for (uint64_t seed = 0; seed < 200; seed++) {
        NwDesign *design = nw_random_design(seed);
        NwFit *fit = make_fit(design, seed % 2);
        Keys all = find_keys(fit);
        for (int longest = 1; longest < 100; longest *= 6) {
            Keys keys = {0};
            search_shared(fit, &random, longest, &keys);
            settle(&keys);
            assert_same_keys(&keys, &all, "shared out", seed);
            free(keys.list);
        }
        free(all.list);
        nw_fit_free(fit);
        nw_design_free(design);
    }
}
END_TEST

/* The raw covers add up too: no part meets what another one meets. */
START_TEST(parts_meet_each_cover_once) {
    NwDesign *design = nw_instance_build(nw_instance_find("soma"));
    NwFit *fit = make_fit(design, true);
    NwRandom random = {43};
    Keys keys = {0};
    ck_assert_int_eq((long)search_shared(fit, &random, 5000, &keys), nw_instance_find("soma")->raw);
    free(keys.list);
    nw_fit_free(fit);
    nw_design_free(design);
}
END_TEST

/* A search that has one choice left, and that one in work, keeps it. */
START_TEST(the_last_choice_is_not_given_away) {
    NwDesign *design = nw_instance_build(nw_instance_find("soma"));
    NwFit *fit = make_fit(design, false);
    NwCover *cover = nw_cover_new(fit->matrix);
    NwPosition position;
    double left;
    int given = 0;
    while (nw_cover_give(cover, &position, &left)) {
        ck_assert(left > 0);
        ck_assert_int_eq(position.length, 1);
        given++;
    }
    ck_assert_int_ge(given, 1);
    ck_assert(nw_cover_left(cover) > 0);
    ck_assert_int_ne(nw_cover_step(cover, LONG_MAX), NW_STOPPED);
    nw_cover_free(cover);
    nw_fit_free(fit);
    nw_design_free(design);
}
END_TEST

START_TEST(a_position_that_does_not_exist_is_refused) {
    NwDesign *design = nw_instance_build(nw_instance_find("soma"));
    NwFit *fit = make_fit(design, false);
    static const NwPosition positions[] = {
        {.length = 1, .choice = {100000}, .last = {100000}},
        {.length = 200},
        {.length = 2, .choice = {-2, 0}, .last = {0, 0}},
        {.length = 1, .choice = {-2}, .last = {0}},
        {.length = 1, .choice = {1}, .last = {0}},
        {.length = 1, .choice = {0}, .last = {100000}},
    };
    Keys all = find_keys(fit), keys = {0};
    NwFitSearch *search = nw_fit_search_new(fit);
    NwCover *cover = nw_fit_search_cover(search);
    NwPosition whole;
    nw_cover_save(cover, &whole);
    for (size_t i = 0; i < sizeof positions / sizeof positions[0]; i++)
        ck_assert_int_eq(nw_cover_restore(cover, &positions[i]), NW_BAD_RESUME);
    NwAssembly assembly;
    ck_assert_int_eq(nw_cover_restore(cover, &whole), NW_OK);
    while (nw_fit_search_step(search, LONG_MAX, &assembly) == NW_OK)
        add_key(&keys, assembly.key);
    settle(&keys);
    assert_same_keys(&keys, &all, "after positions that do not exist", 0);
    free(keys.list);
    free(all.list);
    nw_fit_search_free(search);
    NwFit *kept = make_fit(design, true);
    ck_assert(nw_matrix_fingerprint(fit->matrix) != nw_matrix_fingerprint(kept->matrix));
    NwFit *again = make_fit(design, false);
    ck_assert(nw_matrix_fingerprint(fit->matrix) == nw_matrix_fingerprint(again->matrix));
    nw_fit_free(again);
    nw_fit_free(kept);
    nw_fit_free(fit);
    nw_design_free(design);
}
END_TEST

START_TEST(designs_that_cannot_be_searched_say_why) {
    NwFit *fit;
    NwDesign *design = nw_design_new("nothing");
    ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){0}, &fit), NW_EMPTY);
    ck_assert_ptr_null(fit);
    NwSolid *cube = nw_solid_new();
    nw_solid_add(cube, nw_vec(0, 0, 0), NW_WHOLE);
    nw_design_take_piece(design, "cube", cube);
    ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){0}, &fit), NW_EMPTY);
    nw_solid_add(design->envelope, nw_vec(0, 0, 0), NW_WHOLE);
    design->pieces[0].copies = NW_COPIES_MAX + 1;
    ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){0}, &fit), NW_TOO_MANY);
    ck_assert_ptr_null(fit);
    design->pieces[0].copies = 2; /* too much volume: no failure, but no assembly */
    fit = make_fit(design, false);
    Keys none = find_keys(fit);
    ck_assert_int_eq((int)none.count, 0);
    nw_fit_free(fit);
    nw_design_free(design);
}
END_TEST

/* ---- published counts -------------------------------------------------------------------- */

enum { INSTANCES = 16 };

/* The sources are in the rows (bench/instances.c). */
START_TEST(published_counts_come_out) {
    const NwInstance *instance = nw_instance((size_t)_i);
    ck_assert_ptr_nonnull(instance);
    bool twice = strcmp(instance->name, "pentominoes-3x4x5") != 0;
    NwDesign *design = nw_instance_build(instance);
    for (int other = 0; other <= twice; other++) {
        design->mirrors_together = instance->mirrors_together != (other == 1);
        long wanted = design->mirrors_together ? instance->together : instance->apart;
        NwFit *fit = make_fit(design, false);
        NwFitSearch *search = nw_fit_search_new(fit);
        NwAssembly assembly;
        long found = 0;
        for (; nw_fit_search_step(search, LONG_MAX, &assembly) == NW_OK; found++)
            ck_assert_ptr_null(
                nw_check_assembly(design, assembly.placements, (size_t)assembly.count));
        if (wanted >= 0)
            ck_assert_msg(found == wanted, "%s: %ld, not %ld (%s)", instance->name, found, wanted,
                          instance->published);
        nw_fit_search_free(search);
        nw_fit_free(fit);
    }
    nw_design_free(design);
}
END_TEST

/* Counts of a fixed box: all covers, no symmetry used. */
START_TEST(published_raw_counts_come_out) {
    static const char *const rows[] = {
        "soma",           "pentominoes-2x3x10", "pentominoes-3x20", "slothouber-graatsma",
        "dominoes-2x2x1", "dominoes-2x2x2",     "dominoes-2x2x3",   "dominoes-2x2x4",
        "dominoes-2x2x5"};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const NwInstance *instance = nw_instance_find(rows[i]);
        NwDesign *design = nw_instance_build(instance);
        NwFit *fit = make_fit(design, true);
        NwFitSearch *search = nw_fit_search_new(fit);
        NwAssembly assembly;
        while (nw_fit_search_step(search, LONG_MAX, &assembly) == NW_OK)
            continue;
        ck_assert_msg((long)nw_fit_search_raw(search) == instance->raw, "%s: %llu, not %ld (%s)",
                      rows[i], nw_fit_search_raw(search), instance->raw, instance->published);
        nw_fit_search_free(search);
        nw_fit_free(fit);
        nw_design_free(design);
    }
}
END_TEST

int main(void) {
    Suite *suite = suite_create("fit");
    TCase *random = tcase_create("random"), *counts = tcase_create("counts");
    tcase_set_timeout(random, 600);
    tcase_set_timeout(counts, 3000);
    tcase_add_test(random, random_designs_have_the_plain_assemblies);
    tcase_add_test(random, kept_symmetry_meets_every_raw_assembly_once);
    tcase_add_test(random, the_intended_assembly_is_among_them);
    tcase_add_test(random, stopping_and_resuming_changes_nothing);
    tcase_add_test(random, parts_given_away_make_up_the_search);
    tcase_add_test(random, parts_meet_each_cover_once);
    tcase_add_test(random, the_last_choice_is_not_given_away);
    tcase_add_test(random, a_position_that_does_not_exist_is_refused);
    tcase_add_test(random, designs_that_cannot_be_searched_say_why);
    tcase_add_loop_test(counts, published_counts_come_out, 0, INSTANCES);
    tcase_add_test(counts, published_raw_counts_come_out);
    suite_add_tcase(suite, random);
    suite_add_tcase(suite, counts);
    return run_suite(suite);
}
