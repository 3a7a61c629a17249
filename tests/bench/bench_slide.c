#include <math.h>
#include <stdio.h>

#include "bench/bench.h"
#include "slide/separation.h"

static const double GOAL_EXPANSIONS = 1e6, GOAL_BYTES = 64, REPEAT_SECONDS = 0.5;
enum { MAX_STATES = 2000000, MANY_STATES = 10000 };

/* Loose pieces shut up in a closed box, the box being one body more. Nothing ever comes free, so
 * every position that slides can reach is met, as in a proof that an assembly is unreachable. The
 * sets of sticks that have been published meet fewer than a hundred: far too few to be timed. */
typedef struct Cage {
    const char *name;
    int sizes[3];       /* of the room inside, whose first cell is (0,0,0) */
    const char *pieces; /* cells "xyz xyz", pieces divided by commas */
    int mask;           /* of every cell of the pieces */
} Cage;

#define DOMINOES "000 100,010 110,020 120,001 101,011 111"
#define RODS "000 100 200,010 110 210,020 120 220,001 101 201,011 111 211"
#define ELLS "000 100 010,200 210 110,020 120 121,001 101 011,201 211 111"
#define BENT "000 100 200 300,010 110 210 310,020 120 220 221,001 101 201 301,011 111 211 311"
#define CELLS "000,100,200,010,110,210,001,101,201,011,111"

static const Cage cages[] = {
    {"6: Ls in 4x3x2", {4, 3, 2}, ELLS, NW_WHOLE},
    {"6: dominoes in 3x3x2", {3, 3, 2}, DOMINOES, NW_WHOLE},
    {"6: Ls in 4x4x2", {4, 4, 2}, ELLS, NW_WHOLE},
    {"6: cut Ls in 4x4x2", {4, 4, 2}, ELLS, 0x0f},
    {"6: Ls in 4x3x3", {4, 3, 3}, ELLS, NW_WHOLE},
    {"6: rods in 5x3x2", {5, 3, 2}, RODS, NW_WHOLE},
    {"6: bent rods in 4x4x3", {4, 4, 3}, BENT, NW_WHOLE},
    {"6: dominoes in 3x3x3", {3, 3, 3}, DOMINOES, NW_WHOLE},
    {"12: cells in 3x2x2", {3, 2, 2}, CELLS, NW_WHOLE},
};

typedef struct Measured {
    int bodies;
    uint32_t states;
    double expansions; /* a second */
    double bytes;      /* a state */
} Measured;

typedef struct Bodies {
    NwSolid *solids[NW_BODIES_MAX];
    NwBody bodies[NW_BODIES_MAX];
    int count;
} Bodies;

static NwSolid *take_body(Bodies *all) {
    NwSolid *solid = nw_solid_new();
    all->solids[all->count] = solid;
    all->bodies[all->count] = (NwBody){.kind = all->count, .solid = solid};
    all->count++;
    return solid;
}

static void build_wall(const Cage *cage, NwSolid *wall) {
    const int *n = cage->sizes;
    for (int x = -1; x <= n[0]; x++)
        for (int y = -1; y <= n[1]; y++)
            for (int z = -1; z <= n[2]; z++)
                if (x < 0 || y < 0 || z < 0 || x == n[0] || y == n[1] || z == n[2])
                    nw_solid_add(wall, nw_vec(x, y, z), NW_WHOLE);
}

static void build(const Cage *cage, Bodies *all) {
    build_wall(cage, take_body(all));
    NwSolid *piece = take_body(all);
    for (const char *c = cage->pieces;; c += 4) {
        nw_solid_add(piece, nw_vec(c[0] - '0', c[1] - '0', c[2] - '0'), cage->mask);
        if (!c[3])
            return;
        if (c[3] == ',')
            piece = take_body(all);
    }
}

/* The tables are built beforehand. */
static Measured measure(const Cage *cage) {
    Bodies all = {.count = 0};
    build(cage, &all);
    const NwVec at[NW_BODIES_MAX] = {{0, 0, 0}};
    uint32_t group = (uint32_t)((UINT64_C(1) << all.count) - 1);
    NwSeparation *separation = nw_separation_new(false);
    double best = 0, spent = 0;
    do {
        nw_separation_start(separation, all.bodies, group, at, MAX_STATES);
        unsigned long long before = nw_separation_expansions(separation);
        double start = nw_bench_cpu_seconds();
        while (nw_separation_step(separation, 1 << 20) == NW_STOPPED)
            continue;
        double seconds = nw_bench_cpu_seconds() - start;
        best = fmax(best, (double)(nw_separation_expansions(separation) - before) / seconds);
        spent += seconds;
    } while (spent < REPEAT_SECONDS);
    uint32_t states = nw_separation_states(separation);
    Measured measured = {all.count, states, best,
                         (double)nw_separation_state_bytes(separation) / states};
    printf("  %-24s %6d %9u %14.0f %12.1f\n", cage->name, all.count, states, best, measured.bytes);
    nw_separation_free(separation);
    for (int i = 0; i < all.count; i++)
        nw_solid_free(all.solids[i]);
    return measured;
}

bool nw_bench_slide(const NwBenchOptions *options) {
    (void)options;
    printf("\nSlide: every position of pieces in a closed box, one thread, processor seconds\n"
           "  %-24s %6s %9s %14s %12s\n",
           "instance", "bodies", "states", "expansions/s", "bytes/state");
    double logs = 0, least = INFINITY, bytes = 0;
    int count = 0;
    for (size_t i = 0; i < sizeof cages / sizeof cages[0]; i++) {
        Measured measured = measure(&cages[i]);
        if (measured.states >= MANY_STATES)
            bytes = fmax(bytes, measured.bytes);
        if (measured.bodies != 6)
            continue;
        logs += log(measured.expansions);
        least = fmin(least, measured.expansions);
        count++;
    }
    double mean = exp(logs / count);
    printf("  %-24s %6d %9s %14.0f\n", "geometric mean", 6, "", mean);
    printf("  goals: %.0f expansions a second with 6 bodies, on the mean: %s, on every row: %s;\n"
           "  at most %.0f bytes a state, of %d states or more: %s\n",
           GOAL_EXPANSIONS, nw_bench_verdict(mean >= GOAL_EXPANSIONS),
           nw_bench_verdict(least >= GOAL_EXPANSIONS), GOAL_BYTES, MANY_STATES,
           nw_bench_verdict(bytes <= GOAL_BYTES));
    return true;
}
