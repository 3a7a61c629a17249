/* The fewest slides in all, against a plain search that remembers nothing (plain/plain_fewest.h)
 * and against the checker of ways out. */
#include <check.h>
#include <glib.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "format/design_json.h"
#include "lattice/connect.h"
#include "plain/plain_fewest.h"
#include "plain/random_design.h"
#include "slide/fewest.h"
#include "slide/levels.h"
#include "slide/replay.h"
#include "suite.h"

enum { PIECES_MAX = NW_PLAIN_FEWEST_PIECES_MAX, VARIANTS = 120 };

static const char *design_folder;

typedef struct Tally {
    int cases, undecided, searched, improved;
} Tally;

static void assert_replays(const NwWayOut *way, const NwSolid *const *solids, size_t count) {
    NwReplaySlide *slides = nw_alloc((size_t)way->total, sizeof *slides);
    for (int i = 0; i < way->total; i++) {
        const NwSlide *slide = &way->slides[i];
        slides[i] = (NwReplaySlide){slide->bodies, nw_direction_step(slide->direction),
                                    slide->cells == NW_SLIDE_OUT ? NW_REPLAY_OUT : slide->cells};
    }
    const char *fault = nw_replay(solids, count, slides, (size_t)way->total);
    ck_assert_msg(fault == NULL, "replay: %s", fault);
    NwLevels levels = nw_levels_of(way->slides, way->total);
    int sum = 0;
    for (int i = 0; i < levels.count; i++)
        sum += levels.slides[i];
    ck_assert_int_eq(levels.count, (int)count - 1);
    ck_assert_int_eq(sum, way->total);
    ck_assert_int_eq(levels.count ? levels.slides[0] : 0, way->level);
    free(slides);
}

static void judge(const NwSolid *const *solids, size_t count, bool diagonals, Tally *tally) {
    const NwMotion still = {0, {0, 0, 0}};
    NwBody bodies[PIECES_MAX];
    for (size_t i = 0; i < count; i++)
        bodies[i] = (NwBody){(int)i, solids[i], still};
    NwTakeApart *greedy = nw_take_apart_new(diagonals);
    NwFewest *fewest = nw_fewest_new(diagonals);
    ck_assert_int_eq(nw_take_apart_start(greedy, bodies, (int)count, NW_STATES_DEFAULT), NW_OK);
    if (nw_take_apart_step(greedy, LONG_MAX) == NW_OK) {
        const NwWayOut *known = nw_take_apart_result(greedy), *best = nw_fewest_result(fewest);
        ck_assert_int_eq(nw_fewest_start(fewest, bodies, (int)count, known, ULONG_MAX), NW_OK);
        NwStatus status;
        do
            status = nw_fewest_step(fewest, 1000);
        while (status == NW_STOPPED);
        ck_assert_int_eq(status, NW_OK);
        ck_assert_int_eq(nw_fewest_at_least(fewest), best->total);
        ck_assert_int_le(best->total, known->total);
        ck_assert_int_ge(best->level, known->level);
        assert_replays(best, solids, count);
        tally->cases++;
        tally->improved += best->total < known->total;
        tally->searched += nw_fewest_tries(fewest) > 0;
        long patience = 100000;
        bool fewer = nw_plain_fewest(solids, count, diagonals, best->total - 1, &patience);
        ck_assert_msg(!fewer, "%d slides are not the fewest", best->total);
        tally->undecided += patience <= 0;
    }
    nw_fewest_free(fewest);
    nw_take_apart_free(greedy);
}

static NwStatus take_apart(NwTakeApart *search, NwSolid *const *solids, int count, NwBody *bodies) {
    const NwMotion still = {0, {0, 0, 0}};
    for (int i = 0; i < count; i++)
        bodies[i] = (NwBody){i, solids[i], still};
    nw_take_apart_start(search, bodies, count, NW_STATES_DEFAULT);
    return nw_take_apart_step(search, LONG_MAX);
}

/* It opens, and its total is more than the level and a slide for each separation after it. */
static bool is_open_question(NwSolid *const *solids, int count) {
    NwBody bodies[PIECES_MAX];
    NwTakeApart *search = nw_take_apart_new(false);
    bool opens = take_apart(search, solids, count, bodies) == NW_OK;
    const NwWayOut *way = nw_take_apart_result(search);
    bool open_question = opens && way->total > way->level + count - 2;
    nw_take_apart_free(search);
    return open_question;
}

/* The pieces of a bundled design where its intended assembly has them, with some random parts, or
 * whole cells, taken away, no piece falling into two. Most of these still have a long way out. */
