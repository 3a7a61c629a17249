#ifndef NW_APP_ASSEMBLY_PANEL_H
#define NW_APP_ASSEMBLY_PANEL_H

#include <gtk/gtk.h>

#include "app/stage.h"

G_BEGIN_DECLS

#define NW_TYPE_ASSEMBLY_PANEL (nw_assembly_panel_get_type())
G_DECLARE_FINAL_TYPE(NwAssemblyPanel, nw_assembly_panel, NW, ASSEMBLY_PANEL, GtkWidget)

void nw_assembly_panel_set_stage(NwAssemblyPanel *self, NwStage *stage);

G_END_DECLS

#endif
