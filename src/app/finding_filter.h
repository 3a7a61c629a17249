/* Which assemblies the list shows: a chip for each state with its count, and the piece that leads.
 * Pressed chips narrow the list to their states; with none pressed all are shown.
 *
 * Signals:
 *   "narrowed"  what passes is another
 */
#ifndef NW_APP_FINDING_FILTER_H
#define NW_APP_FINDING_FILTER_H

#include <gtk/gtk.h>

#include "app/finding_state.h"

G_BEGIN_DECLS

#define NW_TYPE_FINDING_FILTER (nw_finding_filter_get_type())
G_DECLARE_FINAL_TYPE(NwFindingFilter, nw_finding_filter, NW, FINDING_FILTER, GtkWidget)

void nw_finding_filter_set_count(NwFindingFilter *self, NwFindingState state, guint count);

/* Names the pieces to choose from; does nothing if they are the same. NULL: none. */
void nw_finding_filter_set_design(NwFindingFilter *self, const NwDesign *design);

guint nw_finding_filter_get_states(NwFindingFilter *self); /* bits; 0: all */
int nw_finding_filter_get_piece(NwFindingFilter *self);    /* -1: any */
void nw_finding_filter_clear(NwFindingFilter *self);

G_END_DECLS

#endif
