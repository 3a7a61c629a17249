/* Times of trials against a measure, over all designs that have trials, as a chart that can be
 * saved (measure/chart.h).
 *
 * The design on the bench brings its measures with it; others are measured in the background, one
 * after another, from the complete searches in the store. None is searched for it: how many are
 * left out, and why, is told.
 *
 * Signal "trouble": (message) something could not be done.
 * Thread: the main one. */
#ifndef NW_APP_DIFFICULTY_PLOT_PAGE_H
#define NW_APP_DIFFICULTY_PLOT_PAGE_H

#include <gtk/gtk.h>

#include "measure/measures.h"
#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_PLOT_PAGE (nw_plot_page_get_type())
G_DECLARE_FINAL_TYPE(NwPlotPage, nw_plot_page, NW, PLOT_PAGE, GtkWidget)

void nw_plot_page_set_view_state(NwPlotPage *self, NwViewState *view_state);

/* The measures of the design on the bench; NULL: not known. They are copied. */
void nw_plot_page_set_measures(NwPlotPage *self, const NwMeasures *measures);

/* The log of trials is another. */
void nw_plot_page_refresh(NwPlotPage *self);

G_END_DECLS

#endif
