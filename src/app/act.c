#include "app/act.h"

#include <glib/gi18n.h>

static NwStatus run_act(NwDesign *design, gpointer data) {
    NwAct *act = data;
    NwEdit edit = {.design = design, .locked = act->locked};
    act->status = act->run(&edit, act);
    act->changed = edit.changed;
    act->refused = edit.refused;
    act->created = edit.created;
    return act->status;
}

void nw_act_tell(NwDocument *document, const char *sentence) {
    g_signal_emit_by_name(document, "trouble", sentence);
}

void nw_act_take_told(NwDocument *document, char *sentence) {
    nw_act_tell(document, sentence);
    g_free(sentence);
}

static void tell_status(NwDocument *document, const NwAct *act) {
    switch (act->status) {
    case NW_OK:
        break;
    case NW_DOES_NOT_FIT:
        nw_act_tell(document, act->why
                                  ? act->why
                                  : _("There is no room for that. Make room, then try again."));
        break;
    case NW_OFF_LATTICE:
        nw_act_tell(document, _("A copy of this piece stands at an odd shift, so it changes by "
                                "whole cells only. Use the brush for whole cells."));
        break;
    case NW_TOO_MANY:
        nw_act_take_told(document,
                         g_strdup_printf(_("A design has at most %d pieces and %d copies. Delete "
                                           "some, then try again."),
                                         NW_PIECES_MAX, NW_COPIES_MAX));
        break;
    case NW_EMPTY:
        nw_act_tell(document, _("There are no parts to do that with. Paint some, or select "
                                "others, then try again."));
        break;
    default:
        nw_act_take_told(document, g_strdup_printf(_("That could not be done: %s."),
                                                   nw_status_text(act->status)));
    }
}

gboolean nw_act_perform(NwDocument *document, const char *note, NwAct *act) {
    act->locked = nw_document_get_locked(document);
    act->status = NW_OK;
    gboolean done = nw_document_apply(document, note, run_act, act);
    tell_status(document, act);
    return done && act->status == NW_OK;
}

gboolean nw_act_perform_on(NwDocument *document, const char *format, NwAct *act) {
    char *note = g_strdup_printf(format, nw_act_piece(document, act->piece)->name);
    gboolean done = nw_act_perform(document, note, act);
    g_free(note);
    return done;
}

const NwPiece *nw_act_piece(NwDocument *document, int piece) {
    const NwDesign *design = nw_document_get_design(document);
    return design && piece >= 0 && (size_t)piece < design->piece_count ? &design->pieces[piece]
                                                                       : NULL;
}

gboolean nw_act_may_change(NwDocument *document, int piece) {
    if (!nw_act_piece(document, piece))
        return FALSE;
    if (!(nw_document_get_locked(document) >> piece & 1))
        return TRUE;
    nw_act_take_told(document, g_strdup_printf(_("Piece %s is locked. Unlock it to change it."),
                                               nw_act_piece(document, piece)->name));
    return FALSE;
}

void nw_act_choose_last(NwDocument *document) {
    nw_document_set_piece(document, (int)nw_document_get_design(document)->piece_count - 1);
}
