/* The slide engine against the plain search, its tables against exact overlap, and its memory. */
#include <check.h>
#include <limits.h>
#include <malloc.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "lattice/connect.h"
#include "lattice/named.h"
#include "lattice/overlap.h"
#include "plain/plain_fit.h"
#include "plain/plain_slide.h"
#include "plain/random_design.h"
#include "plain/tangle.h"
#include "slide/levels.h"
#include "slide/replay.h"
#include "slide/states.h"
#include "slide/way_out.h"
#include "suite.h"

enum { RAW_LIMIT = 20000, POSITIONS_LIMIT = 3000, BODIES_LIMIT = 6, TOGETHER_MAX = 64 };

/* ---- running the engine ------------------------------------------------------------------ */

/* A verdict and the way to it; `slides` is the caller's. */
typedef struct Answer {
    NwStatus status;
    NwWayOut way;
} Answer;

static Answer run_engine(const NwBody *bodies, size_t count, bool diagonals, uint32_t max_states,
                         long expansions) {
    NwTakeApart *search = nw_take_apart_new(diagonals);
    Answer answer = {
        .status = nw_take_apart_start(search, bodies, (int)count, max_states),
    };
    ck_assert_int_eq(answer.status, NW_OK);
    do {
        unsigned long long before = nw_take_apart_expansions(search);
        answer.status = nw_take_apart_step(search, expansions);
        ck_assert(nw_take_apart_expansions(search) - before <= (unsigned long long)expansions);
    } while (answer.status == NW_STOPPED);
    answer.way = *nw_take_apart_result(search);
    size_t bytes = (size_t)answer.way.total * sizeof *answer.way.slides;
    NwSlide *own = nw_alloc((size_t)answer.way.total, sizeof *own);
    if (bytes)
        memcpy(own, answer.way.slides, bytes);
    answer.way.slides = own;
    nw_take_apart_free(search);
    return answer;
}

/* The slides as the checker takes them; the caller frees. */
static NwReplaySlide *for_replay(const NwWayOut *way) {
    NwReplaySlide *slides = nw_alloc((size_t)way->total, sizeof *slides);
    for (int i = 0; i < way->total; i++) {
        const NwSlide *slide = &way->slides[i];
        slides[i] = (NwReplaySlide){slide->bodies, nw_direction_step(slide->direction),
                                    slide->cells == NW_SLIDE_OUT ? NW_REPLAY_OUT : slide->cells};
    }
    return slides;
}

static void assert_replays(const NwWayOut *way, const NwSolid *const *solids, size_t count) {
    NwReplaySlide *slides = for_replay(way);
    const char *fault = nw_replay(solids, count, slides, (size_t)way->total);
    ck_assert_msg(fault == NULL, "replay: %s", fault);
    /* The level is the number of the first slide out. */
    int level = 1;
    while (way->slides[level - 1].cells != NW_SLIDE_OUT)
        level++;
    ck_assert_int_eq(way->level, level);
    free(slides);
}

/* ---- against the plain search ------------------------------------------------------------ */

typedef struct Tally {
    int cases, opens, locked, partly, high, undecided;
} Tally;

/* One arrangement. `bodies` stand where `solids` are. */
static void compare(const NwBody *bodies, const NwSolid *const *solids, size_t count,
                    bool diagonals, Tally *tally) {
    NwPlainWayOut plain = nw_plain_slide(solids, count, diagonals, POSITIONS_LIMIT);
    Answer answer = run_engine(bodies, count, diagonals, NW_STATES_DEFAULT, 1000000);
    if (answer.status == NW_OK && count > 1)
        assert_replays(&answer.way, solids, count);
    if (plain.apart == NW_LIMIT) {
        tally->undecided++;
    } else {
        tally->cases++;
        tally->opens += plain.apart == NW_OK;
        tally->locked += plain.status == NW_NONE;
        tally->partly += plain.status == NW_OK && plain.apart == NW_NONE;
        tally->high += plain.level > 1;
        ck_assert_int_eq(answer.status, plain.apart);
        ck_assert_int_eq(answer.way.level, plain.level);
        ck_assert(answer.status != NW_NONE || nw_count_bits(answer.way.stuck) > 1);
        ck_assert(answer.status != NW_OK || answer.way.stuck == 0);
    }
    free(plain.slides);
    free(answer.way.slides);
}

