/* Running a search for a verb: with its run in the store where there is one, with a live line on
 * the terminal, stopped by limits and by Ctrl-C. */
#ifndef NW_CLI_RUN_H
#define NW_CLI_RUN_H

#include "cli/source.h"
#include "job/search_results.h"

typedef struct NwRunRequest {
    NwSearchOptions options;
    double seconds; /* stop after so long; 0: no limit */
    gboolean anew;  /* forget what the store has of this search */
    gboolean lines; /* print every event as a line of JSON */
    gboolean quiet; /* no live line */
} NwRunRequest;

/* Runs it to its end. FALSE with an error if it could not run; there is nothing to clear then. */
gboolean nw_run(const NwSource *source, const NwRunRequest *request, NwSearchResults *results,
                GError **error);

/* The exit status of a search that ended; complains if it may not be believed. */
int nw_run_exit(const NwSearchResults *results);

#endif
