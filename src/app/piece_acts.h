/* What the maker can do to pieces: the kernel's edits (design/edit*.h) as acts on the document,
 * each with the note that undo shows and, where it cannot be done, a sentence that says why and
 * what to do, sent as the document's "trouble".
 *
 * Every act answers whether the design is another one now. Locked pieces stay as they are, and an
 * index that is no piece does nothing. Thread: the main one. */
#ifndef NW_APP_PIECE_ACTS_H
#define NW_APP_PIECE_ACTS_H

#include "app/document.h"

/* An empty piece, which becomes the chosen one. */
gboolean nw_act_new_piece(NwDocument *document);
gboolean nw_act_delete(NwDocument *document, int piece);
gboolean nw_act_duplicate(NwDocument *document, int piece);
gboolean nw_act_mirror(NwDocument *document, int piece);
gboolean nw_act_reorder(NwDocument *document, int piece, int to);
gboolean nw_act_rename(NwDocument *document, int piece, const char *name);
gboolean nw_act_recolour(NwDocument *document, int piece, const char *colour);
gboolean nw_act_set_copies(NwDocument *document, int piece, int copies);

/* Copies of a piece at its images under the turns of the outside shape. */
gboolean nw_act_spread(NwDocument *document, int piece);

/* Pieces of the same shape become copies of the first of them. */
gboolean nw_act_merge_congruent(NwDocument *document);

/* Every lump of what is left over becomes a piece. */
gboolean nw_act_split_rest(NwDocument *document);

#endif