static void compare_assemblies(const NwDesign *design, bool diagonals, int most, Tally *tally) {
    NwPlainFit *fit = nw_plain_fit(design, NW_PLAIN_BY_PART, RAW_LIMIT);
    ck_assert_int_eq(fit->status, NW_OK);
    size_t seen = 0;
    for (size_t i = 0; i < fit->raw && fit->bodies <= BODIES_LIMIT && (int)seen < most; i++) {
        if (fit->class_of[i] != seen)
            continue;
        seen++;
        NwBody bodies[BODIES_LIMIT];
        for (size_t b = 0; b < fit->bodies; b++) {
            const NwPlacement *placement = &fit->placements[i * fit->bodies + b];
            bodies[b] = (NwBody){placement->piece, design->pieces[placement->piece].solid,
                                 placement->motion};
        }
        compare(bodies, fit->solids + i * fit->bodies, fit->bodies, diagonals, tally);
    }
    nw_plain_fit_free(fit);
}

START_TEST(random_assemblies_agree_with_the_plain_search) {
    Tally straight = {0}, oblique = {0};
    for (uint64_t seed = 0; seed < 300; seed++) {
        NwDesign *design = nw_random_design(seed);
        compare_assemblies(design, false, 2, &straight);
        if (seed % 3 == 0)
            compare_assemblies(design, true, 1, &oblique);
        nw_design_free(design);
    }
    ck_assert_int_gt(straight.cases, 300);
    ck_assert_int_gt(oblique.cases, 50);
    ck_assert(straight.opens > 100 && straight.locked + straight.partly > 2);
    ck_assert_int_lt(straight.undecided + oblique.undecided, 40);
}
END_TEST

/* Takes random parts, or cells, from the pieces; none falls into two. */
static void wear(NwRandom *random, NwSolid **solids, size_t count, int times, bool whole_cells) {
    for (; times > 0; times--) {
        NwSolid **solid = &solids[nw_random_below(random, (int)count)];
        const NwCell *cell = &(*solid)->cells[nw_random_below(random, (int)(*solid)->count)];
        int mask = whole_cells ? NW_WHOLE : 1 << nw_random_below(random, NW_PARTS);
        NwSolid *worn = nw_solid_copy(*solid);
        nw_solid_remove(worn, nw_cell_at(cell), mask);
        bool holds = nw_solid_lumps(worn) == 1;
        nw_solid_free(holds ? *solid : worn);
        if (holds)
            *solid = worn;
    }
}

/* A box divided into three or four pieces is most often locked, as a whole or in part. */
START_TEST(divided_boxes_agree_with_the_plain_search) {
    Tally straight = {0}, oblique = {0};
    for (uint64_t seed = 0; seed < 260; seed++) {
        NwRandom random = {seed};
        NwSolid *box = NULL, *pieces[4];
        const int sizes[3] = {3 + nw_random_below(&random, 2), 3, 2 + nw_random_below(&random, 3)};
        nw_named_solid_build(nw_named_solid_find("box"), sizes, &box);
        bool whole = seed % 2, divided_whole = whole || seed % 4;
        size_t wanted = (size_t)(3 + nw_random_below(&random, 2));
        size_t count = nw_random_divide(&random, box, divided_whole, pieces, wanted);
        wear(&random, pieces, count, nw_random_below(&random, 12), whole);
        NwBody bodies[4];
        for (size_t i = 0; i < count; i++)
            bodies[i] = (NwBody){(int)i, pieces[i], {0, {0, 0, 0}}};
        const NwSolid *const *solids = (const NwSolid *const *)pieces;
        compare(bodies, solids, count, false, &straight);
        if (seed % 5 == 0)
            compare(bodies, solids, count, true, &oblique);
        for (size_t i = 0; i < count; i++)
            nw_solid_free(pieces[i]);
        nw_solid_free(box);
    }
    ck_assert_int_gt(straight.cases, 200);
    ck_assert(straight.opens > 100 && straight.locked > 15 && straight.partly > 15);
    ck_assert_int_gt(oblique.cases, 30);
}
END_TEST

static void bodies_of_tangle(const NwTangle *tangle, NwBody *bodies, const NwSolid **solids) {
    for (size_t i = 0; i < tangle->count; i++) {
        solids[i] = tangle->solids[i];
        bodies[i] = (NwBody){(int)i, tangle->solids[i], {0, {0, 0, 0}}};
    }
}

