/* Measuring a design for a verb: its search, then the measures of its answer. */
#ifndef NW_CLI_MEASURE_H
#define NW_CLI_MEASURE_H

#include "cli/run.h"
#include "cli/verb.h"
#include "make/measures.h"

enum { NW_MEASURE_DIVES = 10000 };

typedef struct NwMeasureRequest {
    NwRunRequest run;
    guint32 max_positions; /* 0: NW_GRAPH_POSITIONS_DEFAULT */
    gulong dives;          /* 0: no estimate */
    guint64 seed;
} NwMeasureRequest;

/* Runs the search and measures. Complains of what keeps it from running. After NW_EXIT_COMPLETE
 * and NW_EXIT_LIMIT there are measures. */
NwExit nw_measure(const NwSource *source, const NwMeasureRequest *request, NwMeasures *measures);

#endif
