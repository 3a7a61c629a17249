/* Where the pieces of a design stand: one body for each placed copy.
 *
 * With an intended assembly the bodies are its placements. Without one, and for a piece that it
 * does not list, the piece has one body, where it is drawn; further copies stand nowhere.
 * A part of a body is a part of its piece, carried: what is painted on any copy is painted on the
 * piece. A placement by an odd vector carries whole cells only (solid.h).
 *
 * Coordinates: cells of the envelope. Thread: any. */
#ifndef NW_DESIGN_BODIES_H
#define NW_DESIGN_BODIES_H

#include "design/design.h"

typedef struct NwBodies {
    NwPlacement *placements; /* those of the first copies of all pieces come first, by piece */
    NwSolid **solids;        /* each where it stands */
    size_t count;            /* at least the number of pieces */
} NwBodies;

/* All bodies. NW_OFF_LATTICE or NW_OUT_OF_RANGE when a placement does not carry its piece to where
 * parts are; the bodies are then empty. The caller frees with nw_bodies_clear. */
NwStatus nw_bodies_of(const NwDesign *design, NwBodies *bodies);
void nw_bodies_clear(NwBodies *bodies);

/* The pieces where they are drawn, whatever is intended: one placement for each, written to
 * `placements`, which has room for as many as there are pieces. NW_NONE if a piece has more copies,
 * for those are drawn nowhere. */
NwStatus nw_design_drawn(const NwDesign *design, NwPlacement *placements);

/* Lists every piece that the intended assembly does not list where it is drawn, so that further
 * bodies can be listed beside it. The assembly may be unfinished then: see faults.h. */
void nw_design_list_drawn(NwDesign *design);

/* Lists one more body. */
void nw_design_list_body(NwDesign *design, NwPlacement placement);

/* Where the first copy of a piece stands. */
NwMotion nw_design_motion(const NwDesign *design, int piece);

/* Whether some body of the piece is placed by an odd vector, so that it must be of whole cells. */
bool nw_design_is_odd(const NwDesign *design, int piece);

/* The piece whose body has this part of the envelope's frame, or -1; the least if there are more.
 * `own` (NULL allowed) receives the part in the frame of the piece; after an odd placement its bit
 * means nothing, for the piece is of whole cells. Cost: a binary search for each body. */
int nw_design_owner(const NwDesign *design, NwPart part, NwPart *own);

/* The parts of the envelope that no body has; the caller frees the solid. A body that stands off
 * the lattice has none. */
NwSolid *nw_design_rest(const NwDesign *design);

#endif