START_TEST(tangles_agree_with_the_plain_search) {
    Tally straight = {0}, oblique = {0};
    for (uint64_t seed = 100; seed < 180; seed++) {
        NwTangle tangle = nw_random_tangle(seed, seed % 2);
        NwBody bodies[NW_TANGLE_PIECES_MAX];
        const NwSolid *solids[NW_TANGLE_PIECES_MAX];
        bodies_of_tangle(&tangle, bodies, solids);
        compare(bodies, solids, tangle.count, false, &straight);
        if (seed % 4 < 2)
            compare(bodies, solids, tangle.count, true, &oblique);
        nw_tangle_clear(&tangle);
    }
    ck_assert(straight.cases > 60 && straight.high > 40);
    ck_assert(oblique.cases > 15);
}
END_TEST

/* One expansion at a time, and in odd lots: the same answer, slide by slide. */
START_TEST(the_size_of_the_steps_does_not_matter) {
    for (uint64_t seed = 200; seed < 225; seed++) {
        NwTangle tangle = nw_random_tangle(seed, seed % 2);
        NwBody bodies[NW_TANGLE_PIECES_MAX];
        const NwSolid *solids[NW_TANGLE_PIECES_MAX];
        bodies_of_tangle(&tangle, bodies, solids);
        bool diagonals = seed % 3 == 0;
        Answer whole = run_engine(bodies, tangle.count, diagonals, NW_STATES_DEFAULT, 1000000);
        for (long lot = 1; lot <= 17; lot += 8) {
            Answer parts = run_engine(bodies, tangle.count, diagonals, NW_STATES_DEFAULT, lot);
            ck_assert_int_eq(parts.status, whole.status);
            ck_assert_int_eq(parts.way.level, whole.way.level);
            ck_assert_int_eq(parts.way.total, whole.way.total);
            ck_assert(parts.way.states == whole.way.states);
            ck_assert_uint_eq(parts.way.stuck, whole.way.stuck);
            for (int i = 0; i < whole.way.total; i++) {
                const NwSlide *a = &parts.way.slides[i], *b = &whole.way.slides[i];
                ck_assert(a->bodies == b->bodies && a->direction == b->direction &&
                          a->cells == b->cells);
            }
            free(parts.way.slides);
        }
        free(whole.way.slides);
        nw_tangle_clear(&tangle);
    }
}
END_TEST

/* With too little room the search may say "undecided", but never what is not so. */
START_TEST(a_limit_never_gives_a_wrong_verdict) {
    int limited = 0, decided = 0;
    for (uint64_t seed = 300; seed < 330; seed++) {
        NwTangle tangle = nw_random_tangle(seed, seed % 2);
        NwBody bodies[NW_TANGLE_PIECES_MAX];
        const NwSolid *solids[NW_TANGLE_PIECES_MAX];
        bodies_of_tangle(&tangle, bodies, solids);
        Answer whole = run_engine(bodies, tangle.count, false, NW_STATES_DEFAULT, 1000000);
        uint32_t enough = (uint32_t)whole.way.states + 1;
        for (uint32_t room = 1; room < 2 * enough; room += 1 + room / 4) {
            Answer tight = run_engine(bodies, tangle.count, false, room, 1000000);
            ck_assert(tight.status == whole.status || tight.status == NW_LIMIT);
            ck_assert(tight.status == NW_LIMIT || tight.way.level == whole.way.level);
            ck_assert(room < enough || tight.status == whole.status);
            ck_assert(tight.way.level == 0 || tight.way.level == whole.way.level);
            limited += tight.status == NW_LIMIT;
            decided += tight.status != NW_LIMIT;
            free(tight.way.slides);
        }
        free(whole.way.slides);
        nw_tangle_clear(&tangle);
    }
    ck_assert(limited > 30 && decided > 30);
}
END_TEST

/* ---- many bodies ------------------------------------------------------------------------- */

static NwSolid *box_at(NwVec low, NwVec size) {
    NwSolid *solid = nw_solid_new();
    for (int x = 0; x < size.x; x++)
        for (int y = 0; y < size.y; y++)
            for (int z = 0; z < size.z; z++)
                nw_solid_add(solid, nw_vec_add(low, nw_vec(x, y, z)), NW_WHOLE);
    return solid;
}

/* A closed shell round a room of that size, and cubes in all of its cells but the last `holes`. The
 * shell is body 0; returns how many bodies there are. */
