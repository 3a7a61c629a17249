/* Plots as files: pages of a PDF, SVG drawings, DXF drawings (make/dxf.h).
 *
 * All three keep to millimetres: a PDF page has the size of the paper, an SVG has its size in mm
 * and a view box in mm, so that one user unit is one millimetre. Texts are bytes in memory, so that
 * a file is written only when it is whole. Thread: any. */
#ifndef NW_MAKE_PLOT_WRITE_H
#define NW_MAKE_PLOT_WRITE_H

#include <glib.h>

#include "make/plot.h"

/* One page a plot; the caller unrefs it. `title` goes to the document's properties. NULL with an
 * error if cairo fails. */
GBytes *nw_plots_to_pdf(const NwPlot *const *plots, size_t count, const char *title,
                        GError **error);

GBytes *nw_plot_to_svg(const NwPlot *plot, const char *title);

#endif
