/* The outside shape as the maker describes it: a named solid with sizes, or planes; and how a new
 * one is laid under the pieces of a design. Ownership: solids and sentences returned are the
 * caller's (nw_solid_free, g_free). Thread: any. */
#ifndef NW_SESSION_ENVELOPE_SHAPE_H
#define NW_SESSION_ENVELOPE_SHAPE_H

#include <glib.h>

#include "design/design.h"
#include "lattice/named.h"

typedef struct NwShape {
    const NwNamedSolid *named; /* NULL: planes */
    int sizes[NW_SIZES_MAX];
    const char *planes; /* borrowed; as lattice/plane_text.h reads them */
} NwShape;

/* The solid, or NULL with *problem a sentence that says what to do. */
NwSolid *nw_shape_build(const NwShape *shape, char **problem);

/* The shape to be drawn in a small picture: the same, or, of a large named solid, a smaller one of
 * about the same proportions. NULL for what cannot be built or is too large to be drawn at once. */
NwSolid *nw_shape_build_small(const NwShape *shape);

/* The envelope shifted to where the fewest parts fall out of the pieces of the design, of these
 * places: centred on its envelope, or with the lowest or the highest corners together. *total is
 * how many parts do. NULL when a piece of the design is not where parts are. */
NwSolid *nw_shape_lay(const NwDesign *design, const NwSolid *envelope, size_t *total);

/* What falls out of each piece in that envelope, one line a piece; "" if nothing does. *barred, if
 * a piece of `locked` would lose parts, becomes the index of the first such piece, else -1. */
char *nw_shape_losses(const NwDesign *design, const NwSolid *envelope, guint64 locked, int *barred);

#endif