static size_t build_tray(NwVec size, size_t holes, NwBody *bodies, const NwSolid **solids) {
    NwSolid *room = box_at(nw_vec(0, 0, 0), size);
    NwSolid *outer = box_at(nw_vec(-1, -1, -1), nw_vec_add(size, nw_vec(2, 2, 2)));
    size_t count = 0;
    solids[count++] = nw_solid_difference(outer, room);
    for (size_t i = 0; i + holes < room->count; i++)
        solids[count++] = box_at(nw_cell_at(&room->cells[i]), nw_vec(1, 1, 1));
    for (size_t i = 0; i < count; i++)
        bodies[i] = (NwBody){(int)i, solids[i], {0, {0, 0, 0}}};
    nw_solid_free(room);
    nw_solid_free(outer);
    return count;
}

static void free_solids(const NwSolid **solids, size_t count) {
    for (size_t i = 0; i < count; i++)
        nw_solid_free((NwSolid *)solids[i]);
}

/* Cubes in a closed tray with one cell free can be brought into half of all their orders: W. W.
 * Johnson and W. E. Story, "Notes on the '15' puzzle", Amer. J. Math. 2 (1879), cited from memory;
 * in 2 x 2 into 12 of 24, as they only go round. So the number of states is known. */
static const struct {
    NwVec size;
    unsigned long long states;
} trays[] = {{{2, 2, 1}, 12}, {{3, 2, 1}, 360}, {{3, 1, 2}, 360}, {{3, 3, 1}, 181440}};
enum { TRAYS = sizeof trays / sizeof trays[0] };

START_TEST(a_closed_tray_has_half_of_all_orders) {
    NwBody bodies[TOGETHER_MAX];
    const NwSolid *solids[TOGETHER_MAX];
    size_t count = build_tray(trays[_i].size, 1, bodies, solids);
    Answer answer = run_engine(bodies, count, false, NW_STATES_DEFAULT, 1000000);
    ck_assert_int_eq(answer.status, NW_NONE);
    ck_assert_int_eq((long)answer.way.states, (long)trays[_i].states);
    ck_assert_uint_eq(answer.way.stuck, (1u << count) - 1);
    free(answer.way.slides);
    /* Another anchor, another count of bodies before it: the same states. */
    NwBody swap = bodies[0];
    bodies[0] = bodies[count - 1];
    bodies[count - 1] = swap;
    answer = run_engine(bodies, count, false, NW_STATES_DEFAULT, 1000000);
    ck_assert_int_eq(answer.status, NW_NONE);
    ck_assert_int_eq((long)answer.way.states, (long)trays[_i].states);
    free(answer.way.slides);
    free_solids(solids, count);
}
END_TEST

/* Twelve bodies with more orders (12!/2) than any memory holds: undecided, within the memory. */
START_TEST(twelve_bodies_stay_within_64_bytes_a_state) {
    NwBody bodies[TOGETHER_MAX];
    const NwSolid *solids[TOGETHER_MAX];
    size_t count = build_tray(nw_vec(4, 3, 1), 1, bodies, solids);
    ck_assert_int_eq((int)count, 12);
    static const uint32_t limits[] = {131072, 200000, 400000, 700000};
    for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++) {
        NwTakeApart *search = nw_take_apart_new(false);
        nw_take_apart_start(search, bodies, (int)count, limits[i]);
        ck_assert_int_eq(nw_take_apart_step(search, 10000000), NW_LIMIT);
        /* All that is held for visited states, tables and fixed cost included. */
        ck_assert_uint_le(nw_take_apart_state_bytes(search), (size_t)64 * limits[i]);
        ck_assert_int_eq((long)nw_take_apart_result(search)->states, (long)limits[i]);
        nw_take_apart_free(search);
    }
    free_solids(solids, count);
}
END_TEST

START_TEST(twelve_and_thirty_two_bodies_come_apart) {
    static const NwVec sizes[] = {{12, 1, 1}, {3, 2, 2}, {32, 1, 1}, {4, 4, 2}, {1, 1, 32}};
    for (size_t s = 0; s < sizeof sizes / sizeof sizes[0]; s++) {
        NwBody bodies[TOGETHER_MAX];
        const NwSolid *solids[TOGETHER_MAX];
        size_t count = build_tray(sizes[s], 0, bodies, solids) - 1; /* without the shell */
        for (int diagonals = 0; diagonals < 2; diagonals++) {
            Answer answer = run_engine(bodies + 1, count, diagonals, NW_STATES_DEFAULT, 1000000);
            ck_assert_int_eq(answer.status, NW_OK);
            ck_assert_int_eq(answer.way.level, 1);
            assert_replays(&answer.way, solids + 1, count);
            int out = 0;
            for (int i = 0; i < answer.way.total; i++)
                out += answer.way.slides[i].cells == NW_SLIDE_OUT;
            ck_assert_int_eq(out, (int)count - 1);
            free(answer.way.slides);
        }
        free_solids(solids, count + 1);
    }
}
END_TEST

