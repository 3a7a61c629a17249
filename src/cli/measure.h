/* Measuring a design for a verb: its search, then the measures of its answer. */
#ifndef NW_CLI_MEASURE_H
#define NW_CLI_MEASURE_H

#include "cli/run.h"
#include "cli/verb.h"
#include "measure/measuring.h"

typedef struct NwMeasureRequest {
    NwRunRequest run;
    NwMeasuring measuring; /* of slides as in the run */
} NwMeasureRequest;

/* Runs the search and measures. Complains of what keeps it from running. After NW_EXIT_COMPLETE
 * and NW_EXIT_LIMIT there are measures. */
NwExit nw_measure(const NwSource *source, const NwMeasureRequest *request, NwMeasures *measures);

#endif
