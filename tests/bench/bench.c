/* bench [--quick] [--designs FOLDER] [--notch COMMAND]: all tables, one after the other. */
#include "bench/bench.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "bench/instances.h"
#include "format/design_json.h"
#include "lattice/named.h"
#include "plain/random_design.h"

static double seconds_of(clockid_t clock) {
    struct timespec now;
    clock_gettime(clock, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

double nw_bench_cpu_seconds(void) {
    return seconds_of(CLOCK_PROCESS_CPUTIME_ID);
}

double nw_bench_wall_seconds(void) {
    return seconds_of(CLOCK_MONOTONIC);
}

const char *nw_bench_verdict(bool met) {
    return met ? "met" : "MISSED";
}

static NwDesign *divide_tetrahedron(const char *name, int edge, int wanted) {
    NwDesign *design = nw_design_new(name);
    nw_solid_free(design->envelope);
    nw_named_solid_build(nw_named_solid_find("tetrahedron"), (const int[NW_SIZES_MAX]){edge},
                         &design->envelope);
    NwSolid *pieces[NW_PIECES_MAX];
    NwRandom random = {1};
    size_t count = nw_random_divide(&random, design->envelope, false, pieces, (size_t)wanted);
    for (size_t i = 0; i < count; i++) {
        char letter[2] = {(char)('A' + i), '\0'};
        nw_design_take_piece(design, letter, pieces[i]);
    }
    return design;
}

static NwDesign *divide_box(uint64_t seed, const int sizes[3], bool whole_cells, int wanted) {
    NwSolid *box;
    nw_named_solid_build(nw_named_solid_find("box"), sizes, &box);
    NwDesign *design = nw_random_dissection(seed, box, whole_cells, wanted);
    nw_solid_free(box);
    return design;
}

NwDesign *nw_bench_design(const NwBenchOptions *options, const char *name) {
    const NwInstance *instance = nw_instance_find(name);
    if (instance) {
        NwDesign *design = nw_instance_build(instance);
        /* A layer turned over is a rotation of it, so there mirror images need no rule. */
        design->mirrors_together = design->mirrors_together && instance->sizes[2] > 1;
        return design;
    }
    int edge, pieces;
    if (sscanf(name, "tetrahedron-%d-%d", &edge, &pieces) == 2)
        return divide_tetrahedron(name, edge, pieces);
    int sizes[NW_SIZES_MAX] = {0};
    char kind[4];
    unsigned seed;
    if (sscanf(name, "%3[a-z]-%dx%dx%d-%d-%u", kind, &sizes[0], &sizes[1], &sizes[2], &pieces,
               &seed) == 6)
        return divide_box(seed, sizes, strcmp(kind, "box") == 0, pieces);
    char *path = g_strdup_printf("%s/%s.json", options->designs, name);
    GError *error = NULL;
    NwDesign *design = nw_design_load(path, &error);
    if (!design) {
        printf("  %s: left out: %s\n", name, error->message);
        g_error_free(error);
    }
    g_free(path);
    return design;
}

static bool read_options(int argc, char **argv, NwBenchOptions *options) {
    for (int i = 1; i < argc; i++) {
        if (strcmp(argv[i], "--quick") == 0)
            options->quick = true;
        else if (strcmp(argv[i], "--designs") == 0 && i + 1 < argc)
            options->designs = argv[++i];
        else if (strcmp(argv[i], "--notch") == 0 && i + 1 < argc)
            options->notch = argv[++i];
        else
            return false;
    }
    return true;
}

int main(int argc, char **argv) {
    NwBenchOptions options = {.designs = "data/designs", .notch = "build/src/cli/notch"};
    if (!read_options(argc, argv, &options)) {
        fprintf(stderr, "usage: bench [--quick] [--designs FOLDER] [--notch COMMAND]\n");
        return 2;
    }
    setvbuf(stdout, NULL, _IOLBF, 0);
    double load = 0;
    getloadavg(&load, 1);
    printf("%ld processors; load before the start %.1f (figures hold for an idle machine)\n",
           sysconf(_SC_NPROCESSORS_ONLN), load);
    bool right = nw_bench_memory(&options);
    right = nw_bench_slide(&options) && right;
    right = nw_bench_cook(&options) && right;
    right = nw_bench_threads(&options) && right;
    right = nw_bench_setup(&options) && right;
    right = nw_bench_fit(&options) && right;
    if (!right)
        printf("\nA result was wrong: see above.\n");
    return right ? 0 : 1;
}
