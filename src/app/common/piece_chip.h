/* A chip for a piece: a small rounded field of its colour with its short name on it. To a screen
 * reader it is an image with the whole name. */
#ifndef NW_APP_COMMON_PIECE_CHIP_H
#define NW_APP_COMMON_PIECE_CHIP_H

#include <gtk/gtk.h>

#include "design/design.h"

G_BEGIN_DECLS

#define NW_TYPE_PIECE_CHIP (nw_piece_chip_get_type())
G_DECLARE_FINAL_TYPE(NwPieceChip, nw_piece_chip, NW, PIECE_CHIP, GtkWidget)

/* For copy `copy` (from 0) of a piece. `name` is its whole name, "C (2)"; the chip says "C2". */
GtkWidget *nw_piece_chip_new(const NwDesign *design, int piece, int copy, const char *name);

G_END_DECLS

#endif
