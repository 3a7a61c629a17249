#include "make/stock/nest.h"

#include <gio/gio.h>
#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "make/pack.h"

typedef size_t Packer(NwPacked *items, size_t count, double width, double height, double gap);

/* A packing that was tried. */
typedef struct Trial {
    NwPacked *items;
    size_t sheets;
    double used_mm; /* how high the last sheet is filled */
} Trial;

/* How a panel lies before it may be turned by 90 degrees. */
typedef struct Pose {
    double degrees;
    NwBox box; /* of its cut line, so turned */
} Pose;

NwPoint nw_blank_point(const NwBlank *blank, NwPoint point) {
    return nw_point_add(nw_point_turned(point, blank->degrees), blank->shift);
}

static NwBox turned_box(const NwRegion *region, double degrees) {
    NwBox box = {{INFINITY, INFINITY}, {-INFINITY, -INFINITY}};
    for (size_t k = 0; k < region->count; k++)
        for (size_t i = 0; i < region->loops[k].count; i++) {
            NwPoint p = nw_point_turned(region->loops[k].points[i], degrees);
            box.low = (NwPoint){fmin(box.low.x, p.x), fmin(box.low.y, p.y)};
            box.high = (NwPoint){fmax(box.high.x, p.x), fmax(box.high.y, p.y)};
        }
    return box;
}

static NwPoint size_of(NwBox box) {
    return nw_point_sub(box.high, box.low);
}

/* The least box has a side along one of the panel's own (H. Freeman, R. Shapira, "Determining the
 * minimum-area encasing rectangle for an arbitrary closed curve", 1975); laid with its longer side
 * along the sheet's width. */
static Pose pose_of(const NwRegion *region) {
    const NwOutline *rim = &region->loops[0];
    Pose best = {0, {{0, 0}, {INFINITY, INFINITY}}};
    for (size_t i = 0; i < 2 * rim->count; i++) {
        NwPoint along = nw_point_sub(rim->points[(i / 2 + 1) % rim->count], rim->points[i / 2]);
        double degrees = (double)(i % 2) * 90 - atan2(along.y, along.x) * 180 / G_PI;
        NwBox box = turned_box(region, degrees);
        NwPoint size = size_of(box), least = size_of(best.box);
        if (size.x >= size.y - 1e-9 && size.x * size.y < least.x * least.y - 1e-6)
            best = (Pose){degrees, box};
    }
    return best;
}

static Pose *list_poses(const NwPanels *panels) {
    Pose *poses = nw_alloc(panels->count, sizeof *poses);
    for (size_t p = 0; p < panels->count; p++)
        poses[p] = pose_of(&panels->panels[p].cut);
    return poses;
}

static size_t count_blanks(const NwPanels *panels) {
    size_t count = 0;
    for (size_t p = 0; p < panels->count; p++)
        count += (size_t)panels->panels[p].count;
    return count;
}

static Trial try_packing(Packer *packer, const NwPanels *panels, const Pose *poses, size_t count,
                         const NwPanelOptions *options) {
    Trial trial = {.items = nw_alloc(count, sizeof(NwPacked))};
    size_t at = 0;
    for (size_t p = 0; p < panels->count; p++)
        for (int copy = 0; copy < panels->panels[p].count; copy++)
            trial.items[at++] = (NwPacked){.width = size_of(poses[p].box).x + options->kerf_mm,
                                           .height = size_of(poses[p].box).y + options->kerf_mm};
    trial.sheets = packer(trial.items, count, options->stock_width_mm, options->stock_height_mm,
                          NW_NEST_GAP_MM);
    for (size_t i = 0; i < count; i++) {
        const NwPacked *item = &trial.items[i];
        double height = item->turned ? item->width : item->height;
        if (item->page + 1 == trial.sheets)
            trial.used_mm = fmax(trial.used_mm, item->y + height);
    }
    return trial;
}

static bool is_better(const Trial *a, const Trial *b) {
    if (!a->sheets || !b->sheets || a->sheets == b->sheets)
        return a->sheets && (!b->sheets || a->used_mm < b->used_mm);
    return a->sheets < b->sheets;
}

/* Names the first panel that fits no way that is allowed. */
static NwNest *refuse(const NwPanels *panels, const Pose *poses, const NwPanelOptions *options,
                      GError **error) {
    double width = options->stock_width_mm, height = options->stock_height_mm;
    for (size_t p = 0; p < panels->count; p++) {
        double x = size_of(poses[p].box).x + options->kerf_mm;
        double y = size_of(poses[p].box).y + options->kerf_mm;
        if ((x <= width && y <= height) || (!options->grain && y <= width && x <= height))
            continue;
        g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT,
                    _("panel %d (%s) needs %.1f × %.1f mm with its kerf, more than a sheet of %g × "
                      "%g mm: take larger sheets (--stock-width-mm, --stock-height-mm) or smaller "
                      "cells (--cell-mm)"),
                    (int)p + 1, panels->panels[p].whose, x, y, width, height);
        return NULL;
    }
    g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT,
                _("the design has no pieces, so there are no panels to lay on sheets"));
    return NULL;
}

static NwNest *nest_of(const Trial *trial, const NwPanels *panels, const Pose *poses, size_t count,
                       const NwPanelOptions *options) {
    NwNest *nest = nw_alloc(1, sizeof *nest);
    *nest = (NwNest){nw_alloc(count, sizeof(NwBlank)), 0, trial->sheets, options->stock_width_mm,
                     options->stock_height_mm};
    for (size_t p = 0; p < panels->count; p++)
        for (int copy = 0; copy < panels->panels[p].count; copy++) {
            const NwPacked *item = &trial->items[nest->count];
            double degrees = poses[p].degrees + (item->turned ? 90 : 0);
            NwPoint low = turned_box(&panels->panels[p].cut, degrees).low;
            NwPoint corner = {item->x + options->kerf_mm / 2, item->y + options->kerf_mm / 2};
            nest->blanks[nest->count++] =
                (NwBlank){p, item->page, degrees, nw_point_sub(corner, low)};
        }
    return nest;
}

NwNest *nw_nest_new(const NwPanels *panels, const NwPanelOptions *options, GError **error) {
    size_t count = count_blanks(panels);
    Pose *poses = list_poses(panels);
    Trial best = try_packing(nw_pack, panels, poses, count, options);
    if (!options->grain) {
        Trial turning = try_packing(nw_pack_turning, panels, poses, count, options);
        bool better = is_better(&turning, &best);
        free(better ? best.items : turning.items);
        best = better ? turning : best;
    }
    NwNest *nest = best.sheets ? nest_of(&best, panels, poses, count, options)
                               : refuse(panels, poses, options, error);
    free(best.items);
    free(poses);
    return nest;
}

void nw_nest_free(NwNest *nest) {
    if (!nest)
        return;
    free(nest->blanks);
    free(nest);
}

char *nw_dup_nest_text(const NwNest *nest) {
    return g_strdup_printf(
        ngettext("%d sheet of %g × %g mm", "%d sheets of %g × %g mm", nest->sheet_count),
        (int)nest->sheet_count, nest->width_mm, nest->height_mm);
}
