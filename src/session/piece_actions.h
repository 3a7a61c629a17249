/* What the maker can do to pieces: the kernel's edits (design/edit*.h) as acts on the document,
 * each with the note that undo shows and, where it cannot be done, a sentence that says why and
 * what to do, sent as the document's "trouble".
 *
 * Every act answers whether the design is another one now. Locked pieces stay as they are, and an
 * index that is no piece does nothing. Thread: the main one. */
#ifndef NW_SESSION_PIECE_ACTIONS_H
#define NW_SESSION_PIECE_ACTIONS_H

#include "session/document.h"

/* An empty piece, which becomes the chosen one. */
gboolean nw_command_new_piece(NwDocument *document);
gboolean nw_command_delete(NwDocument *document, int piece);
gboolean nw_command_duplicate(NwDocument *document, int piece);
gboolean nw_command_mirror(NwDocument *document, int piece);
gboolean nw_command_reorder(NwDocument *document, int piece, int to);
gboolean nw_command_rename(NwDocument *document, int piece, const char *name);
gboolean nw_command_recolour(NwDocument *document, int piece, const char *colour);
gboolean nw_command_set_copies(NwDocument *document, int piece, int copies);

/* Copies of a piece at its images under the turns of the outside shape. */
gboolean nw_command_spread(NwDocument *document, int piece);

/* Pieces of the same shape become copies of the first of them. */
gboolean nw_command_merge_congruent(NwDocument *document);

/* Every lump of what is left over becomes a piece. */
gboolean nw_command_split_rest(NwDocument *document);

#endif
