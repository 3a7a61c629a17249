/* A row of the list of products: its title, and what it is in a sentence. Thread: the main one. */
#ifndef NW_APP_MAKING_PRODUCT_ROW_H
#define NW_APP_MAKING_PRODUCT_ROW_H

#include <gtk/gtk.h>

#include "export/product.h"

/* The product is borrowed; all are constant. */
GtkWidget *nw_product_row_new(const NwProduct *product);
const NwProduct *nw_product_row_get(GtkWidget *row);

#endif
