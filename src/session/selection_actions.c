#include "session/selection_actions.h"

#include <glib/gi18n.h>

#include "design/bodies.h"
#include "design/brush.h"
#include "design/edit_envelope.h"
#include "design/edit_piece.h"
#include "design/symmetry_name.h"
#include "session/edit_command.h"
#include "session/piece_colours.h"

/* An act on a copy of the selection, for the document's may change under it. */
static gboolean perform(NwDocument *document, const char *note, NwEditCommand *act) {
    if (!nw_document_get_design(document))
        return FALSE;
    NwSolid *selection = nw_solid_copy(nw_document_get_selection(document));
    act->selection = selection;
    gboolean done = nw_command_perform(document, note, act);
    act->selection = NULL;
    nw_solid_free(selection);
    return done;
}

/* Says how much was left as it is, if anything was. */
static void tell_refused(NwDocument *document, const NwEditCommand *act) {
    if (act->refused == 0)
        return;
    nw_command_take_told(
        document,
        g_strdup_printf(
            ngettext("%zu part was not changed: locked, outside, or no room on every copy.",
                     "%zu parts were not changed: locked, outside, or no room on every copy.",
                     act->refused),
            act->refused));
}

static NwStatus run_give(NwEdit *edit, const NwEditCommand *act) {
    return nw_edit_give(edit, act->selection, act->piece);
}

gboolean nw_command_give_selection(NwDocument *document, int piece) {
    NwEditCommand act = {.run = run_give, .piece = piece};
    if (!nw_command_may_change(document, piece))
        return FALSE;
    char *note =
        g_strdup_printf(_("Selection to piece %s"), nw_command_piece(document, piece)->name);
    gboolean done = perform(document, note, &act);
    g_free(note);
    if (done)
        tell_refused(document, &act);
    return done;
}

static NwStatus run_take(NwEdit *edit, const NwEditCommand *act) {
    return nw_edit_take(edit, act->selection);
}

gboolean nw_command_take_selection(NwDocument *document) {
    NwEditCommand act = {.run = run_take};
    gboolean done = perform(document, _("Selection left over"), &act);
    if (done)
        tell_refused(document, &act);
    return done;
}

static NwStatus run_trade(NwEdit *edit, const NwEditCommand *act) {
    return nw_edit_trade(edit, act->selection, act->piece, act->other);
}

gboolean nw_command_trade(NwDocument *document, int a, int b) {
    NwEditCommand act = {
        .run = run_trade,
        .piece = a,
        .other = b,
        .why = _("Some copy of a piece has no room for what it would get. Select less, "
                 "then try again.")};
    if (a == b || !nw_command_may_change(document, a) || !nw_command_may_change(document, b))
        return FALSE;
    char *note =
        g_strdup_printf(_("Trade between pieces %s and %s"), nw_command_piece(document, a)->name,
                        nw_command_piece(document, b)->name);
    gboolean done = perform(document, note, &act);
    g_free(note);
    return done;
}

static NwStatus run_new(NwEdit *edit, const NwEditCommand *act) {
    NwStatus status = nw_edit_new_piece(edit, NULL, act->selection);
    nw_piece_colours_keep(edit->design);
    return status;
}

gboolean nw_command_new_piece_of_selection(NwDocument *document) {
    NwEditCommand act = {.run = run_new};
    if (!perform(document, _("New piece from the selection"), &act))
        return FALSE;
    nw_command_choose_last(document);
    tell_refused(document, &act);
    return TRUE;
}

static NwStatus run_may_be_empty(NwEdit *edit, const NwEditCommand *act) {
    const NwSolid *now = edit->design->may_be_empty;
    NwSolid *wanted =
        act->other ? nw_solid_union(now, act->selection) : nw_solid_difference(now, act->selection);
    NwStatus status = nw_edit_set_may_be_empty(edit, wanted);
    nw_solid_free(wanted);
    return status;
}

gboolean nw_command_set_may_be_empty(NwDocument *document, gboolean may_be_empty) {
    NwEditCommand act = {.run = run_may_be_empty, .other = may_be_empty};
    return perform(document,
                   may_be_empty ? _("Selection may stay empty") : _("Selection must be filled"),
                   &act);
}

/* ---- the selection changes ----------------------------------------------------------------- */

void nw_selection_clear(NwDocument *document) {
    nw_document_take_selection(document, nw_solid_new());
}

void nw_selection_set_piece(NwDocument *document, int piece) {
    if (!nw_command_piece(document, piece))
        return;
    const NwDesign *design = nw_document_get_design(document);
    NwSolid *selection = nw_solid_new();
    NwBodies bodies;
    if (nw_bodies_of(design, &bodies) == NW_OK)
        for (size_t b = 0; b < bodies.count; b++) {
            if (bodies.placements[b].piece != piece)
                continue;
            NwSolid *more = nw_solid_union(selection, bodies.solids[b]);
            nw_solid_free(selection);
            selection = more;
        }
    nw_bodies_clear(&bodies);
    nw_document_take_selection(document, selection);
}

void nw_selection_set_rest(NwDocument *document) {
    if (nw_document_get_design(document))
        nw_document_take_selection(document, nw_design_rest(nw_document_get_design(document)));
}

void nw_selection_set_others(NwDocument *document) {
    if (nw_document_get_design(document))
        nw_document_take_selection(document,
                                   nw_solid_difference(nw_document_get_design(document)->envelope,
                                                       nw_document_get_selection(document)));
}

void nw_selection_carry(NwDocument *document, NwMotion symmetry, gboolean join) {
    if (!nw_document_get_design(document))
        return;
    const NwSolid *before = nw_document_get_selection(document);
    NwSolid *image;
    if (nw_solid_moved(before, symmetry, &image) != NW_OK) {
        nw_command_tell(
            document,
            _("This symmetry works only with whole cells. Select whole cells, then try again."));
        return;
    }
    if (join) {
        NwSolid *both = nw_solid_union(before, image);
        nw_solid_free(image);
        image = both;
    }
    nw_document_take_selection(document, image);
}

void nw_selection_make_symmetric(NwDocument *document) {
    const NwDesign *design = nw_document_get_design(document);
    if (!design)
        return;
    NwMotion symmetries[NW_TURNS];
    int count = nw_design_symmetries(design, true, symmetries);
    nw_document_take_selection(
        document,
        nw_brush_symmetric(design, nw_document_get_selection(document), symmetries, count));
}
