/* Running a search for a verb: with its run in the store where there is one, with a live line on
 * the terminal, stopped by limits and by Ctrl-C. */
#ifndef NW_CLI_RUN_H
#define NW_CLI_RUN_H

#include "cli/source.h"
#include "job/search.h"

typedef struct NwRunRequest {
    NwSearchOptions options;
    double seconds; /* stop after so long; 0: no limit */
    gboolean anew;  /* forget what the store has of this search */
    gboolean lines; /* print every event as a line of JSON */
    gboolean quiet; /* no live line */
} NwRunRequest;

/* What a search came to. Findings beyond NW_RUN_KEEP are printed or stored, but not kept here. */
enum { NW_RUN_KEEP = 200000 };

typedef struct NwRunResult {
    NwSearch *search;
    NwSearchProgress progress;
    GPtrArray *findings; /* in the order of lists (job/words.h) */
    gboolean from_store; /* the search was complete before: nothing had to be searched */
} NwRunResult;

/* Runs it to its end. FALSE with an error if it could not run; the result is then empty. */
gboolean nw_run(const NwSource *source, const NwRunRequest *request, NwRunResult *result,
                GError **error);
void nw_run_result_clear(NwRunResult *result);

/* The exit status of a search that ended. */
int nw_run_exit(const NwRunResult *result);

#endif