START_TEST(thirty_one_cubes_in_a_shell_are_locked) {
    NwBody bodies[TOGETHER_MAX];
    const NwSolid *solids[TOGETHER_MAX];
    size_t count = build_tray(nw_vec(31, 1, 1), 0, bodies, solids);
    Answer answer = run_engine(bodies, count, true, NW_STATES_DEFAULT, 1000000);
    ck_assert_int_eq(answer.status, NW_NONE);
    ck_assert_uint_eq(answer.way.stuck, UINT32_MAX);
    free(answer.way.slides);
    free_solids(solids, count);
    /* With one cell free the hole wanders through the row: 31 states for 30 cubes. */
    count = build_tray(nw_vec(31, 1, 1), 1, bodies, solids);
    answer = run_engine(bodies, count, false, NW_STATES_DEFAULT, 1000000);
    ck_assert_int_eq(answer.status, NW_NONE);
    ck_assert_int_eq((long)answer.way.states, 31);
    free(answer.way.slides);
    free_solids(solids, count);
}
END_TEST

/* 25 loose cubes: 2^25 sets can slide from the first position on. A step that is to be short is so
 * all the same, and with a limit of positions the search gives up some time. */
START_TEST(many_loose_bodies_do_not_hold_up_a_step) {
    NwBody bodies[TOGETHER_MAX];
    const NwSolid *solids[TOGETHER_MAX];
    size_t count = build_tray(nw_vec(2, 5, 5), 25, bodies, solids);
    NwTakeApart *search = nw_take_apart_new(false);
    nw_take_apart_start(search, bodies, (int)count, 100000);
    unsigned long long most = 0, before = 0;
    for (int step = 0; step < 40; step++) {
        ck_assert_int_eq(nw_take_apart_step(search, 1), NW_STOPPED);
        unsigned long long states = nw_take_apart_progress(search).states;
        most = states - before > most ? states - before : most;
        before = states;
    }
    ck_assert_uint_eq(nw_take_apart_expansions(search), 1);
    ck_assert_uint_gt(most, 0);
    ck_assert_uint_lt(most, 10000);
    ck_assert_int_eq(nw_take_apart_step(search, 10000000), NW_LIMIT);
    nw_take_apart_free(search);
    free_solids(solids, count);
}
END_TEST

START_TEST(one_body_is_apart_and_33_are_refused) {
    NwBody bodies[TOGETHER_MAX];
    const NwSolid *solids[TOGETHER_MAX];
    size_t count = build_tray(nw_vec(33, 1, 1), 0, bodies, solids);
    NwTakeApart *search = nw_take_apart_new(false);
    ck_assert_int_eq(nw_take_apart_start(search, bodies, 33, 10), NW_TOO_MANY);
    ck_assert_int_eq(nw_take_apart_start(search, bodies, 0, 10), NW_TOO_MANY);
    ck_assert_int_eq(nw_take_apart_start(search, bodies + 1, 1, 10), NW_OK);
    ck_assert_int_eq(nw_take_apart_step(search, 1), NW_OK);
    ck_assert_int_eq(nw_take_apart_result(search)->total, 0);
    ck_assert_int_eq(nw_take_apart_result(search)->level, 0);
    nw_take_apart_free(search);
    free_solids(solids, count);
}
END_TEST

/* ---- tables ------------------------------------------------------------------------------ */

/* How far `b` goes past `a` from R, tested from the vertices at every quarter of a cell or, along
 * a diagonal, every eighth; for ever once the boxes are past each other. */
static int exact_run(const NwSolid *a, const NwSolid *b, NwVec r, NwVec step) {
    NwBounds box_a = nw_solid_bounds(a), box_b = nw_solid_bounds(b);
    int fine = nw_vec_dot(step, step) == 1 ? 4 : 8;
    for (int run = 0;; run++) {
        for (int axis = 0; axis < 3; axis++) {
            int along = nw_vec_get(step, axis), at = nw_vec_get(r, axis) + run * along;
            bool above = nw_vec_get(box_b.low, axis) + at >= nw_vec_get(box_a.high, axis);
            bool below = nw_vec_get(box_b.high, axis) + at <= nw_vec_get(box_a.low, axis);
            if ((along >= 0 && above) || (along <= 0 && below))
                return NW_RUN_FOREVER;
        }
        for (int k = 1; k <= fine; k++) {
            NwVec at = nw_vec_add(nw_vec_scale(r, fine), nw_vec_scale(step, run * fine + k));
            if (nw_overlap_solids(a, b, at, fine))
                return run;
        }
    }
}

