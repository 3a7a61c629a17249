/* The measures: the blind tree counted plainly and by all its paths, the estimate against the
 * count, the graph of positions against a plain search with exact overlap tests and a plain
 * definition of dead ends, and what must be held, on arrangements made for it.
 * The first argument is the folder of the bundled designs. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "bench/instances.h"
#include "format/design_json.h"
#include "job/verify.h"
#include "lattice/named.h"
#include "lattice/overlap.h"
#include "measure/measures.h"
#include "plain/random_design.h"
#include "plain/tangle.h"
#include "slide/grips.h"
#include "suite.h"

static const char *design_folder;

/* ---- the blind tree ----------------------------------------------------------------------- */

/* Every path of the tree, with its probability: what Knuth's rule gives for it on average, and
 * how often a piece is put in. */
typedef struct Paths {
    NwNaiveSearch *blind;
    int choices[32];
    double average;
    double nodes;
} Paths;

static void walk_paths(Paths *paths, int depth, double chance, double product, double sum) {
    nw_naive_search_restart(paths->blind);
    for (int i = 0; i < depth; i++)
        nw_naive_search_choose(paths->blind, paths->choices[i]);
    int width = nw_naive_search_width(paths->blind);
    ck_assert_int_eq(nw_naive_search_depth(paths->blind), depth);
    if (depth)
        paths->nodes++;
    if (width == 0)
        paths->average += chance * sum;
    for (int i = 0; i < width; i++) {
        paths->choices[depth] = i;
        walk_paths(paths, depth + 1, chance / width, product * width, sum + product * width);
    }
}

/* The same tree by solids and overlaps alone. */
typedef struct Plain {
    const NwFit *fit;
    NwSolid **solids; /* of each place */
    int *pieces;      /* in the order in which they are put in */
    int total;
    double nodes;
} Plain;

static bool is_repeated(const Plain *plain, int place) {
    const NwPlacement *places = plain->fit->places->places;
    for (int g = 0; g < plain->fit->group->order; g++) {
        NwSolid *image;
        ck_assert_int_eq(
            nw_solid_moved(plain->solids[place], plain->fit->group->motions[g], &image), NW_OK);
        bool repeated = false;
        for (int other = 0; other < place && !repeated; other++)
            repeated = places[other].piece == places[place].piece &&
                       nw_solid_equal(plain->solids[other], image);
        nw_solid_free(image);
        if (repeated)
            return true;
    }
    return false;
}

static void count_plainly(Plain *plain, const int *chosen, int depth) {
    int own[32];
    if (depth == plain->total)
        return;
    memcpy(own, chosen, (size_t)depth * sizeof *own);
    bool same = depth && plain->pieces[depth] == plain->pieces[depth - 1];
    for (int place = 0; place < plain->fit->places->place_count; place++) {
        if (plain->fit->places->places[place].piece != plain->pieces[depth] ||
            (same && place <= chosen[depth - 1]) || (!depth && is_repeated(plain, place)))
            continue;
        bool free_place = true;
        for (int i = 0; i < depth && free_place; i++)
            free_place = !nw_solid_overlaps(plain->solids[chosen[i]], plain->solids[place]);
        if (!free_place)
            continue;
        plain->nodes++;
        own[depth] = place;
        count_plainly(plain, own, depth + 1);
    }
}

static double plain_nodes(const NwFit *fit) {
    const NwDesign *design = fit->design;
    const NwPlacementTable *places = fit->places;
    Plain plain = {.fit = fit};
    plain.solids = nw_alloc((size_t)places->place_count, sizeof *plain.solids);
    for (int i = 0; i < places->place_count; i++)
        ck_assert_int_eq(nw_solid_moved(design->pieces[places->places[i].piece].solid,
                                        places->places[i].motion, &plain.solids[i]),
                         NW_OK);
    int pieces[32];
    for (long volume = 100000; volume > 0; volume--)
        for (size_t p = 0; p < design->piece_count; p++)
            for (int c = 0; nw_solid_volume6(design->pieces[p].solid) == volume &&
                            c < design->pieces[p].copies;
                 c++)
                pieces[plain.total++] = (int)p;
    plain.pieces = pieces;
    count_plainly(&plain, pieces, 0);
    for (int i = 0; i < places->place_count; i++)
        nw_solid_free(plain.solids[i]);
    free(plain.solids);
    return plain.nodes;
}

