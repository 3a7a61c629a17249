/* The benchmarks' tables, printed on standard output: what was measured beside what is aimed at.
 *
 * A goal that is missed is printed as missed; a wrong count of assemblies makes a table return
 * false, since the time of a wrong answer says nothing. Seconds of one thread are processor time,
 * those of several are wall-clock time. Thread: the main one. */
#ifndef NW_TESTS_BENCH_BENCH_H
#define NW_TESTS_BENCH_BENCH_H

#include "design/design.h"

typedef struct NwBenchOptions {
    bool quick;          /* leave out the row that takes the textbook over a minute */
    const char *designs; /* folder of the bundled designs */
    const char *notch;   /* the command, for its peak memory */
} NwBenchOptions;

/* The exact cover engine against the textbook's, on the same designs. */
bool nw_bench_fit(const NwBenchOptions *options);

/* What comes before a search of large designs, and what share of the whole it is of short ones. */
bool nw_bench_setup(const NwBenchOptions *options);

/* Two threads against one, through the job layer. */
bool nw_bench_threads(const NwBenchOptions *options);

/* The slide engine: expansions a second, bytes a state. */
bool nw_bench_slide(const NwBenchOptions *options);

/* The advisor against trying the same changes one by one. */
bool nw_bench_cook(const NwBenchOptions *options);

/* `notch fit --json` with very many results. To be run before the others: a child counts the
 * largest size of the process that it was split off from as its own. */
bool nw_bench_memory(const NwBenchOptions *options);

/* A design by name; the caller frees it. A name of instances.h: as the benchmarks count it.
 * "tetrahedron-N-K": that of edge N, divided at random into K pieces, always the same ones.
 * "box-AxBxC-K-S": that box of whole cells, likewise, with seed S; "cut-…": cut into parts. Any
 * other: the bundled design of that file name without ending, NULL with a remark if there is none.
 */
NwDesign *nw_bench_design(const NwBenchOptions *options, const char *name);

double nw_bench_cpu_seconds(void);
double nw_bench_wall_seconds(void);

/* "met" or "MISSED". */
const char *nw_bench_verdict(bool met);

#endif
