/* Clearance: the skin of a piece, in millimetres, with every face moved inwards.
 *
 * Each face moves along its normal by the clearance; no piece is scaled. Corners are the points in
 * which the moved planes meet, and a vertex of more than three faces opens into several where it
 * must (fan.h). New small edges may come that way, and two faces of one plane may grow together,
 * but there is no new plane, and no face turns.
 *
 * Why that keeps pieces apart. Round a vertex the moved faces bound { f <= -c }, where f is built
 * by minimum and maximum from the distances to the planes, so that f grows by at most the way one
 * goes. A ball of radius c about a point of the moved solid therefore stays within the old one. Two
 * old solids whose interiors are disjoint hold two disjoint balls: *points of two pieces are never
 * closer than twice the clearance*, wherever the pieces stand without overlap, at any moment of a
 * slide. The argument is not relied on: for every skin that is made it is measured that no point of
 * the new surface comes closer to the old one than c, and that the new surface does not meet
 * itself; and way_out_clearance.h measures pieces against each other along a whole way out.
 *
 * Where the clearance eats a feature up, no skin is made, and NwThin says what is in the way:
 *
 *   NW_THIN_EDGE    an edge would have no length left: it vanishes, and a face with it
 *   NW_THIN_WALL    what lies between two faces would vanish, or they would cross
 *   NW_THIN_VERTEX  the faces at a vertex have no way inwards that was found, however little they
 *                   move: about one random piece in a thousand has such a vertex, where several
 *                   parts touch only in edges and points
 *   NW_THIN_EFFORT  so many faces meet at a vertex that the search for such a way was given up
 *   NW_THIN_STOPPED the progress was stopped meanwhile
 *
 * Two pits that touch in a vertex break through to each other: what was a point becomes a hole.
 *
 * With clearance 0, points are whole multiples of cell_mm, exact as far as doubles go.
 * Coordinates: millimetres; `cell_mm` is the edge of a cell. Thread: any.
 * Cost: triangles squared, for the measuring; the search for ways at vertices has a bound. */
#ifndef NW_MAKE_MESH_CLEARANCE_H
#define NW_MAKE_MESH_CLEARANCE_H

#include "make/mesh/manifold.h"
#include "make/mesh/offset_surface.h"
#include "make/mesh/thin.h"
#include "make/progress.h"

/* The skin, or NULL with *thin told. cell_mm > 0, clearance_mm >= 0; the progress may stop it, and
 * may be NULL. The caller frees it. */
NwOffsetSurface *nw_offset_surface_new(const NwSolid *solid, double cell_mm, double clearance_mm,
                                       NwProgress *progress, NwThin *thin);

/* One sentence about it without a full stop, in the language of the user; g_free it. */
char *nw_dup_thin_text(const NwThin *thin, const char *piece_name, double clearance_mm);

#endif
