#include "make/mesh/piece_mesh.h"

#include <glib/gi18n.h>
#include <stdlib.h>

#include "base/memory.h"
#include "make/mesh/clearance.h"
#include "slide/way_out.h"

static NwFacets *mesh_of(const NwPiece *piece, double cell_mm, double clearance_mm,
                         NwProgress *progress, GError **error) {
    NwThin thin;
    NwOffsetSurface *surface =
        nw_offset_surface_new(piece->solid, cell_mm, clearance_mm, progress, &thin);
    if (!surface && thin.kind == NW_THIN_STOPPED) {
        nw_progress_set_error(error);
        return NULL;
    }
    if (!surface) {
        char *text = nw_dup_thin_text(&thin, piece->name, clearance_mm);
        g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA, text);
        g_free(text);
        return NULL;
    }
    NwFacets *facets = nw_facets_new(surface, progress);
    nw_offset_surface_free(surface);
    if (nw_progress_is_stopped(progress)) {
        nw_facets_free(facets);
        nw_progress_set_error(error);
        return NULL;
    }
    if (!facets || !facets->facet_count || !nw_facets_are_closed(facets)) {
        g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA,
                    _("piece %s: its faces could not be cut into triangles that close"),
                    piece->name);
        nw_facets_free(facets);
        return NULL;
    }
    return facets;
}

NwFacets **nw_piece_meshes_new(const NwDesign *design, double cell_mm, double clearance_mm,
                               NwProgress *progress, GError **error) {
    NwFacets **meshes = nw_alloc(design->piece_count, sizeof *meshes);
    for (size_t i = 0; i < design->piece_count; i++) {
        if (nw_progress_tell(progress, (double)i / (double)design->piece_count))
            meshes[i] = mesh_of(&design->pieces[i], cell_mm, clearance_mm, progress, error);
        else
            nw_progress_set_error(error);
        if (!meshes[i]) {
            nw_piece_meshes_free(meshes, i);
            return NULL;
        }
    }
    return meshes;
}

void nw_piece_meshes_free(NwFacets **meshes, size_t count) {
    for (size_t i = 0; meshes && i < count; i++)
        nw_facets_free(meshes[i]);
    free(meshes);
}

void nw_motion_rows(NwMotion motion, double cell_mm, double rows[3][3], double shift_mm[3]) {
    NwTurnMap map = nw_turn_map(motion.turn);
    for (int k = 0; k < 3; k++) {
        for (int axis = 0; axis < 3; axis++)
            rows[k][axis] = axis == map.axis[k] ? map.sign[k] : 0;
        shift_mm[k] = nw_vec_get(motion.shift, k) * cell_mm;
    }
}

/* How many positions are looked at from one question whether to stop to the next. */
enum { WAY_STEPS = 1000 };

static gboolean find_way(NwTakeApart *search, const NwDesign *design, NwProgress *progress,
                         GError **error) {
    NwBody bodies[NW_BODIES_MAX];
    size_t count = design->intended_count;
    for (size_t b = 0; b < count; b++) {
        int piece = design->intended[b].piece;
        bodies[b] = (NwBody){piece, design->pieces[piece].solid, design->intended[b].motion};
    }
    NwStatus status = nw_take_apart_start(search, bodies, (int)count, NW_STATES_DEFAULT);
    while (status == NW_OK && !nw_progress_is_stopped(progress) &&
           (status = nw_take_apart_step(search, WAY_STEPS)) == NW_STOPPED)
        status = NW_OK;
    if (nw_progress_is_stopped(progress))
        return nw_progress_set_error(error);
    if (status == NW_OK)
        return TRUE;
    if (status == NW_NONE)
        g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA,
                    _("the intended assembly has no way out, so there is nothing to measure"));
    else
        g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA,
                    _("no way out of the intended assembly was found within %d positions"),
                    NW_STATES_DEFAULT);
    return FALSE;
}

gboolean nw_mesh_prove(const NwDesign *design, NwFacets *const *meshes, double cell_mm,
                       double bound_mm, NwMeshProof *proof, NwProgress *progress, GError **error) {
    size_t count = design->intended_count;
    if (!count) {
        g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA,
                            _("--prove needs an intended assembly; choose one first"));
        return FALSE;
    }
    if (count > NW_BODIES_MAX) {
        g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA,
                    _("--prove works with 1 to %d pieces; this design has %d"), NW_BODIES_MAX,
                    (int)count);
        return FALSE;
    }
    NwTakeApart *search = nw_take_apart_new(false);
    gboolean found = find_way(search, design, progress, error);
    if (found) {
        const NwWayOut *way = nw_take_apart_result(search);
        NwFacets *bodies[NW_BODIES_MAX];
        for (size_t b = 0; b < count; b++) {
            double rows[3][3], shift_mm[3];
            bodies[b] = nw_facets_copy(meshes[design->intended[b].piece]);
            nw_motion_rows(design->intended[b].motion, cell_mm, rows, shift_mm);
            nw_facets_move(bodies[b], rows, shift_mm);
        }
        *proof = (NwMeshProof){nw_way_out_clearance_measure((const NwFacets *const *)bodies, count,
                                                            way->slides, (size_t)way->total,
                                                            cell_mm, bound_mm, progress),
                               way->total, way->level, count};
        for (size_t b = 0; b < count; b++)
            nw_facets_free(bodies[b]);
    }
    nw_take_apart_free(search);
    if (found && nw_progress_is_stopped(progress))
        return nw_progress_set_error(error);
    return found;
}
