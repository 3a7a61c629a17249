/* A row for one option of a product: its label, and a control that fits its kind: a spin button
 * within the bounds, a switch, or a list of choices. The row of the product says all; nothing here
 * knows a product.
 *
 * Signals:
 *   "changed"  the maker chose another value
 * Thread: the main one. */
#ifndef NW_APP_MAKING_OPTION_ROW_H
#define NW_APP_MAKING_OPTION_ROW_H

#include <gtk/gtk.h>

#include "export/product.h"

G_BEGIN_DECLS

#define NW_TYPE_OPTION_ROW (nw_option_row_get_type())
G_DECLARE_FINAL_TYPE(NwOptionRow, nw_option_row, NW, OPTION_ROW, GtkWidget)

/* The option is borrowed and must outlive the row. A number; of a switch 0 or 1; of a choice its
 * index. */
GtkWidget *nw_option_row_new(const NwOption *option, double value);

const NwOption *nw_option_row_get_option(NwOptionRow *self);

/* What stands there, also what was typed and not yet entered. */
double nw_option_row_get_value(NwOptionRow *self);

G_END_DECLS

#endif
