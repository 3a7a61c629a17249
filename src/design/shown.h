/* The assembly that a design shows by itself: the intended one, or where none is intended, the
 * pieces where they are drawn, if that is an assembly.
 *
 * Either is recounted part by part (check_assembly.h) before it is said to be one. Pieces with
 * copies have one place as drawn, so a design with copies shows an assembly only by intending it.
 * Coordinates: cells of the envelope. Thread: any. Cost: that of the recount. */
#ifndef NW_DESIGN_SHOWN_H
#define NW_DESIGN_SHOWN_H

#include "design/design.h"

typedef enum NwShown { NW_SHOWS_NONE, NW_SHOWS_INTENDED, NW_SHOWS_DRAWN } NwShown;

/* Which assembly the design shows. Unless it shows none, *placements (the caller frees it) has its
 * *count placements, sorted by piece. */
NwShown nw_design_shown(const NwDesign *design, NwPlacement **placements, size_t *count);

#endif
