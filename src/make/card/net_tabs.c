#include "make/card/net_tabs.h"

#include <stdlib.h>

#include "base/memory.h"

NwPoint nw_net_tabs_point(const NwNetTabs *tabs, size_t face, NwPoint own) {
    NwPoint at = nw_nets_point(tabs->nets, face, tabs->cell_mm, own);
    return nw_point_turned(at, 15 * tabs->turns[tabs->nets->net[face]]);
}

NwStretch nw_net_tabs_side(const NwNetTabs *tabs, size_t face, size_t edge) {
    const NwFace *own = &tabs->faces->faces[face];
    const NwInset *inset = &tabs->nets->insets[face];
    for (size_t k = 0; k < own->ring_count; k++)
        for (size_t i = 0; i < own->rings[k].count; i++)
            if (own->rings[k].sides[i].edge == edge) {
                NwStretch side = inset->sides[inset->first[k] + i];
                return (NwStretch){nw_net_tabs_point(tabs, face, side.from),
                                   nw_net_tabs_point(tabs, face, side.to)};
            }
    abort(); /* an edge is a side of both its faces */
}

static double room_at(const NwRegion *region, NwPoint at) {
    return nw_region_holds(region, at, 0) ? nw_region_rim_distance(region, at) : 0;
}

/* Climbs from the middle of the roomiest tile to where there is more room yet. */
NwPoint nw_net_tabs_middle(const NwNetTabs *tabs, size_t face) {
    const NwFace *own = &tabs->faces->faces[face];
    const NwRegion *region = &tabs->regions[face];
    NwPoint best = {0, 0};
    double most = -1;
    for (size_t t = 0; t < own->tile_count; t++) {
        NwPoint sum = {0, 0};
        for (size_t k = 0; k < own->tiles[t].count; k++)
            sum = nw_point_add(sum, nw_exact_point_mm(own->tiles[t].corners[k], tabs->cell_mm));
        NwPoint at =
            nw_net_tabs_point(tabs, face, nw_point_scale(sum, 1 / (double)own->tiles[t].count));
        double room = room_at(region, at);
        if (room > most + NW_REGION_TOUCH_MM) {
            most = room;
            best = at;
        }
    }
    for (double step = tabs->cell_mm / 4; step > 0.05; step /= 2)
        for (int k = 0; k < 8; k++) {
            NwPoint at = nw_point_add(best, nw_point_turned((NwPoint){step, 0}, 45 * k));
            double room = room_at(region, at);
            if (room > most + NW_REGION_TOUCH_MM) {
                most = room;
                best = at;
                k = -1;
            }
        }
    return best;
}

static void set_regions(NwNetTabs *tabs) {
    for (size_t f = 0; f < tabs->faces->count; f++) {
        const NwRegion *own = &tabs->nets->insets[f].region;
        nw_region_clear(&tabs->regions[f]);
        for (size_t k = 0; k < own->count; k++) {
            nw_region_begin(&tabs->regions[f]);
            for (size_t i = 0; i < own->loops[k].count; i++)
                nw_region_add(&tabs->regions[f],
                              nw_net_tabs_point(tabs, f, own->loops[k].points[i]));
        }
    }
}

static NwBox net_box(const NwNetTabs *tabs, size_t net, int turn) {
    NwBox box = {{INFINITY, INFINITY}, {-INFINITY, -INFINITY}};
    for (size_t f = 0; f < tabs->faces->count; f++) {
        const NwOutline *loop = &tabs->regions[f].loops[0];
        for (size_t i = 0; tabs->nets->net[f] == net && i < loop->count; i++) {
            NwPoint p = nw_point_turned(loop->points[i], 15 * turn);
            box.low = (NwPoint){fmin(box.low.x, p.x), fmin(box.low.y, p.y)};
            box.high = (NwPoint){fmax(box.high.x, p.x), fmax(box.high.y, p.y)};
        }
    }
    return box;
}

/* Turns each net to where it takes least paper, lying rather than standing. */
static void set_turns(NwNetTabs *tabs, const NwUnfoldOptions *options) {
    for (size_t net = 0; net < tabs->nets->count; net++) {
        double least = INFINITY, lowest = INFINITY;
        int best = 0;
        for (int turn = 0; turn < 12; turn++) {
            NwBox box = net_box(tabs, net, turn);
            double x = box.high.x - box.low.x, y = box.high.y - box.low.y;
            if (options->room_x_mm > 0 && (x > options->room_x_mm + NW_REGION_TOUCH_MM ||
                                           y > options->room_y_mm + NW_REGION_TOUCH_MM))
                continue;
            if (x * y < least - 1e-3 || (x * y < least + 1e-3 && y < lowest - 1e-3)) {
                least = fmin(least, x * y);
                lowest = y;
                best = turn;
            }
        }
        tabs->turns[net] = best;
    }
    set_regions(tabs);
}

