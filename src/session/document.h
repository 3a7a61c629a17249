/* The design on the bench: what every panel of the window looks at and works on.
 *
 * It holds the design as it is now, in the frame of the envelope (each piece stands where it goes
 * in the intended assembly), writes every change into the store as it is made, and undoes and
 * redoes. A stroke of the brush is one change, however many parts it touches. Beside the design it
 * holds what the maker is pointing at: the chosen piece, the selection, the brush, and which
 * pieces are hidden or locked.
 *
 * Whoever shows one of its properties listens to notify::NAME of that one:
 *
 *   design         other parts, or another design: each touch of a stroke too
 *   version        another version or another design, after "design": undo, a stroke when it ends
 *   gone           somebody else has removed the design from the store, or it is gone no longer
 *   piece, selection, touch, brush
 *                  what the maker points with
 *   shown, locked  pieces, by their flags and the solo
 *
 * When "version" is told of, whoever held something of the design as it was has let go of it.
 * Signal: "trouble" (message), something could not be done or saved; to be shown to the maker.
 * Thread: the main one. */
#ifndef NW_SESSION_DOCUMENT_H
#define NW_SESSION_DOCUMENT_H

#include <glib-object.h>

#include "design/design.h"
#include "store/designs.h"

G_BEGIN_DECLS

#define NW_TYPE_DOCUMENT (nw_document_get_type())
G_DECLARE_FINAL_TYPE(NwDocument, nw_document, NW, DOCUMENT, GObject)

typedef enum NwBrush {
    NW_BRUSH_PART,   /* one part */
    NW_BRUSH_CELL,   /* all parts of a cell */
    NW_BRUSH_REGION, /* everything in the layer of the cutting plane */
    NW_BRUSH_FILL,   /* connected parts of one owner */
    NW_BRUSH_COUNT
} NwBrush;

/* What a stroke does with the parts under it. */
typedef enum NwTouch {
    NW_TOUCH_GIVE,     /* to the chosen piece */
    NW_TOUCH_TAKE,     /* from whatever piece has them, so that they are left over */
    NW_TOUCH_SELECT,   /* into the selection */
    NW_TOUCH_UNSELECT, /* out of it */
    NW_TOUCH_LOOK,     /* nothing: the hand turns the view, or moves the board */
} NwTouch;

typedef enum NwPieceFlag { NW_PIECE_HIDDEN = 1, NW_PIECE_LOCKED = 2 } NwPieceFlag;

/* The library is borrowed. */
NwDocument *nw_document_new(NwLibrary *library);
NwLibrary *nw_document_get_library(NwDocument *self);

/* Opens a design of the store, or adds one (a copy is taken) and opens it: to be looked at if its
 * pieces have parts already, else to be painted. */
gboolean nw_document_open(NwDocument *self, const char *name, GError **error);
gboolean nw_document_create(NwDocument *self, const NwDesign *design, GError **error);

/* Lets go of the design, which is no longer in the store. */
void nw_document_close(NwDocument *self);

/* Looks whether the design is still in the store. One that is gone stays on the bench with all that
 * was done to it, and can be edited on, but is saved no more and has no history; whoever wants to
 * keep it creates it anew. */
void nw_document_look(NwDocument *self);
gboolean nw_document_is_gone(NwDocument *self);

/* The design as it is now; borrowed until notify::design. NULL before the first is opened. */
const NwDesign *nw_document_get_design(NwDocument *self);
gint64 nw_document_get_design_id(NwDocument *self);

/* The version that the store has of it. Below 0, and another number after each edit, while it could
 * not be saved: then the store has nothing that belongs to it, and undo goes back to what it has.
 */
gint64 nw_document_get_version(NwDocument *self);

/* ---- changing it ---- */

/* An edit works on a copy. If it returns NW_OK the copy becomes the design and is saved as a
 * version with the note `what` (translated, shown by undo); otherwise nothing has changed. */
typedef NwStatus NwDocumentEdit(NwDesign *design, gpointer data);
gboolean nw_document_apply(NwDocument *self, const char *what, NwDocumentEdit *edit, gpointer data);

/* A stroke: begin, touch parts any number of times, end. Each touch shows at once; the version is
 * written at the end; `cancel` takes it back. The parts are in the frame of the envelope. */
void nw_document_begin_stroke(NwDocument *self, NwTouch touch);
void nw_document_touch(NwDocument *self, const NwSolid *parts);
void nw_document_end_stroke(NwDocument *self);
void nw_document_cancel_stroke(NwDocument *self);
gboolean nw_document_in_stroke(NwDocument *self);

/* What undo or redo would do, as its note; NULL: nothing. The caller frees. */
char *nw_document_dup_undo(NwDocument *self);
char *nw_document_dup_redo(NwDocument *self);
gboolean nw_document_undo(NwDocument *self);
gboolean nw_document_redo(NwDocument *self);

/* Goes to another version of this design. */
gboolean nw_document_go_to_version(NwDocument *self, gint64 version);

/* ---- pointing at it ---- */

int nw_document_get_piece(NwDocument *self); /* -1: none */
void nw_document_set_piece(NwDocument *self, int piece);

const NwSolid *nw_document_get_selection(NwDocument *self); /* borrowed, perhaps empty */
void nw_document_take_selection(NwDocument *self, NwSolid *selection);

/* What a stroke does when no key says otherwise. */
NwTouch nw_document_get_touch(NwDocument *self);
void nw_document_set_touch(NwDocument *self, NwTouch touch);

/* From looking to giving, for who means to paint; any other touch stays. */
void nw_document_take_brush(NwDocument *self);

NwBrush nw_document_get_brush(NwDocument *self);
void nw_document_set_brush(NwDocument *self, NwBrush brush);

/* Flags and solo go with the name of a piece, so they stay with it when pieces move. */
guint nw_document_get_flags(NwDocument *self, int piece); /* of NwPieceFlag */
void nw_document_set_flag(NwDocument *self, int piece, NwPieceFlag flag, gboolean on);

/* The one piece that is shown alone, or -1. */
int nw_document_get_solo(NwDocument *self);
void nw_document_set_solo(NwDocument *self, int piece);

/* Whether a piece is to be drawn, by its flag and the solo. */
gboolean nw_document_shows(NwDocument *self, int piece);

guint64 nw_document_get_shown(NwDocument *self); /* bit p for every piece p that is */

/* Bit p for every locked piece p, as design/edit.h takes it. */
guint64 nw_document_get_locked(NwDocument *self);

G_END_DECLS

#endif
