/* What a press with the pointer or a key does, the same on the layer board and in the viewport:
 * what the board's buttons say; with Shift, or the secondary button, it takes away, unless it is
 * only to look; with Ctrl it selects. Thread: the main one. */
#ifndef NW_APP_BENCH_BRUSH_GESTURE_H
#define NW_APP_BENCH_BRUSH_GESTURE_H

#include <gtk/gtk.h>

#include "session/view_state.h"

/* NW_TOUCH_LOOK: no stroke is to begin. */
NwTouch nw_brush_gesture_touch(NwViewState *view_state, GdkModifierType state, guint button);

/* Whether there is a piece to give to; tells what to do if not. */
gboolean nw_brush_gesture_may_begin(NwViewState *view_state, NwTouch touch);

/* Touches what the brush covers at a part, within a stroke. */
void nw_brush_gesture_touch_part(NwViewState *view_state, NwPart part);

#endif
