/* Dressing an unfolding: which edges get tabs, and where everything stands once each net is turned
 * to lie well on the page. net.h says what it is for; net.c draws it.
 *
 * Millimetres, in the frame of each net as turned. Ownership: `free` frees. Thread: any. */
#ifndef NW_MAKE_DRESS_H
#define NW_MAKE_DRESS_H

#include "make/unfold.h"

typedef struct NwTab {
    size_t face; /* it grows from this face's side; NW_NO_EDGE: there is none */
    NwRegion region;
} NwTab;

typedef struct NwDress {
    const NwFaces *faces;
    const NwNets *nets;
    double cell_mm;
    int *turns;        /* of each net, times 15 degrees */
    NwRegion *regions; /* of each face */
    bool *folded;      /* each edge: whether it is a fold */
    NwTab *tabs;       /* of each edge */
} NwDress;

NwDress *nw_dress_new(const NwFaces *faces, const NwNets *nets, const NwUnfoldOptions *options,
                      double tab_mm);
void nw_dress_free(NwDress *dress); /* NULL is allowed */

/* A point of the face's own frame, in that of its net. */
NwPoint nw_dress_point(const NwDress *dress, size_t face, NwPoint own);

/* The inset side that the face has on an edge. */
NwStretch nw_dress_side(const NwDress *dress, size_t face, size_t edge);

/* A point well inside the face. */
NwPoint nw_dress_middle(const NwDress *dress, size_t face);

#endif
