#include <fcntl.h>
#include <glib/gstdio.h>
#include <stdint.h>
#include <stdio.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "bench/bench.h"
#include "bench/instances.h"
#include "format/design_json.h"

static const double GOAL_MIB = 200;
enum { LEAST_RESULTS = 100000 };

/* What is asked of notch beside the design. */
static const char *const rows[][3] = {
    {"--fit-only", "--limit=100000", "--threads=1"},
    {"--fit-only", "--limit=300000", "--threads=2"},
    {"--states=100", "--limit=100000", "--threads=2"},
};

/* 24 dominoes in 2 x 4 x 6. */
static NwDesign *build_design(void) {
    NwInstance many = *nw_instance_find("dominoes-2x2x5");
    many.name = "dominoes-2x4x6";
    many.sizes[0] = 6;
    many.sizes[1] = 4;
    return nw_instance_build(&many);
}

/* In the child: standard output goes to `out`. */
static void become_notch(const char *notch, const char *path, const char *const row[3], int out) {
    dup2(out, STDOUT_FILENO);
    execl(notch, notch, "fit", "--json", row[0], row[1], row[2], path, (char *)NULL);
    _exit(127);
}

/* Counts the lines of assemblies, by the word that each begins with. */
static long count_results(int in) {
    FILE *stream = fdopen(in, "r");
    char *line = NULL;
    size_t size = 0;
    long count = 0;
    while (getline(&line, &size, stream) > 0)
        count += g_str_has_prefix(line, "{\"event\":\"assembly\"");
    g_free(line);
    fclose(stream);
    return count;
}

/* Peak size in MiB, or below 0 if it could not run. */
static double run(const char *notch, const char *path, const char *const row[3], long *results) {
    int ends[2];
    if (pipe(ends) != 0)
        return -1;
    pid_t child = fork();
    if (child == 0) {
        close(ends[0]);
        become_notch(notch, path, row, ends[1]);
    }
    close(ends[1]);
    *results = count_results(ends[0]);
    int status;
    struct rusage usage;
    if (child < 0 || wait4(child, &status, 0, &usage) != child || !WIFEXITED(status) ||
        (WEXITSTATUS(status) != 0 && WEXITSTATUS(status) != 3))
        return -1;
    return (double)usage.ru_maxrss / 1024;
}

bool nw_bench_memory(const NwBenchOptions *options) {
    printf("\nMemory: notch fit --json on 24 dominoes in a box of 2x4x6, peak of the process\n"
           "  %-16s %-18s %-12s %9s %10s\n",
           "", "", "", "results", "MiB");
    char *path = g_strdup_printf("%s/notch-bench-%d.json", g_get_tmp_dir(), (int)getpid());
    NwDesign *design = build_design();
    bool right = nw_design_save(design, path, NULL);
    double most = 0;
    for (size_t i = 0; right && i < G_N_ELEMENTS(rows); i++) {
        long results = 0;
        double mib = run(options->notch, path, rows[i], &results);
        right = mib >= 0 && results >= LEAST_RESULTS;
        printf("  %-16s %-18s %-12s %9ld %10.1f%s\n", rows[i][0], rows[i][1], rows[i][2], results,
               mib, right ? "" : "  FAILED");
        most = MAX(most, mib);
    }
    if (right)
        printf("  goal: less than %.0f MiB: %s\n", GOAL_MIB, nw_bench_verdict(most < GOAL_MIB));
    nw_design_free(design);
    g_unlink(path);
    g_free(path);
    return right;
}
