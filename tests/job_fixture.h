/* What a search must find, worked out without threads, and ways to compare what it did find. */
#ifndef JOB_FIXTURE_H
#define JOB_FIXTURE_H

#include "job/search.h"

/* What must be known of an assembly. */
typedef struct JobFact {
    guint64 key;
    NwVerdict verdict;
    int level, total;
} JobFact;

/* All assemblies of a design by rising key: from the fit engine and the slide engine, called one
 * after the other. g_array_unref. */
GArray *job_expected(const NwDesign *design, const NwSearchOptions *options);

/* Adds the facts of a batch (which it unrefs), and checks every finding on its own: recounted, and
 * if it opens, replayed. */
void job_gather(GArray *facts, const NwDesign *design, GPtrArray *batch);

/* Whether both hold the same assemblies, each once. Sorts `found`; with `repeats` an assembly may
 * come up more than once, always with the same verdict. Otherwise fails the test. */
void job_assert_same(GArray *found, const GArray *expected, gboolean repeats);

/* Starts and waits for the end. */
void job_run_to_end(NwSearch *search, const NwDesign *design, GArray *facts);

GArray *job_facts_new(void);

#endif