START_TEST(the_average_over_all_paths_is_the_count) {
    int large = 0, compared = 0;
    for (uint64_t seed = 1; seed <= 60; seed++) {
        NwDesign *design = nw_random_design(seed);
        NwFit *fit;
        if (nw_fit_new(design, (NwFitOptions){0}, &fit) == NW_OK) {
            double plain = plain_nodes(fit);
            if (plain < 20000) {
                Paths paths = {.blind = nw_naive_search_new(fit)};
                walk_paths(&paths, 0, 1, 1, 0);
                ck_assert_double_eq(paths.nodes, plain);
                ck_assert_double_eq_tol(paths.average, plain, 1e-9 * (1 + plain));
                compared++;
                large += plain > 100;
                nw_naive_search_free(paths.blind);
            }
            nw_fit_free(fit);
        }
        nw_design_free(design);
    }
    ck_assert_int_gt(compared, 30);
    ck_assert_int_gt(large, 5);
}
END_TEST

START_TEST(the_estimate_comes_near_and_tells_its_spread) {
    int far = 0, compared = 0;
    for (uint64_t seed = 1; seed <= 40; seed++) {
        NwDesign *design = nw_random_design(seed);
        NwFit *fit;
        if (nw_fit_new(design, (NwFitOptions){0}, &fit) == NW_OK) {
            double plain = plain_nodes(fit);
            NwEstimator *a = nw_estimator_new(fit, seed), *b = nw_estimator_new(fit, seed);
            nw_estimator_step(a, 4000);
            for (int i = 0; i < 4; i++)
                nw_estimator_step(b, 1000);
            NwEstimate one = nw_estimator_result(a), two = nw_estimator_result(b);
            ck_assert_double_eq(one.nodes, two.nodes); /* however the dives are dealt out */
            ck_assert_double_eq(one.variance, two.variance);
            ck_assert_uint_eq(one.dives, 4000);
            far += fabs(one.nodes - plain) > 3 * sqrt(one.variance) + 1e-9 * plain;
            compared++;
            nw_estimator_free(a);
            nw_estimator_free(b);
            nw_fit_free(fit);
        }
        nw_design_free(design);
    }
    ck_assert_int_gt(compared, 20);
    ck_assert_int_le(far, 2); /* three standard errors: about one in 400, if the spread is true */
}
END_TEST

/* Two dives whose values are known: 1, 2, 3 would have variance 1 and so 1/3 for the mean. The
 * spread is compared with one worked out from single dives. */
START_TEST(the_spread_is_that_of_the_mean) {
    NwDesign *design = nw_instance_build(nw_instance_find("soma"));
    NwFit *fit;
    ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){0}, &fit), NW_OK);
    enum { DIVES = 200 };
    double values[DIVES], mean = 0, squares = 0;
    NwEstimator *estimator = nw_estimator_new(fit, 7);
    for (int i = 0; i < DIVES; i++) {
        double before = nw_estimator_result(estimator).nodes * i;
        nw_estimator_step(estimator, 1);
        values[i] = nw_estimator_result(estimator).nodes * (i + 1) - before;
        mean += values[i] / DIVES;
    }
    for (int i = 0; i < DIVES; i++)
        squares += (values[i] - mean) * (values[i] - mean);
    double variance = squares / (DIVES - 1) / DIVES;
    NwEstimate estimate = nw_estimator_result(estimator);
    ck_assert_double_gt(variance, 0);
    ck_assert_double_eq_tol(estimate.nodes, mean, 1e-6 * mean);
    ck_assert_double_eq_tol(estimate.variance, variance, 1e-6 * variance);
    nw_estimator_free(estimator);
    nw_fit_free(fit);
    nw_design_free(design);
}
END_TEST

