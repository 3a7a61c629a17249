/* The nets of one piece, dressed for card: lines to cut and fold, tabs, letters, numbers.
 *
 * The unfolding (unfold.h) is drawn as seen from outside. A fold is a mountain where the piece is
 * convex and a valley in a groove, and carries the dihedral angle inside the piece. Every edge that
 * was cut open carries a letter on both of its sides, and a tab on one of them, where there is room
 * for one beside its own net: the deepest of a few shapes, on either side. An edge that has no room
 * for a tab is counted, and is to be glued edge to edge. A tab is never deeper than 0.35 of the
 * edge or of a cell, so it lies flat on the face that it is glued to, which is at least 0.7 deep.
 *
 * Thickness. The middle of folded card follows the printed line, so its outside stands half a
 * thickness proud on every face. The nets are therefore drawn of the piece with every face moved in
 * (inset.h) by the whole thickness, half for that and half for play, and by the clearance asked
 * for: pieces whose faces met are then apart by the thickness plus twice the clearance.
 *
 * Millimetres. Thread: any. */
#ifndef NW_MAKE_CARD_NET_H
#define NW_MAKE_CARD_NET_H

#include <glib.h>

#include "design/design.h"
#include "make/paper.h"
#include "make/plot.h"
#include "make/progress.h"

typedef struct NwNetOptions {
    double cell_mm;
    double card_mm;      /* thickness of the card */
    double clearance_mm; /* more play, per side */
    double tab_mm;       /* depth of tabs, at most */
    const NwPaperSize *paper;
    bool once;            /* draw every piece once, however many copies it has */
    NwProgress *progress; /* or NULL */
} NwNetOptions;

/* One piece: a plot for each net, as large as it needs. */
typedef struct NwPieceNets {
    NwPlot **plots;
    size_t count;
    size_t shells; /* the fewest there can be */
    size_t tabs;   /* edges with a tab */
    size_t bare;   /* edges to be glued without one */
    size_t faces;
} NwPieceNets;

/* NULL with an error (G_IO_ERROR_INVALID_ARGUMENT) where a face is too small for the card or too
 * large for the paper; it says which, and what to change. Or it was stopped (progress.h). */
NwPieceNets *nw_piece_nets_new(const NwPiece *piece, const NwNetOptions *options, GError **error);
void nw_piece_nets_free(NwPieceNets *nets); /* NULL is allowed */

#endif