static int random_variant(uint64_t seed, NwSolid **pieces) {
    static const char *const names[] = {"ember-lantern", "kite-harbour", "quiet-comet",
                                        "tide-chest"};
    NwRandom random = {seed * 7919 + 1};
    g_autofree char *path = g_strdup_printf("%s/%s.json", design_folder, names[seed % 4]);
    g_autoptr(GError) error = NULL;
    NwDesign *design = nw_design_load(path, &error);
    ck_assert_msg(design != NULL, "%s", error ? error->message : "no error");
    int count = (int)design->intended_count;
    for (int b = 0; b < count; b++) {
        const NwPlacement *placement = &design->intended[b];
        ck_assert_int_eq(
            nw_solid_moved(design->pieces[placement->piece].solid, placement->motion, &pieces[b]),
            NW_OK);
    }
    nw_design_free(design);
    for (int k = nw_random_below(&random, 5); k > 0; k--) {
        NwSolid **piece = &pieces[nw_random_below(&random, count)];
        NwCell cell = (*piece)->cells[nw_random_below(&random, (int)(*piece)->count)];
        NwSolid *less = nw_solid_copy(*piece);
        bool part = nw_random_below(&random, 2);
        nw_solid_remove(less, nw_cell_at(&cell),
                        part ? 1 << nw_random_below(&random, 5) : NW_WHOLE);
        bool whole = nw_solid_lumps(less) == 1;
        nw_solid_free(whole ? *piece : less);
        *piece = whole ? less : *piece;
    }
    return count;
}

START_TEST(variants_agree_with_the_plain_search) {
    Tally tally = {0};
    for (uint64_t seed = 0; seed < VARIANTS; seed++) {
        NwSolid *pieces[PIECES_MAX];
        int count = random_variant(seed, pieces);
        judge((const NwSolid *const *)pieces, (size_t)count, seed % 9 == 8, &tally);
        for (int i = 0; i < count; i++)
            nw_solid_free(pieces[i]);
    }
    printf("%d cases, %d searched, %d improved, %d too large for the plain search\n", tally.cases,
           tally.searched, tally.improved, tally.undecided);
    ck_assert_int_gt(tally.cases, VARIANTS / 2);
    ck_assert_int_gt(tally.searched, VARIANTS / 4);
    ck_assert_int_gt(tally.improved, 0);
    ck_assert_int_lt(tally.undecided, tally.cases / 4);
}
END_TEST

/* Wherever it is stopped, what is said is true: a total that can be done, and a bound below. */
START_TEST(a_limit_gives_true_bounds) {
    int limited = 0, cases = 0;
    for (uint64_t seed = 0; seed < VARIANTS && cases < 20; seed++) {
        NwSolid *pieces[PIECES_MAX];
        NwBody bodies[PIECES_MAX];
        int count = random_variant(seed, pieces), total[3], at_least[3];
        if (is_open_question(pieces, count)) {
            cases++;
            NwTakeApart *greedy = nw_take_apart_new(false);
            ck_assert_int_eq(take_apart(greedy, pieces, count, bodies), NW_OK);
            for (int i = 0; i < 3; i++) {
                const unsigned long limits[3] = {20, 400, ULONG_MAX};
                NwFewest *fewest = nw_fewest_new(false);
                nw_fewest_start(fewest, bodies, count, nw_take_apart_result(greedy), limits[i]);
                NwStatus status = nw_fewest_step(fewest, ULONG_MAX);
                ck_assert(status == NW_OK || (status == NW_LIMIT && i < 2));
                total[i] = nw_fewest_result(fewest)->total;
                at_least[i] = nw_fewest_at_least(fewest);
                ck_assert_int_eq(status == NW_OK, total[i] == at_least[i]);
                assert_replays(nw_fewest_result(fewest), (const NwSolid *const *)pieces,
                               (size_t)count);
                limited += status == NW_LIMIT;
                nw_fewest_free(fewest);
            }
            ck_assert(at_least[0] <= total[2] && at_least[1] <= total[2]);
            ck_assert(total[0] >= total[2] && total[1] >= total[2]);
            nw_take_apart_free(greedy);
        }
        for (int i = 0; i < count; i++)
            nw_solid_free(pieces[i]);
    }
    ck_assert_int_gt(limited, 20);
}
END_TEST

START_TEST(one_body_needs_no_slide_and_33_are_refused) {
    NwSolid *solid = nw_solid_new();
    ck_assert_int_eq(nw_solid_add(solid, nw_vec(0, 0, 0), NW_WHOLE), NW_OK);
    NwBody bodies[NW_BODIES_MAX + 1];
    for (int i = 0; i <= NW_BODIES_MAX; i++)
        bodies[i] = (NwBody){0, solid, {0, {2 * i, 0, 0}}};
    const NwWayOut none = {0};
    NwFewest *fewest = nw_fewest_new(false);
    ck_assert_int_eq(nw_fewest_start(fewest, bodies, 1, &none, 1000), NW_OK);
    ck_assert_int_eq(nw_fewest_step(fewest, 1), NW_OK);
    ck_assert_int_eq(nw_fewest_result(fewest)->total, 0);
    ck_assert_int_eq(nw_fewest_start(fewest, bodies, NW_BODIES_MAX + 1, &none, 1000), NW_TOO_MANY);
    nw_fewest_free(fewest);
    nw_fewest_free(NULL);
    nw_solid_free(solid);
}
END_TEST

int main(int argc, char **argv) {
    design_folder = argc > 1 ? argv[1] : "data/designs";
    Suite *suite = suite_create("fewest");
    TCase *random = tcase_create("random");
    tcase_set_timeout(random, 300);
    tcase_add_test(random, variants_agree_with_the_plain_search);
    tcase_add_test(random, a_limit_gives_true_bounds);
    tcase_add_test(random, one_body_needs_no_slide_and_33_are_refused);
    suite_add_tcase(suite, random);
    return run_suite(suite);
}
