/* The table of products, a file each. Thread: any; all is constant. */
#ifndef NW_EXPORT_PRODUCTS_H
#define NW_EXPORT_PRODUCTS_H

#include "export/product.h"

/* Row `index`, NULL past the end; and the row of that name, or NULL. */
const NwProduct *nw_product(size_t index);
const NwProduct *nw_product_find(const char *name);

/* The rows. */
extern const NwProduct nw_product_mesh, nw_product_nets, nw_product_cuts;
extern const NwProduct nw_product_sheet; /* in builds with pictures */

#endif