/* ---- the graph of positions --------------------------------------------------------------- */

enum { PLAIN_MAX = 3000, FAR = 40 };

typedef struct PlainGraph {
    const NwSolid *const *solids;
    int count;
    NwVec (*at)[NW_TANGLE_PIECES_MAX];
    int positions;
    bool exits[PLAIN_MAX];
    int depth[PLAIN_MAX];
    int (*edges)[2];
    size_t edge_count, edge_capacity;
    int level;
} PlainGraph;

static const NwVec ways[6] = {{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}};

/* How many cells the set goes; FAR if it never stops. */
static int plain_run(const PlainGraph *graph, const NwVec *at, unsigned set, NwVec way) {
    int least = FAR;
    for (int i = 0; i < graph->count; i++)
        for (int j = 0; j < graph->count; j++) {
            if (!(set >> i & 1) || set >> j & 1)
                continue;
            for (int half = 1; half < 2 * least; half++) {
                NwVec apart = nw_vec_scale(nw_vec_sub(at[i], at[j]), 2);
                apart = nw_vec_add(apart, nw_vec_scale(way, half));
                if (nw_overlap_solids(graph->solids[j], graph->solids[i], apart, 2))
                    least = (half - 1) / 2;
            }
        }
    return least;
}

static int plain_number(PlainGraph *graph, const NwVec *at) {
    for (int i = 0; i < graph->positions; i++) {
        bool same = true;
        for (int b = 0; b < graph->count; b++)
            same = same && nw_vec_equal(graph->at[i][b], at[b]);
        if (same)
            return i;
    }
    ck_assert_int_lt(graph->positions, PLAIN_MAX);
    memcpy(graph->at[graph->positions], at, sizeof *graph->at);
    return graph->positions++;
}

static void plain_expand(PlainGraph *graph, int number) {
    for (int pass = 0; pass < 2; pass++)
        for (unsigned set = 2; set < 1u << graph->count; set += 2)
            for (int d = 0; d < 6 && !graph->exits[number]; d++) {
                int run = plain_run(graph, graph->at[number], set, ways[d]);
                if (pass == 0) {
                    graph->exits[number] = run == FAR;
                    continue;
                }
                for (int k = 1; k <= run; k++) {
                    NwVec at[NW_TANGLE_PIECES_MAX];
                    memcpy(at, graph->at[number], sizeof at);
                    for (int b = 0; b < graph->count; b++)
                        if (set >> b & 1)
                            at[b] = nw_vec_add(at[b], nw_vec_scale(ways[d], k));
                    int before = graph->positions, to = plain_number(graph, at);
                    if (to == before)
                        graph->depth[to] = graph->depth[number] + 1;
                    graph->edges = nw_grow(graph->edges, graph->edge_count, &graph->edge_capacity,
                                           sizeof *graph->edges);
                    graph->edges[graph->edge_count][0] = number;
                    graph->edges[graph->edge_count++][1] = to;
                }
            }
    if (graph->exits[number] && !graph->level)
        graph->level = graph->depth[number] + 1;
}

/* Whether two ways lead from v, one to the start and one to an exit, that share only v: by two
 * rounds of looking for a way that may undo steps of the one before (Menger; Ford, Fulkerson).
 * Each position other than v is two vertices, in and out, with room for one way between them. */
typedef struct Flow {
    int *from, *to, *room;
    int count;
} Flow;

static void flow_add(Flow *flow, int from, int to) {
    flow->from[flow->count] = from;
    flow->to[flow->count] = to;
    flow->room[flow->count++] = 1;
    flow->from[flow->count] = to;
    flow->to[flow->count] = from;
    flow->room[flow->count++] = 0;
}

