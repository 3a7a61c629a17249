/* The meshes of all pieces of a design, and the proof that they keep apart on the way out.
 * Coordinates: millimetres. Thread: any. Errors: G_IO_ERROR_INVALID_DATA for what cannot be made.
 */
#ifndef NW_MAKE_MESH_PIECE_MESH_H
#define NW_MAKE_MESH_PIECE_MESH_H

#include <gio/gio.h>

#include "design/design.h"
#include "make/mesh/print.h"
#include "make/mesh/way_out_clearance.h"

/* One mesh for each piece, each in the piece's own frame. NULL with an error that names the piece
 * and the place where the clearance leaves nothing, or stopped. Free with nw_piece_meshes_free. */
NwFacets **nw_piece_meshes_new(const NwDesign *design, double cell_mm, double clearance_mm,
                               NwProgress *progress, GError **error);
void nw_piece_meshes_free(NwFacets **meshes, size_t count); /* NULL is allowed */

/* The rotation and shift of a placement, as they act on millimetres. */
void nw_motion_rows(NwMotion motion, double cell_mm, double rows[3][3], double shift_mm[3]);

typedef struct NwMeshProof {
    NwWayOutClearance free_way;
    int slides, level; /* of the way out that was measured */
    size_t bodies;
} NwMeshProof;

/* Finds a way out of the intended assembly and measures it. FALSE with an error where there is no
 * intended assembly, or no way out is found, or stopped. `bound_mm` as in way_out_clearance.h. */
gboolean nw_mesh_prove(const NwDesign *design, NwFacets *const *meshes, double cell_mm,
                       double bound_mm, NwMeshProof *proof, NwProgress *progress, GError **error);

#endif
