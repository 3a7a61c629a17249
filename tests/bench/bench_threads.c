#include <math.h>
#include <stdio.h>

#include "bench/bench.h"
#include "bench/instances.h"
#include "job/search.h"

/* A row that takes one thread less than that says nothing about two. */
static const double LEAST_SECONDS = 1.0, GOAL = 1.8;
enum { RUNS = 3 };

static double run(const NwDesign *design, int threads, guint64 *found) {
    NwSearchOptions options = {.threads = threads, .fit_only = TRUE};
    double start = nw_bench_wall_seconds();
    NwSearch *search = nw_search_new(design, &options, NULL, NULL);
    if (!search)
        return -1;
    nw_search_start(search);
    NwSearchProgress progress;
    do {
        g_ptr_array_unref(nw_search_take(search, 1000));
        nw_search_progress(search, &progress);
    } while (progress.state == NW_SEARCH_RUNNING);
    double seconds = nw_bench_wall_seconds() - start;
    *found = progress.state == NW_SEARCH_COMPLETE ? progress.found : 0;
    nw_search_free(search);
    return seconds;
}

/* One and two threads by turns, so that a load of the machine strikes both; the best of each. */
static bool measure(const NwInstance *instance, const NwDesign *design, double *worst) {
    double one = INFINITY, two = INFINITY;
    guint64 found_by_one = 0, found_by_two = 0;
    for (int i = 0; i < RUNS; i++) {
        one = fmin(one, run(design, 1, &found_by_one));
        if (one < LEAST_SECONDS)
            return true;
        two = fmin(two, run(design, 2, &found_by_two));
    }
    long classes = design->mirrors_together ? instance->together : instance->apart;
    bool right = found_by_one == found_by_two && (classes < 0 || found_by_one == (guint64)classes);
    printf("  %-20s %10" G_GUINT64_FORMAT " %10.3f %10.3f %8.2f%s\n", instance->name, found_by_one,
           one, two, one / two, right ? "" : "  WRONG COUNT");
    *worst = fmin(*worst, one / two);
    return right;
}

bool nw_bench_threads(const NwBenchOptions *options) {
    printf("\nThreads: two against one, wall-clock seconds, rows of over %.0f s\n"
           "  %-20s %10s %10s %10s %8s\n",
           LEAST_SECONDS, "instance", "assemblies", "1 thread", "2 threads", "ratio");
    bool right = true;
    double worst = INFINITY;
    const NwInstance *instance;
    for (size_t i = 0; (instance = nw_instance(i)); i++) {
        NwDesign *design = nw_bench_design(options, instance->name);
        right = measure(instance, design, &worst) && right;
        nw_design_free(design);
    }
    if (isinf(worst))
        printf("  no row takes that long\n");
    else
        printf("  goal: at least %.1f on every row: %s\n", GOAL, nw_bench_verdict(worst >= GOAL));
    return right;
}
