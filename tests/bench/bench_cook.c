#include "bench/bench.h"

#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "cook/advisor.h"
#include "cook/candidates.h"
#include "lattice/named.h"
#include "plain/random_design.h"

#define GOAL_FIRST 0.10
#define GOAL_ALL (1.0 / 3.0)

enum { EFFORT = 20000 };

/* Tetrahedra of edge 4, 104 parts, divided at random into six pieces with these seeds: the first
 * ones that have one cook. */
static const uint64_t seeds[] = {1, 7, 42, 55, 66, 74};

static NwDesign *divided(uint64_t seed) {
    NwDesign *design = nw_design_new("divided");
    nw_solid_free(design->envelope);
    nw_named_solid_build(nw_named_solid_find("tetrahedron"), (const int[NW_SIZES_MAX]){4},
                         &design->envelope);
    NwSolid *pieces[NW_PIECES_MAX];
    NwPlacement intended[NW_PIECES_MAX];
    NwRandom random = {seed};
    size_t count = nw_random_divide(&random, design->envelope, false, pieces, 6);
    for (size_t i = 0; i < count; i++) {
        char letter[2] = {(char)('A' + i), '\0'};
        nw_design_take_piece(design, letter, pieces[i]);
        intended[i] = (NwPlacement){(int)i, {0, {0, 0, 0}}};
    }
    nw_design_set_intended(design, intended, count);
    return design;
}

/* Seconds for what a trier without ideas does: carry out each change, one after the other, and
 * search what comes of it to the end, every assembly and every way out. */
static double try_all(const NwDesign *settled, const NwCandidates *choices) {
    int kinds[NW_PIECES_MAX];
    for (int p = 0; p < NW_PIECES_MAX; p++)
        kinds[p] = p;
    double start = nw_bench_cpu_seconds();
    for (size_t i = 0; i < choices->count; i++) {
        NwDesign *changed = nw_design_copy(settled);
        NwFit *fit;
        NwTakeApart *slides = nw_take_apart_new(false);
        long effort = LONG_MAX;
        nw_changes_apply(changed, &choices->list[i], 1);
        if (nw_fit_new(changed, (NwFitOptions){0}, &fit) == NW_OK) {
            NwEnumeration *enumeration = nw_enumeration_new(fit, slides, kinds, NW_STATES_DEFAULT);
            while (nw_enumeration_step(enumeration, &effort) == NW_OK)
                continue;
            nw_enumeration_free(enumeration);
            nw_fit_free(fit);
        }
        nw_take_apart_free(slides);
        nw_design_free(changed);
    }
    return nw_bench_cpu_seconds() - start;
}

typedef struct Ratios {
    double first, all;
} Ratios;

/* The advisor's own search of the unchanged design is part of its time. */
static bool measure(const char *name, const NwDesign *design, Ratios *ratios) {
    NwAdvisor *advisor;
    const NwProposal *proposal;
    NwStatus status = nw_advisor_new(design, (NwAdvisorOptions){.singles = true}, &advisor);
    if (status != NW_OK) {
        printf("  %s: %s\n", name, nw_status_text(status));
        return false;
    }
    nw_advisor_free(advisor);
    double start = nw_bench_cpu_seconds(), first = 0;
    nw_advisor_new(design, (NwAdvisorOptions){.singles = true}, &advisor);
    size_t proposals = 0;
    while ((status = nw_advisor_step(advisor, EFFORT, &proposal)) != NW_NONE && status != NW_EMPTY)
        if (status == NW_OK && !proposals++)
            first = nw_bench_cpu_seconds() - start;
    double all = nw_bench_cpu_seconds() - start;
    const NwBaseline *ground = nw_advisor_ground(advisor);
    NwCandidates choices;
    nw_candidates_list(ground, ground->design, &choices);
    double naive = try_all(ground->design, &choices);
    ratios->first = proposals ? first / naive : NAN;
    ratios->all = all / naive;
    printf("  %-24s %6d %5zu %8zu %10zu %9.3f %9.3f %9.3f %8.3f %7.3f\n", name,
           ground->fit->places->part_count, ground->cooks, choices.count, proposals, naive, first,
           all, ratios->first, ratios->all);
    nw_candidates_clear(&choices);
    nw_advisor_free(advisor);
    return true;
}

bool nw_bench_cook(const NwBenchOptions *options) {
    printf(
        "\nCook: single changes that remove it, six pieces, one thread, processor seconds; ratios "
        "to trying\n  the same changes one by one with a full search each\n"
        "  %-24s %6s %5s %8s %10s %9s %9s %9s %8s %7s\n",
        "design", "parts", "cooks", "changes", "proposals", "one by one", "first", "all", "first",
        "all");
    Ratios worst = {0, 0};
    bool right = true;
    for (size_t i = 0; i < sizeof seeds / sizeof seeds[0]; i++) {
        NwDesign *design = divided(seeds[i]);
        char name[32];
        snprintf(name, sizeof name, "tetrahedron-4-6, seed %d", (int)seeds[i]);
        Ratios ratios = {0, 0};
        right = measure(name, design, &ratios) && right;
        worst.first = fmax(worst.first, ratios.first);
        worst.all = fmax(worst.all, ratios.all);
        nw_design_free(design);
    }
    printf("  goals: the first within %.2f: %s (%.3f at worst); all within %.2f: %s (%.3f)\n",
           GOAL_FIRST, nw_bench_verdict(worst.first <= GOAL_FIRST), worst.first, GOAL_ALL,
           nw_bench_verdict(worst.all <= GOAL_ALL), worst.all);
    NwDesign *lantern = nw_bench_design(options, "ember-lantern-chipped");
    if (lantern) {
        Ratios ratios;
        right = measure("ember-lantern-chipped", lantern, &ratios) && right;
        nw_design_free(lantern);
    }
    return right;
}
