/* What the maker can do with the selection. Acts on the design go through the document as in
 * piece_actions.h; changes of the selection itself are no versions of the design.
 * Thread: the main one. */
#ifndef NW_SESSION_SELECTION_ACTIONS_H
#define NW_SESSION_SELECTION_ACTIONS_H

#include "session/document.h"

/* ---- the design changes ---- */

gboolean nw_command_give_selection(NwDocument *document, int piece);
gboolean nw_command_take_selection(NwDocument *document);

/* What each of two pieces has of the selection goes to the other. */
gboolean nw_command_trade(NwDocument *document, int a, int b);
gboolean nw_command_new_piece_of_selection(NwDocument *document);
gboolean nw_command_set_may_be_empty(NwDocument *document, gboolean may_be_empty);

/* ---- the selection changes ---- */

void nw_selection_clear(NwDocument *document);
void nw_selection_set_piece(NwDocument *document, int piece); /* all that the piece has */
void nw_selection_set_rest(NwDocument *document);             /* all that is left over */
void nw_selection_set_others(NwDocument *document);           /* all that is not selected */

/* Carried to its image under a symmetry of the outside shape, or joined by it. */
void nw_selection_carry(NwDocument *document, NwMotion symmetry, gboolean join);

/* Joined by its images under all of them. */
void nw_selection_make_symmetric(NwDocument *document);

#endif