static bool flow_push(Flow *flow, int source, int sink, int vertices) {
    int *by = malloc((size_t)vertices * sizeof *by);
    for (int v = 0; v < vertices; v++)
        by[v] = -1;
    bool found = false, grown = true;
    while (grown && !found) {
        grown = false;
        for (int e = 0; e < flow->count; e++)
            if (flow->room[e] && (flow->from[e] == source || by[flow->from[e]] >= 0) &&
                flow->to[e] != source && by[flow->to[e]] < 0) {
                by[flow->to[e]] = e;
                grown = true;
            }
        found = by[sink] >= 0;
    }
    for (int v = sink; found && v != source; v = flow->from[by[v]]) {
        flow->room[by[v]]--;
        flow->room[by[v] ^ 1]++;
    }
    free(by);
    return found;
}

static bool is_on_a_simple_way(const PlainGraph *graph, int v) {
    int n = graph->positions, sink = 2 * n + 2, out = 2 * n + 1;
    size_t most = 2 * (2 * graph->edge_count + 3 * (size_t)n + 8);
    Flow flow = {malloc(most * sizeof(int)), malloc(most * sizeof(int)), malloc(most * sizeof(int)),
                 0};
    for (int i = 0; i < n; i++)
        if (i != v) /* in: i, out: n + i */
            flow_add(&flow, i, n + i);
    for (size_t e = 0; e < graph->edge_count; e++) {
        int a = graph->edges[e][0], b = graph->edges[e][1];
        flow_add(&flow, n + a, b);
        flow_add(&flow, n + b, a);
    }
    for (int i = 0; i < n; i++)
        if (graph->exits[i])
            flow_add(&flow, n + i, out);
    flow_add(&flow, out, sink);
    flow_add(&flow, n, sink);
    bool both = flow_push(&flow, n + v, sink, sink + 1) && flow_push(&flow, n + v, sink, sink + 1);
    free(flow.from);
    free(flow.to);
    free(flow.room);
    return both;
}

static int plain_dead_ends(const PlainGraph *graph) {
    int dead = 0, exits = 0;
    for (int i = 0; i < graph->positions; i++)
        exits += graph->exits[i];
    for (int i = 1; i < graph->positions && exits; i++)
        dead += !graph->exits[i] && !is_on_a_simple_way(graph, i);
    return exits ? dead : graph->positions;
}

/* Compares; returns whether there were dead ends on the way to an exit. */
static bool compare_graphs(const NwSolid *const *solids, int count) {
    PlainGraph *plain = nw_alloc(1, sizeof *plain);
    NwBody bodies[NW_TANGLE_PIECES_MAX] = {0};
    plain->solids = solids;
    plain->count = count;
    plain->at = nw_alloc(PLAIN_MAX, sizeof *plain->at);
    plain->positions = 1;
    for (int i = 0; i < plain->positions; i++)
        plain_expand(plain, i);
    size_t between = 0, to_exits = 0;
    for (size_t e = 0; e < plain->edge_count; e++)
        *(plain->exits[plain->edges[e][1]] ? &to_exits : &between) += 1;

    for (int b = 0; b < count; b++)
        bodies[b] = (NwBody){b, solids[b], {0, {0, 0, 0}}};
    NwGraph *graph;
    ck_assert_int_eq(nw_graph_new(bodies, count, false, 100000, &graph), NW_OK);
    while (nw_graph_step(graph, 3) == NW_STOPPED)
        continue;
    ck_assert_int_eq(nw_graph_step(graph, 1), NW_OK);
    NwGraphFigures figures = nw_graph_figures(graph);
    int exits = 0;
    for (int i = 0; i < plain->positions; i++)
        exits += plain->exits[i];
    ck_assert_uint_eq(figures.positions, plain->positions);
    ck_assert_uint_eq(figures.exits, exits);
    ck_assert_int_eq(figures.level, plain->level);
    ck_assert_uint_eq(figures.slides, between / 2 + to_exits);
    ck_assert_uint_eq(figures.dead_ends, plain_dead_ends(plain));
    nw_graph_free(graph);

    if (plain->positions > 3) { /* a limit below the size is told */
        ck_assert_int_eq(nw_graph_new(bodies, count, false, figures.positions - 1, &graph), NW_OK);
        ck_assert_int_eq(nw_graph_step(graph, 100000), NW_LIMIT);
        ck_assert_uint_eq(nw_graph_figures(graph).positions, figures.positions - 1);
        nw_graph_free(graph);
    }
    free(plain->edges);
    free(plain->at);
    free(plain);
    return exits && figures.dead_ends;
}

