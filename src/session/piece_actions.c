#include "session/piece_actions.h"

#include <glib/gi18n.h>

#include "design/congruent.h"
#include "design/edit_piece.h"
#include "design/edit_spread.h"
#include "design/symmetry_name.h"
#include "session/edit_command.h"
#include "session/piece_colours.h"

/* ---- pieces come and go -------------------------------------------------------------------- */

static NwStatus run_new(NwEdit *edit, const NwEditCommand *act G_GNUC_UNUSED) {
    NwStatus status = nw_edit_new_empty_piece(edit, NULL);
    nw_piece_colours_keep(edit->design);
    return status;
}

gboolean nw_command_new_piece(NwDocument *document) {
    NwEditCommand act = {.run = run_new};
    if (!nw_document_get_design(document) || !nw_command_perform(document, _("New piece"), &act))
        return FALSE;
    nw_command_choose_last(document);
    return TRUE;
}

static NwStatus run_delete(NwEdit *edit, const NwEditCommand *act) {
    nw_piece_colours_keep(edit->design);
    return nw_edit_delete(edit, act->piece);
}

gboolean nw_command_delete(NwDocument *document, int piece) {
    NwEditCommand act = {.run = run_delete, .piece = piece};
    return nw_command_may_change(document, piece) &&
           nw_command_perform_on(document, _("Delete piece %s"), &act);
}

/* New pieces come coloured after their pattern; on the bench each is to be told from the others. */
static NwStatus with_own_colours(NwEdit *edit, NwStatus status) {
    NwDesign *design = edit->design;
    for (size_t p = design->piece_count - edit->created; p < design->piece_count; p++)
        design->pieces[p].colour[0] = '\0';
    nw_piece_colours_keep(design);
    return status;
}

static NwStatus run_duplicate(NwEdit *edit, const NwEditCommand *act) {
    return with_own_colours(edit, nw_edit_duplicate(edit, act->piece));
}

gboolean nw_command_duplicate(NwDocument *document, int piece) {
    NwEditCommand act = {.run = run_duplicate,
                         .piece = piece,
                         .why = _("The unused parts have no room for another copy. Remove parts "
                                  "from other pieces, then try again.")};
    if (!nw_command_piece(document, piece) ||
        !nw_command_perform_on(document, _("Duplicate piece %s"), &act))
        return FALSE;
    nw_command_choose_last(document);
    return TRUE;
}

static NwStatus run_mirror(NwEdit *edit, const NwEditCommand *act) {
    return with_own_colours(edit, nw_edit_mirror(edit, act->piece));
}

gboolean nw_command_mirror(NwDocument *document, int piece) {
    NwEditCommand act = {
        .run = run_mirror,
        .piece = piece,
        .why = _("What is left over has no room for the mirror image. Take parts from "
                 "other pieces, then try again.")};
    if (!nw_command_piece(document, piece) ||
        !nw_command_perform_on(document, _("Mirror image of piece %s"), &act))
        return FALSE;
    nw_command_choose_last(document);
    return TRUE;
}

static NwStatus run_spread(NwEdit *edit, const NwEditCommand *act) {
    NwMotion motions[NW_TURNS];
    int count = nw_design_symmetries(edit->design, false, motions);
    nw_piece_colours_keep(edit->design);
    NwStatus status = nw_edit_spread(edit, act->piece, motions, count);
    return status == NW_OK && edit->created == 0 ? NW_DOES_NOT_FIT : status;
}

gboolean nw_command_spread(NwDocument *document, int piece) {
    NwEditCommand act = {.run = run_spread,
                         .piece = piece,
                         .why =
                             _("No symmetry of the outside shape takes this piece to unused parts. "
                               "Remove the parts it needs from other pieces, then try again.")};
    return nw_command_piece(document, piece) &&
           nw_command_perform_on(document, _("Spread piece %s"), &act);
}

static NwStatus run_merge(NwEdit *edit, const NwEditCommand *act G_GNUC_UNUSED) {
    nw_piece_colours_keep(edit->design);
    return nw_edit_merge_congruent(edit);
}

