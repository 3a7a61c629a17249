/* What a product came to: sentences for the maker, and cautions for the tools it leads to.
 * Ownership: whoever makes it frees it; texts are copied. Thread: one at a time. */
#ifndef NW_PRODUCT_MADE_H
#define NW_PRODUCT_MADE_H

#include <glib.h>

#include "product/product.h"

struct NwMade {
    GPtrArray *paths;    /* what was written, once it is */
    GPtrArray *remarks;  /* sentences about it, such as how a piece lies on the bed */
    GPtrArray *cautions; /* tools, small parts, sharp tips */
};

NwMade *nw_made_new(void);
void nw_made_free(NwMade *made); /* NULL is allowed */

/* Both take over `text`, which may be NULL: nothing is added then. */
void nw_made_take_remark(NwMade *made, char *text);
void nw_made_take_caution(NwMade *made, char *text);

#endif
