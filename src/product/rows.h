/* The rows of the table in product.c, a file each; and what several of them take.
 * Thread: any, all is constant. */
#ifndef NW_PRODUCT_ROWS_H
#define NW_PRODUCT_ROWS_H

#include "product/product.h"

extern const NwProduct nw_product_nets;

/* The papers that the option "paper" chooses from, in the order of paper.h. */
enum { NW_PAPER_CHOICES = 3 };
extern const NwChoice nw_paper_choices[NW_PAPER_CHOICES];

#endif
