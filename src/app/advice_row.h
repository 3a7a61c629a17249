/* A row for one proposal: what changes, how it kills, what is left, and how it was proved. Its
 * button activates "block.apply" with the number of the row. Thread: the main one. */
#ifndef NW_APP_ADVICE_ROW_H
#define NW_APP_ADVICE_ROW_H

#include <gtk/gtk.h>

#include "app/stage.h"

/* `number` counts from 0. */
GtkWidget *nw_advice_row_new(NwAdvice *advice, NwStage *stage, guint number);

/* The proposal of a row; borrowed. */
NwAdvice *nw_advice_row_get(GtkWidget *row);

#endif
