/* The nets of a whole design on pages, each with a foot: title, key to the lines, a 50 mm ruler.
 *
 * Millimetres. Ownership: the caller frees the pages. Thread: any. */
#ifndef NW_MAKE_CARD_NET_PAGES_H
#define NW_MAKE_CARD_NET_PAGES_H

#include "make/card/net.h"

#define NW_RULER_MM 50.0
#define NW_RULER_ABOVE_MM 12.3 /* its line stands so far above the lower margin */

typedef struct NwNetPages {
    NwPlot **pages;
    size_t count;
    size_t nets, tabs, bare; /* in all, as drawn */
    size_t more;             /* nets beyond the fewest there can be */
} NwNetPages;

NwNetPages *nw_net_pages_new(const NwDesign *design, const NwNetOptions *options, GError **error);
void nw_net_pages_free(NwNetPages *pages); /* NULL is allowed */

#endif
