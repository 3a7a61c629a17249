#include "session/edit_command.h"

#include <glib/gi18n.h>

static NwStatus run_act(NwDesign *design, gpointer data) {
    NwEditCommand *act = data;
    NwEdit edit = {.design = design, .locked = act->locked};
    act->status = act->run(&edit, act);
    act->changed = edit.changed;
    act->refused = edit.refused;
    act->created = edit.created;
    return act->status;
}

void nw_command_tell(NwDocument *document, const char *sentence) {
    g_signal_emit_by_name(document, "trouble", sentence);
}

void nw_command_take_told(NwDocument *document, char *sentence) {
    nw_command_tell(document, sentence);
    g_free(sentence);
}

static void tell_status(NwDocument *document, const NwEditCommand *act) {
    switch (act->status) {
    case NW_OK:
        break;
    case NW_DOES_NOT_FIT:
        nw_command_tell(
            document,
            act->why ? act->why : _("There is no room for this. Free some parts, then try again."));
        break;
    case NW_OFF_LATTICE:
        nw_command_tell(document, _("A copy of this piece is shifted by an odd number of cells, so "
                                    "only whole cells can change. Use the brush “Whole cell”."));
        break;
    case NW_TOO_MANY:
        nw_command_take_told(
            document, g_strdup_printf(_("A design has at most %d pieces and %d copies. Delete "
                                        "some, then try again."),
                                      NW_PIECES_MAX, NW_COPIES_MAX));
        break;
    case NW_EMPTY:
        nw_command_tell(document,
                        _("There are no parts for this. Paint or select some, then try again."));
        break;
    default:
        nw_command_take_told(
            document, g_strdup_printf(_("Could not do this: %s."), nw_status_text(act->status)));
    }
}

gboolean nw_command_perform(NwDocument *document, const char *note, NwEditCommand *act) {
    act->locked = nw_document_get_locked(document);
    act->status = NW_OK;
    gboolean done = nw_document_apply(document, note, run_act, act);
    tell_status(document, act);
    return done && act->status == NW_OK;
}

gboolean nw_command_perform_on(NwDocument *document, const char *format, NwEditCommand *act) {
    char *note = g_strdup_printf(format, nw_command_piece(document, act->piece)->name);
    gboolean done = nw_command_perform(document, note, act);
    g_free(note);
    return done;
}

const NwPiece *nw_command_piece(NwDocument *document, int piece) {
    const NwDesign *design = nw_document_get_design(document);
    return design && piece >= 0 && (size_t)piece < design->piece_count ? &design->pieces[piece]
                                                                       : NULL;
}

gboolean nw_command_may_change(NwDocument *document, int piece) {
    if (!nw_command_piece(document, piece))
        return FALSE;
    if (!(nw_document_get_locked(document) >> piece & 1))
        return TRUE;
    nw_command_take_told(document, g_strdup_printf(_("Piece %s is locked. Unlock it to change it."),
                                                   nw_command_piece(document, piece)->name));
    return FALSE;
}

void nw_command_choose_last(NwDocument *document) {
    nw_document_set_piece(document, (int)nw_document_get_design(document)->piece_count - 1);
}
