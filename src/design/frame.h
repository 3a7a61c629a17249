/* The frame of the envelope: every piece drawn where it stands.
 *
 * A file may draw each piece in a frame of its own. On the workbench a piece lies in the envelope
 * where the intended assembly puts it: *settling* a design re-draws every piece at its first
 * intended placement, which becomes the identity, and turns the placements of its other copies
 * into motions from there. The assembly itself stays what it was, part by part.
 *
 * Thread: one writer. On failure the design is as before. */
#ifndef NW_DESIGN_FRAME_H
#define NW_DESIGN_FRAME_H

#include "design/design.h"

/* Settles the design; a piece that is intended nowhere stays as drawn. NW_OFF_LATTICE or
 * NW_OUT_OF_RANGE when a first placement does not carry its piece to where parts are. */
NwStatus nw_design_settle(NwDesign *design);

/* Whether it is settled: nothing is left for nw_design_settle to do. */
bool nw_design_is_settled(const NwDesign *design);

/* Declares an assembly, as a search found it, the intended one, and settles. NW_DOES_NOT_FIT when
 * the recount (check_assembly.h) finds that these placements are no assembly of this design. */
NwStatus nw_design_adopt(NwDesign *design, const NwPlacement *placements, size_t count);

#endif
