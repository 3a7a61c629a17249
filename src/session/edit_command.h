/* How an act goes through the document: run the kernel's edit on its copy, tell what went wrong.
 * Shared by piece_actions.c and selection_actions.c. Thread: the main one. */
#ifndef NW_SESSION_EDIT_COMMAND_H
#define NW_SESSION_EDIT_COMMAND_H

#include "design/edit.h"
#include "session/document.h"

typedef struct NwEditCommand {
    NwStatus (*run)(NwEdit *edit, const struct NwEditCommand *act);
    int piece, other; /* `other`: a piece, a place in the list, or a number */
    const char *text;
    const NwSolid *selection;
    const char *why; /* the sentence for NW_DOES_NOT_FIT, or NULL for a general one */
    /* Afterwards: */
    guint64 locked;
    NwStatus status;
    size_t changed, refused, created;
} NwEditCommand;

/* Runs the act with a note for undo; tells of a failure. Returns whether it was NW_OK. */
gboolean nw_command_perform(NwDocument *document, const char *note, NwEditCommand *act);

/* The same with a note that names a piece: `format` has one %s. */
gboolean nw_command_perform_on(NwDocument *document, const char *format, NwEditCommand *act);

/* Sends a sentence as the document's "trouble"; `take` frees it. */
void nw_command_tell(NwDocument *document, const char *sentence);
void nw_command_take_told(NwDocument *document, char *sentence);

/* The piece, or NULL if there is no such piece. */
const NwPiece *nw_command_piece(NwDocument *document, int piece);

/* Whether there is such a piece and it is not locked; tells if it is. */
gboolean nw_command_may_change(NwDocument *document, int piece);

/* Chooses the piece that has just come, which is the last. */
void nw_command_choose_last(NwDocument *document);

#endif
