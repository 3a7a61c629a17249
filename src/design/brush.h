/* Brushes: selections of parts, for the edits of edit.h.
 *
 * Every brush answers with a new solid in the frame of the envelope, of parts of the envelope only;
 * the caller frees it, and may unite several. Thread: any. */
#ifndef NW_DESIGN_BRUSH_H
#define NW_DESIGN_BRUSH_H

#include "design/design.h"
#include "lattice/convex.h"

/* One part, and what the envelope has of one cell. */
NwSolid *nw_brush_part(const NwDesign *design, NwPart part);
NwSolid *nw_brush_cell(const NwDesign *design, NwVec cell);

/* All parts on the inner side of a plane (convex.h): normal . p <= limit. The lattice must hold the
 * plane; it cuts no part then. */
NwSolid *nw_brush_side(const NwDesign *design, NwPlane plane);

/* The layer just inside a plane: down to the next plane of its family, one cell further in, or two
 * for normals (+-1,+-1,+-1), whose planes have even limits. */
NwSolid *nw_brush_layer(const NwDesign *design, NwPlane plane);

/* The plane with that normal (of a family of the lattice) whose layer has the part. */
NwPlane nw_plane_over(NwVec normal, NwPart part);

/* All parts that are face-connected to a part of the envelope by way of parts of the same body, or
 * by way of parts that no piece has. */
NwSolid *nw_brush_fill(const NwDesign *design, NwPart part);

/* All that a piece has, on all its bodies. */
NwSolid *nw_brush_piece(const NwDesign *design, int piece);

/* All parts of the envelope none of whose faces lies in its surface: everything inside the skin. */
NwSolid *nw_brush_inside(const NwDesign *design);

/* The selection and its images under the motions; parts that are carried off the lattice are left
 * out. With the symmetries of the envelope: the symmetric selection. */
NwSolid *nw_brush_symmetric(const NwDesign *design, const NwSolid *selection,
                            const NwMotion *motions, int count);

#endif
