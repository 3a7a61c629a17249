#ifndef NW_APP_SLIDE_STRIP_H
#define NW_APP_SLIDE_STRIP_H

#include <gtk/gtk.h>

#include "app/stage.h"

G_BEGIN_DECLS

#define NW_TYPE_SLIDE_STRIP (nw_slide_strip_get_type())
G_DECLARE_FINAL_TYPE(NwSlideStrip, nw_slide_strip, NW, SLIDE_STRIP, GtkWidget)

void nw_slide_strip_set_stage(NwSlideStrip *self, NwStage *stage);

G_END_DECLS

#endif
