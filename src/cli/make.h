/* The products of `notch make`. argv[0] is the product's name. */
#ifndef NW_CLI_MAKE_H
#define NW_CLI_MAKE_H

#include "cli/verb.h"
#include "export/product.h"

/* Makes a row of the products' table, with options as the row has them. */
NwExit nw_make_product(const NwProduct *product, int argc, char **argv);

#endif
