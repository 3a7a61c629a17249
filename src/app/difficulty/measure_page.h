/* How hard the design on the bench is: every measure with its definition, once its search is
 * complete, and until then what is missing. Measured in the background as soon as the page has a
 * complete search to measure; it can be stopped.
 *
 * Signal "measured": the measures are known, or no longer.
 * Thread: the main one. */
#ifndef NW_APP_DIFFICULTY_MEASURE_PAGE_H
#define NW_APP_DIFFICULTY_MEASURE_PAGE_H

#include <gtk/gtk.h>

#include "measure/measures.h"
#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_MEASURE_PAGE (nw_measure_page_get_type())
G_DECLARE_FINAL_TYPE(NwMeasurePage, nw_measure_page, NW, MEASURE_PAGE, GtkWidget)

void nw_measure_page_set_view_state(NwMeasurePage *self, NwViewState *view_state);

/* NULL: not known (yet). Borrowed until "measured". */
const NwMeasures *nw_measure_page_get(NwMeasurePage *self);

G_END_DECLS

#endif
