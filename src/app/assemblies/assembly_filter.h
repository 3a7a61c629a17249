/* Which assemblies the list shows: a chip for each state with its count, and the piece that leads.
 * Pressed chips narrow the list to their states; with none pressed all are shown.
 *
 * Signals:
 *   "narrowed"  what passes is another
 */
#ifndef NW_APP_ASSEMBLIES_ASSEMBLY_FILTER_H
#define NW_APP_ASSEMBLIES_ASSEMBLY_FILTER_H

#include <gtk/gtk.h>

#include "session/assembly_state.h"

G_BEGIN_DECLS

#define NW_TYPE_ASSEMBLY_FILTER (nw_assembly_filter_get_type())
G_DECLARE_FINAL_TYPE(NwAssemblyFilter, nw_assembly_filter, NW, FINDING_FILTER, GtkWidget)

void nw_assembly_filter_set_count(NwAssemblyFilter *self, NwAssemblyState state, guint count);

/* Names the pieces to choose from; does nothing if they are the same. NULL: none. */
void nw_assembly_filter_set_design(NwAssemblyFilter *self, const NwDesign *design);

guint nw_assembly_filter_get_states(NwAssemblyFilter *self); /* bits; 0: all */
int nw_assembly_filter_get_piece(NwAssemblyFilter *self);    /* -1: any */
void nw_assembly_filter_clear(NwAssemblyFilter *self);

G_END_DECLS

#endif
