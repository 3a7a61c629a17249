/* Sketching: parts change hands.
 *
 * An edit names a design, the pieces that are locked, and says afterwards what came of it. A
 * *selection* is a solid in the frame of the envelope, from a brush (brush.h) or elsewhere. An
 * operation does as much of what it is asked as it may:
 *
 *   - what lies outside the envelope, or belongs to a locked piece, is left as it is and counted
 *     in `refused`; that is no failure;
 *   - a piece with several copies is one shape: what is done on one body is done on all of them
 *     (bodies.h). A part is given only if each copy has room for its own image of it: inside the
 *     envelope, and not in another copy of the piece or in a locked piece. Parts are tried one by
 *     one in the order of the solid, so the answer is always the same;
 *   - a piece with a copy at an odd shift changes by whole cells: NW_OFF_LATTICE for less.
 *
 * Bodies that share no part before share none after. Pieces may end up empty or in lumps: a sketch
 * goes through such states, and faults.h and warnings.h name them.
 *
 * Piece arguments must be indices of pieces, of which there are NW_PIECES_MAX at most. Thread: one
 * writer. On a status other than NW_OK the design is as it was, and so are all counts but
 * `refused`, which is 0. */
#ifndef NW_DESIGN_EDIT_H
#define NW_DESIGN_EDIT_H

#include <stdint.h>

#include "design/design.h"

typedef struct NwEdit {
    NwDesign *design; /* borrowed; its contents change */
    uint64_t locked;  /* bit i: piece i must not change; kept in step when pieces move */
    size_t changed;   /* parts that pieces won or lost, counted once for each piece */
    size_t refused;   /* what was asked for and left as it is: parts, or else as stated */
    size_t created;   /* new pieces, which come last in the design */
} NwEdit;

static inline bool nw_edit_is_locked(const NwEdit *edit, int piece) {
    return edit->locked >> piece & 1;
}

/* Gives the selection to a piece; other pieces lose it. */
NwStatus nw_edit_give(NwEdit *edit, const NwSolid *selection, int piece);

/* Takes the selection from whatever pieces have it. */
NwStatus nw_edit_take(NwEdit *edit, const NwSolid *selection);

/* What `a` has of the selection goes to `b`, and what `b` has of it to `a`: all of it or nothing.
 * NW_DOES_NOT_FIT when some part has no room for all its images in the other piece. */
NwStatus nw_edit_trade(NwEdit *edit, const NwSolid *selection, int a, int b);

/* Inner part of the files edit_*.c: an operation works on a draft, a copy of the design, and ends
 * by committing it: after NW_OK the draft becomes the design, and the counts are new. Frees the
 * draft. Returns `status`. */
typedef struct NwDraft {
    NwDesign *design;
    NwEdit counts;
} NwDraft;

NwDraft nw_draft_begin(const NwEdit *edit);
NwStatus nw_draft_commit(NwEdit *edit, NwDraft draft, NwStatus status);

/* Takes the parts from every unlocked piece that has them, and adds to `changed`. */
NwStatus nw_draft_take(NwDraft *draft, const NwSolid *selection);

/* Gives parts to a piece, adding to `changed`; other pieces lose them unless locked. */
NwStatus nw_draft_give(NwDraft *draft, const NwSolid *selection, int piece);

#endif