START_TEST(the_graph_is_that_of_a_plain_search) {
    int with_dead_ends = 0, levels = 0, compared = 0;
    for (uint64_t seed = 1; seed <= 40; seed++) {
        NwTangle tangle = nw_random_tangle(seed, seed % 2);
        if (tangle.count >= 2 && tangle.count <= 4) {
            with_dead_ends +=
                compare_graphs((const NwSolid *const *)tangle.solids, (int)tangle.count);
            levels += tangle.level > 1;
            compared++;
        }
        nw_tangle_clear(&tangle);
    }
    ck_assert_int_gt(compared, 20);
    ck_assert_int_gt(levels, 10);
    ck_assert_int_gt(with_dead_ends, 0);
}
END_TEST

/* A ring and a bar in it that can slide to and fro for ever is no exit's business: a bar in a
 * closed box, 1 x 1 x 1 in a hollow of 1 x 1 x 3. Three positions, none an exit, all dead ends. */
START_TEST(a_prison_is_all_dead_ends) {
    NwSolid *box = nw_solid_new(), *bar = nw_solid_new();
    for (int x = 0; x < 5; x++)
        for (int y = 0; y < 3; y++)
            for (int z = 0; z < 3; z++)
                if (!(x >= 1 && x < 4 && y == 1 && z == 1))
                    nw_solid_add(box, nw_vec(x, y, z), NW_WHOLE);
    nw_solid_add(bar, nw_vec(2, 1, 1), NW_WHOLE);
    NwBody bodies[2] = {{0, box, {0, {0, 0, 0}}}, {1, bar, {0, {0, 0, 0}}}};
    NwGraph *graph;
    ck_assert_int_eq(nw_graph_new(bodies, 2, false, 100, &graph), NW_OK);
    ck_assert_int_eq(nw_graph_step(graph, 100), NW_OK);
    NwGraphFigures figures = nw_graph_figures(graph);
    ck_assert_uint_eq(figures.positions, 3);
    ck_assert_uint_eq(figures.exits, 0);
    ck_assert_uint_eq(figures.dead_ends, 3);
    ck_assert_uint_eq(figures.slides, 3);
    ck_assert_int_eq(figures.level, 0);
    nw_graph_free(graph);
    ck_assert_int_eq(nw_graph_new(bodies, 1, false, 100, &graph), NW_TOO_MANY);
    ck_assert_ptr_null(graph);
    nw_solid_free(box);
    nw_solid_free(bar);
}
END_TEST

/* ---- holding ------------------------------------------------------------------------------ */

/* Cubes in a row along x at these places. */
static void row_of_cubes(const int *places, int count, NwSolid **solids, NwBody *bodies) {
    for (int b = 0; b < count; b++) {
        solids[b] = nw_solid_new();
        nw_solid_add(solids[b], nw_vec(places[b], 0, 0), NW_WHOLE);
        bodies[b] = (NwBody){b, solids[b], {0, {0, 0, 0}}};
    }
}

