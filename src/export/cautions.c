#include <glib/gi18n.h>
#include <stdlib.h>

#include "export/export_report.h"
#include "export/rows.h"
#include "make/mesh/clearance.h"
#include "make/safety/safety_notes.h"

static const double CAUTIONS_FROM = 0.7; /* the last stage of a product */

/* The skin moved in, or the full size where no such skin can be made. */
static NwOffsetSurface *skin_of(const NwSolid *solid, double cell_mm, double inset_mm,
                                NwProgress *progress) {
    NwThin thin;
    NwOffsetSurface *skin = nw_offset_surface_new(solid, cell_mm, inset_mm, progress, &thin);
    return skin ? skin : nw_offset_surface_new(solid, cell_mm, 0, progress, &thin);
}

static gboolean add_small_part(NwExportReport *report, const NwPiece *piece,
                               const NwOffsetSurface *skin, NwProgress *progress) {
    NwFacets vertices = {.points = skin->points, .point_count = skin->point_count};
    NwSmallPart part = nw_small_part_try(&vertices, progress);
    nw_export_report_take_caution(report, nw_dup_small_part_caution(piece->name, &part));
    return part.fits;
}

static gboolean add_tips(NwExportReport *report, const NwDesign *design, size_t piece) {
    NwTip *tips;
    size_t count = nw_piece_tips(design, (int)piece, &tips);
    char *caution = nw_dup_tips_caution(design->pieces[piece].name, tips, count);
    gboolean sharp = caution != NULL;
    nw_export_report_take_caution(report, caution);
    free(tips);
    return sharp;
}

unsigned nw_add_cautions_of(NwExportReport *report, const NwDesign *design, size_t piece,
                            double cell_mm, double inset_mm, NwProgress *progress) {
    unsigned traits = 0;
    NwOffsetSurface *skin = skin_of(design->pieces[piece].solid, cell_mm, inset_mm, progress);
    if (skin && add_small_part(report, &design->pieces[piece], skin, progress))
        traits |= NW_PIECE_SMALL;
    if (add_tips(report, design, piece))
        traits |= NW_PIECE_SHARP;
    nw_offset_surface_free(skin);
    return traits;
}

gboolean nw_add_piece_cautions(NwExportReport *report, const NwDesign *design, double cell_mm,
                               double inset_mm, NwProgress *progress, GError **error) {
    double count = (double)design->piece_count;
    gboolean wanted =
        nw_progress_stage(progress, _("looking for small parts and tips"), CAUTIONS_FROM, 1);
    for (size_t i = 0; i < design->piece_count && wanted; i++) {
        wanted = nw_progress_part(progress, (double)i / count, (double)(i + 1) / count);
        if (wanted)
            nw_add_cautions_of(report, design, i, cell_mm, inset_mm, progress);
    }
    return wanted && !nw_progress_is_stopped(progress) ? TRUE : nw_progress_set_error(error);
}

void nw_add_tool_cautions(NwExportReport *report, unsigned tools) {
    for (int tool = 0; tool < NW_TOOL_COUNT; tool++)
        if (tools >> tool & 1)
            nw_export_report_take_caution(report, g_strdup(nw_caution_for((NwTool)tool)));
    nw_export_report_take_caution(report, g_strdup(nw_caution_limits()));
}