static NwSolid *turned(const NwSolid *solid, NwTurn turn) {
    NwSolid *moved = NULL;
    ck_assert_int_eq(nw_solid_moved(solid, (NwMotion){turn, {0, 0, 0}}, &moved), NW_OK);
    return moved;
}

static NwBody random_body(NwRandom *random, int kind) {
    bool whole = nw_random_below(random, 3) == 0;
    int size = whole ? 1 + nw_random_below(random, 5) : 1 + nw_random_below(random, 12);
    NwTurn turn = nw_random_below(random, NW_ROTATIONS);
    return (NwBody){kind, nw_random_solid(random, size, whole), {turn, {0, 0, 0}}};
}

/* A vector in the table's box, or within 6 of it. */
static NwVec random_apart(NwRandom *random, const NwClearance *table, int beyond) {
    NwVec r;
    for (int axis = 0; axis < 3; axis++) {
        int size = nw_vec_get(table->size, axis) + 2 * beyond;
        nw_vec_set(&r, axis, nw_vec_get(table->low, axis) - beyond + nw_random_below(random, size));
    }
    return r;
}

/* Runs at R by the table, in the box or outside it. */
static void table_runs(const NwClearance *table, NwVec r, uint8_t *runs) {
    nw_clearance_outside(table, r, runs);
    if (nw_clearance_inside(table, r))
        ck_assert_mem_eq(runs, nw_clearance_at(table, r), (size_t)table->directions);
}

START_TEST(clearance_tables_agree_with_exact_overlap) {
    NwRandom random = {20 + (uint64_t)_i};
    bool diagonals = _i % 2;
    NwClearanceCache *cache = nw_clearance_cache_new(diagonals);
    int blocked = 0, part = 0, forever = 0, outside = 0;
    for (int pair = 0; pair < 30; pair++) {
        NwBody a = random_body(&random, 2 * pair), b = random_body(&random, 2 * pair + 1);
        NwSolid *solid_a = turned(a.solid, a.motion.turn),
                *solid_b = turned(b.solid, b.motion.turn);
        const NwClearance *ab = nw_clearance_get(cache, &a, &b);
        const NwClearance *ba = nw_clearance_get(cache, &b, &a);
        ck_assert_ptr_eq(ab, nw_clearance_get(cache, &a, &b));
        ck_assert_int_eq(ab->directions, diagonals ? NW_DIRECTIONS : NW_CUBE_DIRECTIONS);
        for (int sample = 0; sample < 40; sample++) {
            NwVec r = random_apart(&random, ab, sample % 4 ? 0 : 6);
            uint8_t runs[24], back[24];
            table_runs(ab, r, runs);
            table_runs(ba, nw_vec_scale(r, -1), back);
            outside += !nw_clearance_inside(ab, r);
            for (int d = 0; d < ab->directions; d++) {
                int exact = exact_run(solid_a, solid_b, r, nw_direction_step(d));
                ck_assert_int_eq(runs[d], exact);
                ck_assert_int_eq(back[nw_direction_opposite(d)], exact);
                blocked += exact == 0;
                part += exact > 0 && exact < NW_RUN_FOREVER;
                forever += exact == NW_RUN_FOREVER;
            }
        }
        nw_solid_free(solid_a);
        nw_solid_free(solid_b);
        nw_solid_free((NwSolid *)a.solid);
        nw_solid_free((NwSolid *)b.solid);
    }
    ck_assert(blocked > 300 && part > 100 && forever > 300 && outside > 100);
    nw_clearance_cache_trim(cache, 0);
    nw_clearance_cache_free(cache);
}
END_TEST

/* ---- the set of states ------------------------------------------------------------------- */