/* Where the chosen piece will be in the list, if no piece is locked; -1 where none is chosen. */
static int find_heir(NwDocument *document) {
    const NwDesign *design = nw_document_get_design(document);
    int chosen = nw_document_get_piece(document), heir = 0;
    if (!nw_command_piece(document, chosen))
        return -1;
    g_autofree int *first = g_new(int, design->piece_count);
    nw_design_congruent(design, first);
    for (int p = 0; p < first[chosen]; p++)
        heir += first[p] == p;
    return heir;
}

gboolean nw_command_merge_congruent(NwDocument *document) {
    NwEditCommand act = {.run = run_merge};
    if (!nw_document_get_design(document))
        return FALSE;
    int heir = find_heir(document);
    if (!nw_command_perform(document, _("Make copies"), &act))
        return FALSE;
    nw_document_set_piece(document, heir);
    if (act.refused)
        nw_command_tell(document, _("Locked pieces were left as they are. Unlock them to make them "
                                    "copies too."));
    return TRUE;
}

static NwStatus run_split_rest(NwEdit *edit, const NwEditCommand *act G_GNUC_UNUSED) {
    NwStatus status = nw_edit_split_rest(edit, false);
    nw_piece_colours_keep(edit->design);
    return status == NW_OK && edit->created == 0 ? NW_DOES_NOT_FIT : status;
}

gboolean nw_command_split_rest(NwDocument *document) {
    NwEditCommand act = {
        .run = run_split_rest,
        .why = _("There are no unused parts to split. Remove parts from a piece first.")};
    return nw_document_get_design(document) &&
           nw_command_perform(document, _("Split what is left over"), &act);
}

/* ---- their particulars --------------------------------------------------------------------- */

static NwStatus run_reorder(NwEdit *edit, const NwEditCommand *act) {
    nw_piece_colours_keep(edit->design);
    return nw_edit_reorder(edit, act->piece, act->other);
}

gboolean nw_command_reorder(NwDocument *document, int piece, int to) {
    NwEditCommand act = {.run = run_reorder, .piece = piece, .other = to};
    if (piece == to || !nw_command_piece(document, to) || !nw_command_may_change(document, piece) ||
        !nw_command_perform_on(document, _("Move piece %s in the list"), &act))
        return FALSE;
    nw_document_set_piece(document, to);
    return TRUE;
}

static NwStatus run_rename(NwEdit *edit, const NwEditCommand *act) {
    return nw_edit_rename(edit, act->piece, act->text);
}

gboolean nw_command_rename(NwDocument *document, int piece, const char *name) {
    NwEditCommand act = {.run = run_rename, .piece = piece, .text = name};
    if (!nw_command_may_change(document, piece) ||
        g_strcmp0(nw_command_piece(document, piece)->name, name) == 0 ||
        !nw_command_perform_on(document, _("Rename piece %s"), &act))
        return FALSE;
    if (!act.refused)
        return TRUE;
    nw_command_take_told(
        document,
        *name ? g_strdup_printf(_("There is already a piece called %s. Choose another name."), name)
              : g_strdup(_("A piece needs a name. Type at least one letter.")));
    return FALSE;
}

static NwStatus run_recolour(NwEdit *edit, const NwEditCommand *act) {
    return nw_edit_recolour(edit, act->piece, act->text);
}

gboolean nw_command_recolour(NwDocument *document, int piece, const char *colour) {
    NwEditCommand act = {.run = run_recolour, .piece = piece, .text = colour};
    return nw_command_may_change(document, piece) &&
           g_strcmp0(nw_command_piece(document, piece)->colour, colour) != 0 &&
           nw_command_perform_on(document, _("Colour of piece %s"), &act);
}

static NwStatus run_set_copies(NwEdit *edit, const NwEditCommand *act) {
    return nw_edit_set_copies(edit, act->piece, act->other);
}

gboolean nw_command_set_copies(NwDocument *document, int piece, int copies) {
    NwEditCommand act = {
        .run = run_set_copies,
        .piece = piece,
        .other = copies,
        .why = _("What is left over has no room for that many copies. Take parts from "
                 "other pieces, then try again.")};
    return nw_command_may_change(document, piece) &&
           nw_command_piece(document, piece)->copies != copies &&
           nw_command_perform_on(document, _("Copies of piece %s"), &act);
}
