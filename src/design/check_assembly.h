/* The checker of an assembly. It shares no code with any solver: it carries the vertices of every
 * part by the stated turn and shift, looks up which part of the lattice stands on them, and keeps
 * a tally for every part of the envelope.
 *
 * Checked: every piece has as many placements as copies; rotations only; parts land on parts (a
 * shift by an odd vector needs whole cells); inside the envelope; no part covered twice; no part
 * that must be filled left open. The order of the placements does not matter.
 * Returns NULL if all is well, else the first reason (a static text
 * in English, marked for translation). Thread: any. */
#ifndef NW_DESIGN_CHECK_ASSEMBLY_H
#define NW_DESIGN_CHECK_ASSEMBLY_H

#include "design/design.h"

const char *nw_check_assembly(const NwDesign *design, const NwPlacement *placements, size_t count);

#endif
