/* One row of the list of pieces: its colour, name, copies, volume, marks, and whether it is hidden,
 * locked or shown alone. What the maker changes goes through the document at once; the row shows
 * what the document says afterwards.
 *
 * Thread: the main one. Ownership: the row keeps a reference to the document. */
#ifndef NW_APP_BENCH_PIECE_ROW_H
#define NW_APP_BENCH_PIECE_ROW_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_PIECE_ROW (nw_piece_row_get_type())
G_DECLARE_FINAL_TYPE(NwPieceRow, nw_piece_row, NW, PIECE_ROW, GtkListBoxRow)

GtkWidget *nw_piece_row_new(NwViewState *view_state, int piece);
int nw_piece_row_get_piece(NwPieceRow *self);

/* Shows the piece as the document has it now; `fits`: whether it goes into the outside shape. */
void nw_piece_row_update(NwPieceRow *self, gboolean fits);

/* Begins to edit the name. */
void nw_piece_row_rename(NwPieceRow *self);

G_END_DECLS

#endif
