/* Panels on sheets of stock: every panel as often as it is needed, on as few sheets as the packing
 * of their boxes finds.
 *
 *     +------------------+  +------------------+
 *     | +---+ +----+     |  | +------+         |
 *     | |   | |    |     |  | +------+         |
 *     | +---+ +----+     |  |                  |
 *     +------------------+  +------------------+
 *
 * Each blank keeps its kerf within the sheet, and blanks with their kerfs are NW_NEST_GAP_MM apart,
 * so that neighbours are cut one by one.
 *
 * A panel is laid so that its box is least, the longer side along the sheet's width. So it stays
 * where the sheet has a grain; else the packing (pack.h) is tried with turns by 90 degrees too, and
 * the better one is kept: that with fewer sheets, of equals the one that leaves more of the last.
 *
 * Millimetres, from the lower left corner of the sheet. Ownership: the caller frees. Thread: any.
 * Failure: G_IO_ERROR_INVALID_ARGUMENT where a panel is larger than the sheet. Cost: blanks
 * squared.
 */
#ifndef NW_MAKE_STOCK_NEST_H
#define NW_MAKE_STOCK_NEST_H

#include "make/stock/panels.h"

#define NW_NEST_GAP_MM 6.0

/* One copy of a panel on its sheet. */
typedef struct NwBlank {
    size_t panel, sheet;
    double degrees; /* how the panel is turned, counter-clockwise */
    NwPoint shift;  /* what is then added to its points */
} NwBlank;

typedef struct NwNest {
    NwBlank *blanks; /* by panel */
    size_t count, sheet_count;
    double width_mm, height_mm; /* of a sheet */
} NwNest;

/* For options with a size of stock; NULL with an error where a panel is too large for it. */
NwNest *nw_nest_new(const NwPanels *panels, const NwPanelOptions *options, GError **error);
void nw_nest_free(NwNest *nest); /* NULL is allowed */

/* A point of the panel, where it lies on its sheet. */
NwPoint nw_blank_point(const NwBlank *blank, NwPoint point);

/* How many sheets are needed, without a full stop, in the language of the user; g_free it. */
char *nw_dup_nest_text(const NwNest *nest);

/* All sheets side by side, their outlines in NW_INK_STOCK. The caller frees the plot. */
NwPlot *nw_nest_plot(const NwNest *nest, const NwPanels *panels, const NwDesign *design,
                     const NwPanelOptions *options);

#endif