START_TEST(who_is_pushed_need_not_be_held) {
    static const int places[] = {0, 1, 2, 5};
    NwSolid *solids[4];
    NwBody bodies[4];
    row_of_cubes(places, 4, solids, bodies);
    NwGroupPositions standing;
    nw_group_positions_after(4, NULL, 0, &standing);
    NwClearanceCache *cache = nw_clearance_cache_new(false);
    /* 0 -> 1 -> 2 in +x; 3 stands apart. */
    ck_assert_uint_eq(nw_grips_needed(cache, bodies, &standing, 7, 0), 1);
    ck_assert_uint_eq(nw_grips_needed(cache, bodies, &standing, 7, 1), 4);
    ck_assert_uint_eq(nw_grips_needed(cache, bodies, &standing, 15, 0), 9);
    ck_assert_uint_eq(nw_grips_needed(cache, bodies, &standing, 7, 2), 7); /* sideways: each one */
    ck_assert_uint_eq(nw_grips_needed(cache, bodies, &standing, 5, 0), 5); /* 1 is not of the set */
    /* 2 and 3 slide off in +x. 0 would be dragged into 1, so to hold 1 is enough. */
    NwSlide slide = {12, 0, NW_SLIDE_OUT};
    NwGrips hold = nw_grips_of_slide(cache, bodies, &standing, &slide, false);
    ck_assert_uint_eq(hold.movers, 12);
    ck_assert_uint_eq(hold.rest, 2);
    /* Back again they go in -x, and 0 must be held, or 1 drags it. */
    hold = nw_grips_of_slide(cache, bodies, &standing, &slide, true);
    ck_assert_uint_eq(hold.rest, 1);
    /* When 0 has parted, only 1 is left to be held. */
    const NwSlide gone = {1, 1, NW_SLIDE_OUT};
    nw_group_positions_after(4, &gone, 1, &standing);
    hold = nw_grips_of_slide(cache, bodies, &standing, &slide, true);
    ck_assert_uint_eq(hold.rest, 2);
    nw_clearance_cache_free(cache);
    for (int b = 0; b < 4; b++)
        nw_solid_free(solids[b]);
}
END_TEST

/* Two hooks that push each other both ways count once. */
START_TEST(a_circle_is_held_once) {
    NwSolid *hook = nw_solid_new(), *bar = nw_solid_new();
    for (int x = 0; x < 3; x++)
        nw_solid_add(hook, nw_vec(x, 0, 0), NW_WHOLE);
    nw_solid_add(hook, nw_vec(0, 1, 0), NW_WHOLE);
    nw_solid_add(hook, nw_vec(2, 1, 0), NW_WHOLE);
    nw_solid_add(bar, nw_vec(1, 1, 0), NW_WHOLE);
    NwBody bodies[2] = {{0, hook, {0, {0, 0, 0}}}, {1, bar, {0, {0, 0, 0}}}};
    NwGroupPositions standing;
    nw_group_positions_after(2, NULL, 0, &standing);
    NwClearanceCache *cache = nw_clearance_cache_new(true);
    for (int d = 0; d < 2; d++)
        ck_assert_uint_eq(nw_grips_needed(cache, bodies, &standing, 3, d), 1);
    ck_assert_uint_eq(nw_grips_needed(cache, bodies, &standing, 3, 2), 1); /* +y: hook pushes bar */
    ck_assert_uint_eq(nw_grips_needed(cache, bodies, &standing, 3, 3), 2);
    ck_assert_uint_eq(nw_grips_needed(cache, bodies, &standing, 3, 6), 1); /* +x+y */
    nw_clearance_cache_free(cache);
    nw_solid_free(hook);
    nw_solid_free(bar);
}
END_TEST

/* ---- all together ------------------------------------------------------------------------- */

static NwFoundAssembly *examine_intended(const NwDesign *design) {
    NwFit *fit;
    NwAssembly assembly;
    ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){0}, &fit), NW_OK);
    ck_assert_int_eq(nw_fit_intended(fit, &assembly), NW_OK);
    NwFoundAssembly *finding = nw_found_assembly_new(&assembly);
    NwVerifier *examiner = nw_verifier_new(design, false, NW_STATES_DEFAULT);
    nw_verifier_start(examiner, finding);
    NwStatus status;
    do
        status = nw_verifier_step(examiner, 100000);
    while (status == NW_STOPPED);
    ck_assert_int_eq(status, NW_OK);
    nw_verifier_free(examiner);
    nw_fit_free(fit);
    return finding;
}

