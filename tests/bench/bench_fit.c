#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bench/bench.h"
#include "bench/instances.h"
#include "bench/matrix.h"
#include "fit/fit.h"

/* Short runs are repeated for so long, and the shortest one counts. */
static const double REPEAT_SECONDS = 0.3;
static const double GOAL_MEAN = 10, GOAL_LEAST = 1, GOAL_PLAIN_MEAN = 2;

enum { BUNDLED = 2 };

static const struct {
    const char *name;
    bool slow; /* for the textbook */
} rows[] = {
    {"soma", false},
    {"pentominoes-3x4x5", true},
    {"pentominoes-2x5x6", false},
    {"pentominoes-2x3x10", false},
    {"pentominoes-5x12", false},
    {"pentominoes-6x10", false},
    {"tetrahedron-4-12", false},
    {"tetrahedron-5-14", false},
};

typedef struct Timed {
    double seconds;
    uint64_t count; /* of assemblies: classes, for the textbook raw */
} Timed;

/* Where a search is short, most of the time goes into listing the places. The textbook says
 * nothing of that; so it is charged with what our own listing takes. */
static double list_places(const NwDesign *design) {
    double start = nw_bench_cpu_seconds();
    NwPlacementTable *places;
    if (nw_placement_table_build(design, &places) == NW_OK)
        nw_placement_table_free(places);
    return nw_bench_cpu_seconds() - start;
}

static Timed run_textbook(const NwDesign *design) {
    NwTextbookMatrix matrix;
    if (nw_textbook_matrix(design, &matrix) != NW_OK)
        return (Timed){-1, 0};
    Timed timed = {INFINITY, 0};
    double spent = 0;
    do {
        double listing = list_places(design), start = nw_bench_cpu_seconds();
        timed.count = nw_textbook_count(&matrix).solutions;
        double seconds = nw_bench_cpu_seconds() - start + listing;
        timed.seconds = fmin(timed.seconds, seconds);
        spent += seconds;
    } while (spent < REPEAT_SECONDS);
    nw_textbook_matrix_clear(&matrix);
    return timed;
}

/* The whole way from the design to the last class, setting up included. */
static uint64_t count_classes(const NwDesign *design, bool keep_symmetry) {
    NwFit *fit;
    if (nw_fit_new(design, (NwFitOptions){.keep_symmetry = keep_symmetry}, &fit) != NW_OK)
        return 0;
    NwFitSearch *search = nw_fit_search_new(fit);
    NwAssembly assembly;
    uint64_t count = 0;
    NwStatus status;
    while ((status = nw_fit_search_step(search, 1 << 20, &assembly)) != NW_NONE)
        count += status == NW_OK;
    nw_fit_search_free(search);
    nw_fit_free(fit);
    return count;
}

static Timed run_ours(const NwDesign *design, bool keep_symmetry) {
    Timed timed = {INFINITY, 0};
    double spent = 0;
    do {
        double start = nw_bench_cpu_seconds();
        timed.count = count_classes(design, keep_symmetry);
        double seconds = nw_bench_cpu_seconds() - start;
        timed.seconds = fmin(timed.seconds, seconds);
        spent += seconds;
    } while (spent < REPEAT_SECONDS);
    return timed;
}

/* Whether the counts are those of instances.h; of a bundled design, whether ours agree. */
static bool is_right(const char *name, const NwDesign *design, Timed textbook, Timed ours,
                     Timed plain) {
    const NwInstance *instance = nw_instance_find(name);
    if (!instance)
        return ours.count == plain.count && ours.count <= textbook.count &&
               (ours.count > 0) == (textbook.count > 0);
    uint64_t classes = (uint64_t)(design->mirrors_together ? instance->together : instance->apart);
    return ours.count == classes && plain.count == classes &&
           textbook.count == (uint64_t)instance->raw;
}

static void print_goals(double mean, double least, double plain_mean) {
    printf("  %-20s %10s %10s %10s %8.1f %10s %8.1f\n", "geometric mean", "", "", "", mean, "",
           plain_mean);
    printf("  goals: mean of at least %.0f: %s; no row slower than the textbook: %s;\n"
           "  without symmetry breaking, mean of at least %.0f: %s\n",
           GOAL_MEAN, nw_bench_verdict(mean >= GOAL_MEAN), nw_bench_verdict(least >= GOAL_LEAST),
           GOAL_PLAIN_MEAN, nw_bench_verdict(plain_mean >= GOAL_PLAIN_MEAN));
}

typedef struct Sums {
    double logs, plain_logs, least;
    int count;
    bool right;
} Sums;

static void measure(const char *name, const NwDesign *design, Sums *sums) {
    Timed textbook = run_textbook(design);
    Timed ours = run_ours(design, false), plain = run_ours(design, true);
    bool right = is_right(name, design, textbook, ours, plain);
    double ratio = textbook.seconds / ours.seconds, bare = textbook.seconds / plain.seconds;
    printf("  %-20s %10llu %10.4f %10.4f %8.1f %10.4f %8.1f%s\n", name,
           (unsigned long long)ours.count, textbook.seconds, ours.seconds, ratio, plain.seconds,
           bare, right ? "" : "  WRONG COUNT");
    sums->logs += log(ratio);
    sums->plain_logs += log(bare);
    sums->least = fmin(sums->least, ratio);
    sums->count++;
    sums->right = sums->right && right;
}

/* The first bundled designs in the order of their names that the textbook can take. */
static void measure_bundled(const NwBenchOptions *options, Sums *sums) {
    struct dirent **entries;
    int count = scandir(options->designs, &entries, NULL, alphasort);
    int measured = 0;
    for (int i = 0; i < count; i++) {
        char *ending = strstr(entries[i]->d_name, ".json");
        if (ending && measured < BUNDLED) {
            *ending = '\0';
            NwDesign *design = nw_bench_design(options, entries[i]->d_name);
            if (design && nw_design_copies(design) == (int)design->piece_count) {
                measure(entries[i]->d_name, design, sums);
                measured++;
            }
            nw_design_free(design);
        }
        free(entries[i]);
    }
    if (count >= 0)
        free(entries);
    if (measured < BUNDLED)
        printf("  %d bundled designs found, not %d\n", measured, BUNDLED);
}

bool nw_bench_fit(const NwBenchOptions *options) {
    printf("\nFit: every assembly, one thread, processor seconds, setting up counted\n"
           "  %-20s %10s %10s %10s %8s %10s %8s\n",
           "instance", "assemblies", "textbook", "ours", "ratio", "unbroken*", "ratio");
    Sums sums = {.least = INFINITY, .right = true};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (options->quick && rows[i].slow) {
            printf("  %-20s left out by --quick\n", rows[i].name);
            continue;
        }
        NwDesign *design = nw_bench_design(options, rows[i].name);
        measure(rows[i].name, design, &sums);
        nw_design_free(design);
    }
    print_goals(exp(sums.logs / sums.count), sums.least, exp(sums.plain_logs / sums.count));
    printf("  * ours without symmetry breaking: equal assemblies are dropped as they are met\n");
    printf(
        "  Bundled designs: some milliseconds, most of them for listing the places (no goals)\n");
    measure_bundled(options, &sums);
    return sums.right;
}