START_TEST(states_are_a_queue_and_a_set) {
    NwRandom random = {7};
    for (int words = 1; words <= NW_STATE_WORDS_MAX; words++) {
        NwStates *states = nw_states_new();
        enum { DRAWS = 30000, DIFFERENT = 9000 };
        nw_states_clear(states, words);
        /* State k is made from k alone, so what must be there is known; few bits of it differ. */
        uint32_t *number_of = nw_alloc(DIFFERENT, sizeof *number_of), count = 0;
        for (int draw = 0; draw < DRAWS; draw++) {
            int k = nw_random_below(&random, DIFFERENT);
            uint64_t state[NW_STATE_WORDS_MAX] = {0};
            state[words - 1] = (uint64_t)k;
            state[k % words] |= nw_bit(40 + k % 20);
            NwStatus status = nw_states_add(states, state, (uint32_t)draw, UINT32_MAX);
            ck_assert_int_eq(status, number_of[k] ? NW_NONE : NW_OK);
            if (!number_of[k])
                number_of[k] = ++count;
            ck_assert_mem_eq(nw_states_get(states, number_of[k] - 1), state,
                             (size_t)words * sizeof *state);
            if (status == NW_OK)
                ck_assert_uint_eq(nw_states_parent(states, count - 1), (uint32_t)draw);
        }
        ck_assert_uint_eq(nw_states_count(states), count);
        free(number_of);
        nw_states_free(states);
    }
}
END_TEST

START_TEST(states_keep_to_their_limit) {
    NwStates *states = nw_states_new();
    for (int round = 0; round < 3; round++) {
        nw_states_clear(states, 1 + round);
        ck_assert_uint_eq(nw_states_count(states), 0);
        for (uint64_t k = 0; k < 200; k++) {
            uint64_t state[3] = {k, k, k};
            ck_assert_int_eq(nw_states_add(states, state, 0, 100), k < 100 ? NW_OK : NW_LIMIT);
        }
        uint64_t known[3] = {99, 99, 99}; /* what is there is known at the limit too */
        ck_assert_int_eq(nw_states_add(states, known, 0, 100), NW_NONE);
        ck_assert_uint_eq(nw_states_count(states), 100);
    }
    nw_states_free(states);
}
END_TEST

/* Bytes that malloc has given out; 0 where it does not tell (under a sanitizer). */
static size_t bytes_given_out(void) {
    struct mallinfo2 info = mallinfo2();
    return info.uordblks + info.hblkhd;
}

/* From 2^17 states on, all that a set of 12-body states (5 words) holds, fixed cost included, is at
 * most 64 bytes a state, whatever their number; and what it says that it holds is true. */
START_TEST(a_state_of_twelve_bodies_takes_at_most_64_bytes) {
    size_t before = bytes_given_out();
    NwStates *states = nw_states_new();
    nw_states_clear(states, 5);
    size_t worst = 0;
    for (uint64_t k = 0; k < 1500000; k++) {
        uint64_t state[5] = {nw_mix(k), nw_mix(k + 1), k, 0, nw_mix(k + 2)};
        ck_assert_int_eq(nw_states_add(states, state, 0, NW_STATES_MAX), NW_OK);
        if (k < 131072 || k % 64)
            continue;
        size_t each = nw_states_bytes(states) * 1000 / (k + 1);
        worst = each > worst ? each : worst;
    }
    ck_assert_uint_le(worst, 64000);
    size_t real = bytes_given_out();
    if (real > before)
        ck_assert_uint_le(real - before, nw_states_bytes(states) / 100 * 101 + 65536);
    nw_states_free(states);
}
END_TEST

START_TEST(directions_have_their_names) {
    for (int d = 0; d < NW_DIRECTIONS; d++) {
        char name[NW_DIRECTION_NAME_SIZE];
        int parsed = -1;
        nw_direction_name(d, name);
        ck_assert_int_eq(nw_direction_parse(name, &parsed), NW_OK);
        ck_assert_int_eq(parsed, d);
        char text[NW_DIRECTION_TEXT_SIZE];
        nw_direction_text(d, text);
        ck_assert_ptr_null(strchr(text, '-'));
        ck_assert_int_eq(strstr(text, "−") != NULL, strchr(name, '-') != NULL);
        ck_assert_int_eq(nw_direction_parse(text, &parsed), NW_OK);
        ck_assert_int_eq(parsed, d);
        NwVec step = nw_direction_step(d), back = nw_direction_step(nw_direction_opposite(d));
        ck_assert(nw_vec_equal(step, nw_vec_scale(back, -1)));
        ck_assert_int_eq(nw_vec_dot(step, step), d < NW_CUBE_DIRECTIONS ? 1 : 2);
    }
    int none;
    ck_assert_int_eq(nw_direction_parse("+w", &none), NW_UNKNOWN_NAME);
    ck_assert_int_eq(nw_direction_parse("", &none), NW_UNKNOWN_NAME);
}
END_TEST

