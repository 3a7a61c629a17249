/* A face moved inwards: what the thickness of a sheet takes off it.
 *
 * The rule. Every face of the piece moves inwards, square to itself, by the same distance a. Where
 * two faces meet at the dihedral angle D, the edge between them then stands a * cot(D/2) farther in
 * on either: a at 90 degrees, more where the edge is sharper, and outwards, as the cotangent is
 * negative, in a groove. The new corners of a face are where its new sides meet. At a corner of the
 * solid with three faces they agree in all three; where more meet, the ends of an edge may differ
 * in its two faces by about a.
 *
 *      . . . . . . .         Where one long side meets several faces at different angles it gets a
 *      . +-------+ .         step at each change.
 *      . |       | .
 *      . +-------+ .         A side that would turn round means that the face is too small for the
 *      . . . . . . .         thickness: then there is no inset.
 *
 * Coordinates: millimetres in the face's own flat frame. Thread: any. Cost: linear. */
#ifndef NW_MAKE_INSET_H
#define NW_MAKE_INSET_H

#include "make/face.h"
#include "make/region.h"

typedef struct NwStretch {
    NwPoint from, to;
} NwStretch;

/* The inset face: one stretch for each side, ring by ring; side i of ring k is at first[k] + i. */
typedef struct NwInset {
    NwStretch *sides;
    size_t *first;
    NwRegion region; /* the whole outline */
} NwInset;

/* a * cot(D/2): how far an edge moves in on its faces. */
double nw_inset_depth(const NwEdge *edge, double inset_mm);

/* FALSE if the face is too small (the inset is then empty). The caller clears it. */
bool nw_inset_make(const NwPieceFaces *faces, size_t face, double cell_mm, double inset_mm,
                   NwInset *inset);

/* The same with a rule of the caller's for how far each edge moves in. */
typedef double NwDepthRule(const NwEdge *edge, const void *data);
bool nw_inset_make_by(const NwPieceFaces *faces, size_t face, double cell_mm, NwDepthRule *rule,
                      const void *data, NwInset *inset);

void nw_inset_clear(NwInset *inset);

#endif
