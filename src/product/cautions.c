#include <glib/gi18n.h>
#include <stdlib.h>

#include "make/caution.h"
#include "make/clearance.h"
#include "product/made.h"
#include "product/rows.h"

static const double CAUTIONS_FROM = 0.7; /* the last stage of a product */

/* The skin moved in, or the full size where no such skin can be made. */
static NwSkin *skin_of(const NwSolid *solid, double cell_mm, double inset_mm,
                       NwProgress *progress) {
    NwThin thin;
    NwSkin *skin = nw_skin_new(solid, cell_mm, inset_mm, progress, &thin);
    return skin ? skin : nw_skin_new(solid, cell_mm, 0, progress, &thin);
}

static gboolean add_small_part(NwMade *made, const NwPiece *piece, const NwSkin *skin,
                               NwProgress *progress) {
    NwFacets vertices = {.points = skin->points, .point_count = skin->point_count};
    NwSmallPart part = nw_small_part_try(&vertices, progress);
    nw_made_take_caution(made, nw_dup_small_part_caution(piece->name, &part));
    return part.fits;
}

static gboolean add_tips(NwMade *made, const NwDesign *design, size_t piece) {
    NwTip *tips;
    size_t count = nw_piece_tips(design, (int)piece, &tips);
    char *caution = nw_dup_tips_caution(design->pieces[piece].name, tips, count);
    gboolean sharp = caution != NULL;
    nw_made_take_caution(made, caution);
    free(tips);
    return sharp;
}

unsigned nw_add_cautions_of(NwMade *made, const NwDesign *design, size_t piece, double cell_mm,
                            double inset_mm, NwProgress *progress) {
    unsigned traits = 0;
    NwSkin *skin = skin_of(design->pieces[piece].solid, cell_mm, inset_mm, progress);
    if (skin && add_small_part(made, &design->pieces[piece], skin, progress))
        traits |= NW_PIECE_SMALL;
    if (add_tips(made, design, piece))
        traits |= NW_PIECE_SHARP;
    nw_skin_free(skin);
    return traits;
}

gboolean nw_add_piece_cautions(NwMade *made, const NwDesign *design, double cell_mm,
                               double inset_mm, NwProgress *progress, GError **error) {
    double count = (double)design->piece_count;
    gboolean wanted =
        nw_progress_stage(progress, _("looking for small parts and tips"), CAUTIONS_FROM, 1);
    for (size_t i = 0; i < design->piece_count && wanted; i++) {
        wanted = nw_progress_part(progress, (double)i / count, (double)(i + 1) / count);
        if (wanted)
            nw_add_cautions_of(made, design, i, cell_mm, inset_mm, progress);
    }
    return wanted && !nw_progress_is_stopped(progress) ? TRUE : nw_progress_set_error(error);
}

void nw_add_tool_cautions(NwMade *made, unsigned tools) {
    for (int tool = 0; tool < NW_TOOL_COUNT; tool++)
        if (tools >> tool & 1)
            nw_made_take_caution(made, g_strdup(nw_caution_for((NwTool)tool)));
    nw_made_take_caution(made, g_strdup(nw_caution_limits()));
}
