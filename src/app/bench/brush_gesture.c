#include "app/bench/brush_gesture.h"

#include <glib/gi18n.h>

#include "session/edit_command.h"

NwTouch nw_brush_gesture_touch(NwViewState *view_state, GdkModifierType state, guint button) {
    NwTouch usual = nw_document_get_touch(nw_view_state_get_document(view_state));
    gboolean shift = (state & GDK_SHIFT_MASK) != 0, control = (state & GDK_CONTROL_MASK) != 0;
    if (control)
        return shift ? NW_TOUCH_UNSELECT : NW_TOUCH_SELECT;
    if (usual == NW_TOUCH_LOOK)
        return usual;
    if (shift || button == GDK_BUTTON_SECONDARY)
        return usual == NW_TOUCH_SELECT ? NW_TOUCH_UNSELECT : NW_TOUCH_TAKE;
    return usual;
}

gboolean nw_brush_gesture_may_begin(NwViewState *view_state, NwTouch touch) {
    NwDocument *document = nw_view_state_get_document(view_state);
    if (touch != NW_TOUCH_GIVE || nw_command_may_change(document, nw_document_get_piece(document)))
        return TRUE;
    if (nw_document_get_piece(document) < 0)
        nw_command_tell(document, _("No piece selected. Add a piece, then paint its parts."));
    return FALSE;
}

void nw_brush_gesture_touch_part(NwViewState *view_state, NwPart part) {
    NwSolid *parts = nw_view_state_brush_parts(view_state, part);
    nw_document_touch(nw_view_state_get_document(view_state), parts);
    nw_solid_free(parts);
}
