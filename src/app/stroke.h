/* What a press with the pointer or a key does, the same on the layer board and in the viewport:
 * what the board's buttons say; with Shift, or the secondary button, it takes away, unless it is
 * only to look; with Ctrl it selects. Thread: the main one. */
#ifndef NW_APP_STROKE_H
#define NW_APP_STROKE_H

#include <gtk/gtk.h>

#include "app/stage.h"

/* NW_TOUCH_LOOK: no stroke is to begin. */
NwTouch nw_stroke_touch(NwStage *stage, GdkModifierType state, guint button);

/* Whether there is a piece to give to; tells what to do if not. */
gboolean nw_stroke_may_begin(NwStage *stage, NwTouch touch);

/* Touches what the brush covers at a part, within a stroke. */
void nw_stroke_touch_part(NwStage *stage, NwPart part);

#endif
