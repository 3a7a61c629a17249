#include <limits.h>
#include <math.h>
#include <stdio.h>

#include "bench/bench.h"
#include "fit/setup.h"

static const double GOAL_SECONDS = 1.5;
enum { STEP = 3000, RUNS = 3 };

/* Designs that nobody drew. A large one is not searched to its end. */
static const struct {
    const char *name;
    bool large;
} rows[] = {{"box-8x8x8-40-1", true},
            {"cut-6x6x6-30-1", true},
            {"box-5x5x5-13-8", false},
            {"cut-4x4x4-20-1", false}};

/* Processor seconds: of setting up, of its longest step, to the first step of a search, of all. */
typedef struct Timed {
    double setup, longest, first, all;
    int places;
    unsigned long found;
} Timed;

static bool run(const NwDesign *design, bool large, Timed *timed) {
    double start = nw_bench_cpu_seconds(), before = start;
    NwFitSetup *setup;
    NwFit *fit = NULL;
    *timed = (Timed){0};
    NwStatus status = nw_fit_setup_new(design, (NwFitOptions){0}, &setup);
    if (status != NW_OK)
        return false;
    do {
        status = nw_fit_setup_step(setup, STEP, &fit);
        double now = nw_bench_cpu_seconds();
        timed->longest = fmax(timed->longest, now - before);
        before = now;
    } while (status == NW_STOPPED);
    nw_fit_setup_free(setup);
    if (!fit)
        return false;
    timed->setup = before - start;
    timed->places = fit->places->place_count;
    NwFitSearch *search = nw_fit_search_new(fit);
    NwAssembly assembly;
    status = nw_fit_search_step(search, 1, &assembly);
    timed->first = nw_bench_cpu_seconds() - start;
    timed->found += status == NW_OK;
    while (!large && (status = nw_fit_search_step(search, LONG_MAX, &assembly)) == NW_OK)
        timed->found++;
    timed->all = nw_bench_cpu_seconds() - start;
    nw_fit_search_free(search);
    nw_fit_free(fit);
    return true;
}

bool nw_bench_setup(const NwBenchOptions *options) {
    printf("\nSetting up: processor seconds before the search, designs cut at random\n"
           "  %-20s %10s %10s %10s %10s %10s %8s\n",
           "design", "places", "set-up", "longest", "searching", "assemblies", "share");
    double slowest = 0;
    bool right = true;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        NwDesign *design = nw_bench_design(options, rows[i].name);
        Timed best = {.first = INFINITY}, timed;
        for (int k = 0; k < RUNS && right; k++) {
            right = run(design, rows[i].large, &timed) && (rows[i].large || timed.found > 0);
            if (timed.first < best.first)
                best = timed;
        }
        nw_design_free(design);
        printf("  %-20s %10d %10.3f %10.4f ", rows[i].name, best.places, best.setup, best.longest);
        if (rows[i].large)
            printf("%10s %10s %8s%s\n", "-", "-", "-", right ? "" : "  WRONG");
        else
            printf("%10.3f %10lu %8.2f%s\n", best.all - best.setup, best.found,
                   best.setup / best.all, right ? "" : "  WRONG COUNT");
        slowest = fmax(slowest, best.first);
    }
    printf("  goal: every search begins within %.1f s: %s\n", GOAL_SECONDS,
           nw_bench_verdict(slowest <= GOAL_SECONDS));
    return right;
}
