#ifndef NW_APP_ASSEMBLIES_SLIDE_STRIP_H
#define NW_APP_ASSEMBLIES_SLIDE_STRIP_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_SLIDE_STRIP (nw_slide_strip_get_type())
G_DECLARE_FINAL_TYPE(NwSlideStrip, nw_slide_strip, NW, SLIDE_STRIP, GtkWidget)

void nw_slide_strip_set_view_state(NwSlideStrip *self, NwViewState *view_state);

G_END_DECLS

#endif
