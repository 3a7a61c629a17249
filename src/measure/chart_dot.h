/* One trial in a chart of times (measure/chart.h), on its own so that what gathers dots needs no
 * cairo. */
#ifndef NW_MEASURE_CHART_DOT_H
#define NW_MEASURE_CHART_DOT_H

#include <glib.h>

typedef struct NwChartDot {
    double value, minutes; /* the measure of the design; how long it took */
    gboolean gave_up, colours;
    const char *design; /* borrowed */
} NwChartDot;

#endif