/* A trapezoid on the outer side of the stretch. */
static void shape_tab(NwRegion *region, NwStretch side, double depth, double slope) {
    NwPoint along = nw_point_sub(side.to, side.from);
    NwPoint way = nw_point_scale(along, 1 / nw_point_length(along));
    NwPoint out = {way.y * depth, -way.x * depth}, in = nw_point_scale(way, depth * slope);
    nw_region_clear(region);
    nw_region_begin(region);
    nw_region_add(region, side.to);
    nw_region_add(region, side.from);
    nw_region_add(region, nw_point_add(nw_point_add(side.from, in), out));
    nw_region_add(region, nw_point_add(nw_point_sub(side.to, in), out));
}

static bool is_in_the_way(const NwNetTabs *tabs, size_t net, const NwRegion *region) {
    for (size_t f = 0; f < tabs->faces->count; f++)
        if (tabs->nets->net[f] == net && nw_region_overlap(region, &tabs->regions[f]))
            return true;
    for (size_t e = 0; e < tabs->faces->edge_count; e++)
        if (tabs->tabs[e].face != NW_NO_EDGE && tabs->nets->net[tabs->tabs[e].face] == net &&
            nw_region_overlap(region, &tabs->tabs[e].region))
            return true;
    return false;
}

/* Tries shapes from deep to shallow, each with sides at 45 degrees and flatter, on both faces. */
static void add_tab(NwNetTabs *tabs, size_t e, double tab_mm) {
    static const double depths[] = {1, 0.7, 0.45}, slopes[] = {1, 1.8};
    const NwEdge *edge = &tabs->faces->edges[e];
    NwTab *tab = &tabs->tabs[e];
    double length = nw_edge_length(edge) * tabs->cell_mm;
    double most = fmin(tab_mm, 0.35 * fmin(tabs->cell_mm, length));
    NwRegion region = {NULL, 0, 0};
    for (size_t d = 0; d < 3; d++)
        for (size_t s = 0; s < 2; s++)
            for (int k = 0; k < 2; k++) {
                size_t face = k == 0 ? edge->left : edge->right;
                NwStretch side = nw_net_tabs_side(tabs, face, e);
                double base = nw_point_length(nw_point_sub(side.to, side.from));
                double depth = fmin(most * depths[d], 0.4 * base / slopes[s]);
                shape_tab(&region, side, depth, slopes[s]);
                if (depth > 0.5 && !is_in_the_way(tabs, tabs->nets->net[face], &region)) {
                    tab->face = face;
                    tab->region = region;
                    return;
                }
            }
    nw_region_clear(&region);
}

NwNetTabs *nw_net_tabs_new(const NwPieceFaces *faces, const NwNets *nets,
                           const NwUnfoldOptions *options, double tab_mm) {
    NwNetTabs *tabs = nw_alloc(1, sizeof *tabs);
    *tabs = (NwNetTabs){faces,
                        nets,
                        options->cell_mm,
                        nw_alloc(nets->count, sizeof(int)),
                        nw_alloc(faces->count, sizeof(NwRegion)),
                        nw_alloc(faces->edge_count, sizeof(bool)),
                        nw_alloc(faces->edge_count, sizeof(NwTab))};
    for (size_t f = 0; f < faces->count; f++)
        if (nets->hinge[f] != NW_NO_EDGE)
            tabs->folded[nets->hinge[f]] = true;
    set_regions(tabs);
    set_turns(tabs, options);
    for (size_t e = 0; e < faces->edge_count; e++)
        tabs->tabs[e].face = NW_NO_EDGE;
    for (size_t e = 0; e < faces->edge_count; e++)
        if (!tabs->folded[e] && tab_mm > 0)
            add_tab(tabs, e, tab_mm);
    return tabs;
}

void nw_net_tabs_free(NwNetTabs *tabs) {
    if (!tabs)
        return;
    for (size_t f = 0; f < tabs->faces->count; f++)
        nw_region_clear(&tabs->regions[f]);
    for (size_t e = 0; e < tabs->faces->edge_count; e++)
        nw_region_clear(&tabs->tabs[e].region);
    free(tabs->turns);
    free(tabs->regions);
    free(tabs->folded);
    free(tabs->tabs);
    free(tabs);
}
