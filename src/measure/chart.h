/* Times of trials against a measure: a small chart.
 *
 * A dot for each trial: across, the measure of the design that was tried; upwards, the minutes.
 * Filled: solved; open: given up after that time. Round: with colours; square: without. Designs
 * are named over their uppermost dot. An axis whose values lie more than a factor of 30 apart goes
 * by powers of ten (unless one is 0). It is a picture of what was noted, with no line fitted, and
 * the same on paper and on a screen: dark on white.
 * Thread: any. */
#ifndef NW_MEASURE_CHART_H
#define NW_MEASURE_CHART_H

#include <cairo.h>
#include <glib.h>

#include "measure/chart_dot.h"

enum { NW_CHART_WIDTH = 480, NW_CHART_HEIGHT = 320 }; /* points */

typedef struct NwChart {
    const char *measure, *title; /* what goes across; of the document. Borrowed */
    const NwChartDot *dots;
    gsize count;
} NwChart;

/* The two scales, for the program that draws and for tests: from 0 to 1 along an axis. */
typedef struct NwChartScale {
    double low, high;
    gboolean powers;
} NwChartScale;

NwChartScale nw_chart_scale(const double *values, gsize count);
double nw_chart_place(const NwChartScale *scale, double value);

/* Draws it from (0, 0) to (NW_CHART_WIDTH, NW_CHART_HEIGHT) in user space. */
void nw_chart_draw(cairo_t *cr, const NwChart *chart);

/* The bytes of a PDF or an SVG; NULL with an error if cairo fails. */
GBytes *nw_chart_to_pdf(const NwChart *chart, GError **error);
GBytes *nw_chart_to_svg(const NwChart *chart, GError **error);

#endif
