#ifndef NW_APP_ASSEMBLIES_ASSEMBLY_PANEL_H
#define NW_APP_ASSEMBLIES_ASSEMBLY_PANEL_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_ASSEMBLY_PANEL (nw_assembly_panel_get_type())
G_DECLARE_FINAL_TYPE(NwAssemblyPanel, nw_assembly_panel, NW, ASSEMBLY_PANEL, GtkWidget)

void nw_assembly_panel_set_view_state(NwAssemblyPanel *self, NwViewState *view_state);

/* The intended assembly, if it is in the list; borrowed, or NULL. */
NwAssemblyItem *nw_assembly_panel_get_intended(NwAssemblyPanel *self);

G_END_DECLS

#endif