static NwLevels levels_of(const int *cells, int count) {
    NwSlide slides[100] = {0};
    for (int i = 0; i < count; i++)
        slides[i].cells = cells[i];
    return nw_levels_of(slides, count);
}

START_TEST(levels_count_slides_to_each_separation) {
    enum { OUT = NW_SLIDE_OUT };
    NwLevels none = levels_of(NULL, 0), open = levels_of((int[]){2, 3}, 2);
    ck_assert_int_eq(none.count, 0);
    ck_assert_int_eq(open.count, 0);
    NwLevels levels = levels_of((int[]){OUT, 1, 2, 1, OUT, OUT, 5, OUT, 7}, 9);
    const int expected[] = {1, 4, 1, 2};
    ck_assert_int_eq(levels.count, 4);
    for (int i = 0; i < 4; i++)
        ck_assert_int_eq(levels.slides[i], expected[i]);
    int many[100] = {0}; /* more than any way out has: cut off, not overrun */
    ck_assert_int_eq(levels_of(many, 100).count, NW_BODIES_MAX);

    char text[NW_LEVELS_TEXT_SIZE];
    nw_levels_text(&levels, text);
    ck_assert_str_eq(text, "1·4·1·2");
    nw_levels_text(&none, text);
    ck_assert_str_eq(text, "0");
    NwLevels longest = {.count = NW_BODIES_MAX};
    for (int i = 0; i < NW_BODIES_MAX; i++)
        longest.slides[i] = INT_MAX;
    nw_levels_text(&longest, text);
    ck_assert_uint_lt(strlen(text), NW_LEVELS_TEXT_SIZE);
    ck_assert_str_eq(text + strlen(text) - 12, "·2147483647");
}
END_TEST

START_TEST(levels_compare_number_by_number) {
    NwLevels rising[] = {{0},          {1, {1}},    {2, {1, 4}}, {3, {1, 4, 1}},
                         {2, {1, 10}}, /* as letters it would come before 1·4 */
                         {1, {2}},     {2, {10, 1}}};
    int count = sizeof rising / sizeof rising[0];
    for (int i = 0; i < count; i++)
        for (int j = 0; j < count; j++) {
            int order = nw_levels_compare(&rising[i], &rising[j]);
            ck_assert_int_eq((order > 0) - (order < 0), (i > j) - (i < j));
        }
}
END_TEST

int main(void) {
    Suite *suite = suite_create("slide");
    TCase *random = tcase_create("random"), *many = tcase_create("many"),
          *parts = tcase_create("parts");
    tcase_set_timeout(random, 600);
    tcase_set_timeout(many, 300);
    tcase_set_timeout(parts, 300);
    tcase_add_test(random, random_assemblies_agree_with_the_plain_search);
    tcase_add_test(random, divided_boxes_agree_with_the_plain_search);
    tcase_add_test(random, tangles_agree_with_the_plain_search);
    tcase_add_test(random, the_size_of_the_steps_does_not_matter);
    tcase_add_test(random, a_limit_never_gives_a_wrong_verdict);
    tcase_add_loop_test(many, a_closed_tray_has_half_of_all_orders, 0, TRAYS);
    tcase_add_test(many, twelve_bodies_stay_within_64_bytes_a_state);
    tcase_add_test(many, twelve_and_thirty_two_bodies_come_apart);
    tcase_add_test(many, thirty_one_cubes_in_a_shell_are_locked);
    tcase_add_test(many, many_loose_bodies_do_not_hold_up_a_step);
    tcase_add_test(many, one_body_is_apart_and_33_are_refused);
    tcase_add_loop_test(parts, clearance_tables_agree_with_exact_overlap, 0, 2);
    tcase_add_test(parts, states_are_a_queue_and_a_set);
    tcase_add_test(parts, states_keep_to_their_limit);
    tcase_add_test(parts, a_state_of_twelve_bodies_takes_at_most_64_bytes);
    tcase_add_test(parts, directions_have_their_names);
    tcase_add_test(parts, levels_count_slides_to_each_separation);
    tcase_add_test(parts, levels_compare_number_by_number);
    suite_add_tcase(suite, random);
    suite_add_tcase(suite, many);
    suite_add_tcase(suite, parts);
    return run_suite(suite);
}
