#include "app/stroke.h"

#include <glib/gi18n.h>

#include "app/act.h"

NwTouch nw_stroke_touch(NwStage *stage, GdkModifierType state, guint button) {
    NwTouch usual = nw_document_get_touch(nw_stage_get_document(stage));
    gboolean shift = (state & GDK_SHIFT_MASK) != 0, control = (state & GDK_CONTROL_MASK) != 0;
    if (control)
        return shift ? NW_TOUCH_UNSELECT : NW_TOUCH_SELECT;
    if (usual == NW_TOUCH_LOOK)
        return usual;
    if (shift || button == GDK_BUTTON_SECONDARY)
        return usual == NW_TOUCH_SELECT ? NW_TOUCH_UNSELECT : NW_TOUCH_TAKE;
    return usual;
}

gboolean nw_stroke_may_begin(NwStage *stage, NwTouch touch) {
    NwDocument *document = nw_stage_get_document(stage);
    if (touch != NW_TOUCH_GIVE || nw_act_may_change(document, nw_document_get_piece(document)))
        return TRUE;
    if (nw_document_get_piece(document) < 0)
        nw_act_tell(document, _("No piece is chosen. Add a piece, then paint its parts."));
    return FALSE;
}

void nw_stroke_touch_part(NwStage *stage, NwPart part) {
    NwSolid *parts = nw_stage_brush_parts(stage, part);
    nw_document_touch(nw_stage_get_document(stage), parts);
    nw_solid_free(parts);
}
