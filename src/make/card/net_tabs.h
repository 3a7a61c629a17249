/* Dressing an unfolding: which edges get tabs, and where everything stands once each net is turned
 * to lie well on the page. net.h says what it is for; net.c draws it.
 *
 * Millimetres, in the frame of each net as turned. Ownership: `free` frees. Thread: any. */
#ifndef NW_MAKE_CARD_NET_TABS_H
#define NW_MAKE_CARD_NET_TABS_H

#include "make/card/unfold.h"

typedef struct NwTab {
    size_t face; /* it grows from this face's side; NW_NO_EDGE: there is none */
    NwRegion region;
} NwTab;

typedef struct NwNetTabs {
    const NwPieceFaces *faces;
    const NwNets *nets;
    double cell_mm;
    int *turns;        /* of each net, times 15 degrees */
    NwRegion *regions; /* of each face */
    bool *folded;      /* each edge: whether it is a fold */
    NwTab *tabs;       /* of each edge */
} NwNetTabs;

NwNetTabs *nw_net_tabs_new(const NwPieceFaces *faces, const NwNets *nets,
                           const NwUnfoldOptions *options, double tab_mm);
void nw_net_tabs_free(NwNetTabs *tabs); /* NULL is allowed */

/* A point of the face's own frame, in that of its net. */
NwPoint nw_net_tabs_point(const NwNetTabs *tabs, size_t face, NwPoint own);

/* The inset side that the face has on an edge. */
NwStretch nw_net_tabs_side(const NwNetTabs *tabs, size_t face, size_t edge);

/* A point well inside the face. */
NwPoint nw_net_tabs_middle(const NwNetTabs *tabs, size_t face);

#endif