/* Levels and totals as data/designs/README.md gives them. */
START_TEST(bundled_designs) {
    static const struct {
        const char *name;
        int level, total;
        const char *levels;
    } rows[] = {{"ember-lantern", 4, 10, "4·1·2·2·1"},
                {"ember-lantern-chipped", 4, 10, "4·1·2·2·1"},
                {"kite-harbour", 9, 13, "9·2·2"},
                {"tide-chest", 8, 12, "8·1·1·2"},
                {"quiet-comet", 7, 14, "7·3·2·2"}};
    const char *name = rows[_i].name;
    g_autofree char *path = g_strdup_printf("%s/%s.json", design_folder, name);
    g_autoptr(GError) error = NULL;
    NwDesign *design = nw_design_load(path, &error);
    ck_assert_msg(design != NULL, "%s", error ? error->message : "no error");
    NwFoundAssembly *finding = examine_intended(design);
    NwMeasures measures = {0};
    double value;
    ck_assert(nw_measures_take_way(&measures, design, finding, FALSE, 0, NULL));
    ck_assert_int_eq(measures.levels.slides[0], rows[_i].level);
    g_autofree char *levels = nw_measure_dup_text(&measures, NW_MEASURE_LEVEL);
    ck_assert_str_eq(levels, rows[_i].levels);
    ck_assert_int_eq(measures.total, rows[_i].total);
    ck_assert_int_eq(measures.graph.level, rows[_i].level); /* found by another search */
    ck_assert_int_eq(measures.graph_status, NW_OK);
    ck_assert_int_ge(measures.held_out, 2);
    ck_assert_int_ge(measures.held_in, 2);
    ck_assert_int_le(MAX(measures.held_out, measures.held_in), finding->placement_count);
    ck_assert(nw_measure_value(&measures, NW_MEASURE_LEVEL, &value) && value == rows[_i].level);
    ck_assert(!nw_measure_value(&measures, NW_MEASURE_BLIND, &value));
    ck_assert(!nw_measure_value(&measures, NW_MEASURE_FITTING, &value)); /* nothing was searched */
    nw_found_assembly_free(finding);
    nw_design_free(design);
}
END_TEST

/* Who is no longer waited for stops early, and says so. */
START_TEST(a_stopped_measuring_says_so) {
    g_autofree char *path = g_strdup_printf("%s/tide-chest.json", design_folder);
    NwDesign *design = nw_design_load(path, NULL);
    ck_assert_ptr_nonnull(design);
    NwFoundAssembly *finding = examine_intended(design);
    NwFit *fit;
    ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){0}, &fit), NW_OK);
    NwMeasures whole = {0}, measures = {0};
    NwProgress *progress = nw_progress_new();
    ck_assert(nw_measures_take_way(&whole, design, finding, FALSE, 0, progress));
    ck_assert(nw_measures_take_dives(&whole, fit, 1, 120, progress));
    ck_assert_uint_eq(whole.blind.dives, 120);
    ck_assert_uint_gt(whole.graph.positions, 2);
    nw_progress_stop(progress);
    ck_assert(!nw_measures_take_way(&measures, design, finding, FALSE, 0, progress));
    ck_assert(!nw_measures_take_dives(&measures, fit, 1, 120, progress));
    ck_assert_uint_eq(measures.blind.dives, 0);

    /* Steps make no difference to the figures. */
    NwEstimator *estimator = nw_estimator_new(fit, 1);
    nw_estimator_step(estimator, 120);
    ck_assert_double_eq(nw_estimator_result(estimator).nodes, whole.blind.nodes);
    nw_estimator_free(estimator);
    nw_progress_free(progress);
    nw_fit_free(fit);
    nw_found_assembly_free(finding);
    nw_design_free(design);
}
END_TEST

/* What is not known has no value and says why; what is has a value and a text. */
START_TEST(what_is_not_known_has_no_value) {
    NwMeasures none = {0};
    NwMeasures all = {.tally = {.complete = TRUE, .fitting = 4, .opening = 1, .unreachable = 3},
                      .has_way = TRUE,
                      .levels = {3, {3, 1, 5}},
                      .total = 9,
                      .held_out = 2,
                      .held_in = 2,
                      .graph_status = NW_OK,
                      .graph = {.positions = 8, .exits = 1, .dead_ends = 2, .level = 3},
                      .blind = {.dives = 10, .full = 1, .nodes = 2.5e7, .variance = 4e12}};
    double value;
    for (int i = 0; i < NW_MEASURE_COUNT; i++) {
        g_autofree char *unknown = nw_measure_dup_text(&none, (NwMeasure)i);
        g_autofree char *known = nw_measure_dup_text(&all, (NwMeasure)i);
        ck_assert(!nw_measure_value(&none, (NwMeasure)i, &value));
        ck_assert(nw_measure_value(&all, (NwMeasure)i, &value));
        ck_assert_msg(g_str_has_prefix(unknown, "unknown: ") ||
                          strcmp(unknown, "not estimated") == 0,
                      "%s", unknown);
        ck_assert_msg(g_ascii_isdigit(*known), "%s", known);
        ck_assert_int_eq(nw_measure_of_name(nw_measure_name((NwMeasure)i)), i);
        ck_assert_uint_gt(strlen(nw_measure_title((NwMeasure)i)), 4);
        ck_assert_uint_gt(strlen(nw_measure_definition((NwMeasure)i)), 20);
        ck_assert_msg(!g_str_has_prefix(nw_measure_axis((NwMeasure)i), "…"), "it stands alone");
    }
    ck_assert_int_eq(nw_measure_of_name("score"), NW_MEASURE_COUNT);
    ck_assert(nw_measure_value(&all, NW_MEASURE_DEAD_ENDS, &value) && value == 0.25);
    g_autofree char *blind = nw_measure_dup_text(&all, NW_MEASURE_BLIND);
    ck_assert_str_eq(blind, "2.5 · 10^7 ± 2.0 · 10^6 (10 samples, 1 of them complete)");
    all.tally.complete = FALSE;
    ck_assert(!nw_measure_value(&all, NW_MEASURE_FITTING, &value));
    all.graph_status = NW_LIMIT;
    ck_assert(!nw_measure_value(&all, NW_MEASURE_POSITIONS, &value));
    ck_assert(!nw_measure_value(&all, NW_MEASURE_DEAD_ENDS, &value));
    all.tally = (NwTally){.complete = TRUE, .fitting = 2, .undecided = 1, .opening = 1};
    ck_assert(!nw_measure_value(&all, NW_MEASURE_UNREACHABLE, &value));
}
END_TEST

int main(int argc, char **argv) {
    design_folder = argc > 1 ? argv[1] : "data/designs";
    Suite *suite = suite_create("measures");
    TCase *blind = tcase_create("blind");
    tcase_set_timeout(blind, 120);
    tcase_add_test(blind, the_average_over_all_paths_is_the_count);
    tcase_add_test(blind, the_estimate_comes_near_and_tells_its_spread);
    tcase_add_test(blind, the_spread_is_that_of_the_mean);
    suite_add_tcase(suite, blind);
    TCase *graph = tcase_create("graph");
    tcase_set_timeout(graph, 120);
    tcase_add_test(graph, the_graph_is_that_of_a_plain_search);
    tcase_add_test(graph, a_prison_is_all_dead_ends);
    suite_add_tcase(suite, graph);
    TCase *rest = tcase_create("rest");
    tcase_add_test(rest, who_is_pushed_need_not_be_held);
    tcase_add_test(rest, a_circle_is_held_once);
    tcase_add_loop_test(rest, bundled_designs, 0, 5);
    tcase_add_test(rest, a_stopped_measuring_says_so);
    tcase_add_test(rest, what_is_not_known_has_no_value);
    suite_add_tcase(suite, rest);
    return run_suite(suite);
}
