#include "make/card/net.h"

#include <gio/gio.h>
#include <glib/gi18n.h>
#include <stdlib.h>

#include "base/memory.h"
#include "make/card/net_tabs.h"
#include "make/text.h"

/* A net in drawing. */
typedef struct Draft {
    const NwNetTabs *tabs;
    const NwPiece *piece;
    NwPlot *plot;
    size_t net;
    int tint;
} Draft;

/* A light tint of the piece's own colour, so that the sheets can be told apart. */
static int tint_of(const NwPiece *piece) {
    unsigned long colour = strtoul(piece->colour[0] ? piece->colour + 1 : "b8b8b8", NULL, 16);
    int tint = 0;
    for (int shift = 16; shift >= 0; shift -= 8)
        tint |= (255 - (255 - (int)(colour >> shift & 255)) * 22 / 100) << shift;
    return tint;
}

/* A, B ... Z, AA, AB ... */
static char *dup_letters(size_t index) {
    GString *text = g_string_new(NULL);
    for (index++; index > 0; index = (index - 1) / 26)
        g_string_prepend_c(text, (char)('A' + (index - 1) % 26));
    return g_string_free(text, FALSE);
}

/* A label beside the middle of a line, on its left for a positive distance, never head down. */
static void label_line(Draft *draft, NwStretch line, double distance, double height, bool bold,
                       const char *text) {
    NwPoint along = nw_point_sub(line.to, line.from);
    NwPoint way = nw_point_scale(along, 1 / nw_point_length(along));
    NwPoint middle = nw_point_scale(nw_point_add(line.from, line.to), 0.5);
    double degrees = atan2(way.y, way.x) * 180 / G_PI;
    if (degrees > 90 + 1e-6)
        degrees -= 180;
    else if (degrees <= -90 + 1e-6)
        degrees += 180;
    nw_plot_label(draft->plot, (NwPoint){middle.x - way.y * distance, middle.y + way.x * distance},
                  height, degrees, 0, bold, text);
}

static double length_of(NwStretch side) {
    return nw_point_length(nw_point_sub(side.to, side.from));
}

/* The stretch from t = low to t = high millimetres along a line. */
static void cut_between(Draft *draft, NwStretch line, double low, double high) {
    double length = length_of(line);
    NwPoint way = nw_point_scale(nw_point_sub(line.to, line.from), 1 / length);
    if (high - low > 1e-3)
        nw_plot_line(draft->plot, NW_INK_CUT, nw_point_add(line.from, nw_point_scale(way, low)),
                     nw_point_add(line.from, nw_point_scale(way, high)));
}

/* A fold is where both faces have the edge; what one has beyond the other is cut. */
static void draw_fold(Draft *draft, size_t face, size_t edge) {
    const NwNetTabs *tabs = draft->tabs;
    const NwEdge *fold = &tabs->faces->edges[edge];
    NwStretch own = nw_net_tabs_side(tabs, face, edge);
    NwStretch other = nw_net_tabs_side(tabs, nw_edge_other(fold, face), edge);
    double length = length_of(own);
    NwPoint way = nw_point_scale(nw_point_sub(own.to, own.from), 1 / length);
    double start = nw_point_dot(nw_point_sub(other.to, own.from), way);
    double end = nw_point_dot(nw_point_sub(other.from, own.from), way);
    double low = fmax(0, start), high = fmin(length, end);
    cut_between(draft, own, fmin(0, start), low);
    cut_between(draft, own, high, fmax(length, end));
    NwStretch line = {nw_point_add(own.from, nw_point_scale(way, low)),
                      nw_point_add(own.from, nw_point_scale(way, high))};
    nw_plot_line(draft->plot, fold->reflex ? NW_INK_VALLEY : NW_INK_MOUNTAIN, line.from, line.to);
    char *degrees = nw_dup_degrees(nw_edge_degrees(fold));
    double height = fmin(fmin(1.9, 0.09 * tabs->cell_mm), 0.13 * (high - low));
    label_line(draft, line, 0.85 * height, height, false, degrees);
    g_free(degrees);
}

static void draw_tab(Draft *draft, const NwTab *tab, const NwEdge *edge, const char *letters) {
    const NwOutline *loop = &tab->region.loops[0];
    NwStretch base = {loop->points[1], loop->points[0]};
    nw_plot_line(draft->plot, edge->reflex ? NW_INK_VALLEY : NW_INK_MOUNTAIN, base.from, base.to);
    for (size_t i = 1; i < loop->count; i++)
        nw_plot_line(draft->plot, NW_INK_CUT, loop->points[i], loop->points[(i + 1) % loop->count]);
    NwPoint out = nw_point_sub(loop->points[2], loop->points[1]);
    NwPoint way = nw_point_scale(nw_point_sub(base.to, base.from), 1 / length_of(base));
    double deep = fabs(nw_point_cross(way, out));
    label_line(draft, base, -0.5 * deep, fmin(2.6, 0.55 * deep), true, letters);
}

static void draw_side(Draft *draft, size_t face, size_t edge, size_t letter) {
    const NwNetTabs *tabs = draft->tabs;
    if (tabs->folded[edge]) {
        if (tabs->nets->hinge[face] == edge)
            draw_fold(draft, face, edge);
        return;
    }
    NwStretch side = nw_net_tabs_side(tabs, face, edge);
    char *letters = dup_letters(letter);
    if (tabs->tabs[edge].face == face) {
        draw_tab(draft, &tabs->tabs[edge], &tabs->faces->edges[edge], letters);
    } else {
        double height = fmin(fmin(2.6, 0.12 * tabs->cell_mm), 0.16 * length_of(side));
        nw_plot_line(draft->plot, NW_INK_CUT, side.from, side.to);
        label_line(draft, side, 0.9 * height, height, true, letters);
    }
    g_free(letters);
}

/* The sides of a face, and the steps between them where the thickness makes some. */
static void draw_rim(Draft *draft, size_t face, const size_t *letters) {
    const NwFace *own = &draft->tabs->faces->faces[face];
    const NwInset *inset = &draft->tabs->nets->insets[face];
    for (size_t k = 0; k < own->ring_count; k++)
        for (size_t i = 0; i < own->rings[k].count; i++) {
            size_t edge = own->rings[k].sides[i].edge, next = (i + 1) % own->rings[k].count;
            draw_side(draft, face, edge, letters[edge]);
            NwStretch step = {
                nw_net_tabs_point(draft->tabs, face, inset->sides[inset->first[k] + i].to),
                nw_net_tabs_point(draft->tabs, face, inset->sides[inset->first[k] + next].from)};
            if (length_of(step) > 1e-3)
                nw_plot_line(draft->plot, NW_INK_CUT, step.from, step.to);
        }
}

static void fill_face(Draft *draft, size_t face) {
    const NwRegion *region = &draft->tabs->regions[face];
    for (size_t k = 0; k < region->count; k++)
        nw_plot_loop(draft->plot, NW_INK_NOTE, region->loops[k].points, region->loops[k].count,
                     k == 0 ? draft->tint : 0xffffff);
}

/* The face's number, and on one face of a net the name of the piece. */
static void name_face(Draft *draft, size_t face, bool with_name) {
    NwPoint at = nw_net_tabs_middle(draft->tabs, face);
    double room = nw_region_rim_distance(&draft->tabs->regions[face], at);
    char *number = g_strdup_printf("%" G_GSIZE_FORMAT, face + 1);
    double height = fmin(fmin(2.6, 0.13 * draft->tabs->cell_mm), 0.42 * room);
    if (with_name) {
        size_t nets = draft->tabs->nets->count;
        char *name = nets == 1 ? g_strdup(draft->piece->name)
                               : g_strdup_printf("%s  %" G_GSIZE_FORMAT "/%" G_GSIZE_FORMAT,
                                                 draft->piece->name, draft->net + 1, nets);
        double large =
            fmin(fmin(5, 0.4 * room), 1.5 * room / (double)MAX(1, g_utf8_strlen(name, -1)));
        nw_plot_label(draft->plot, (NwPoint){at.x, at.y + 0.6 * large}, large, 0, 0, true, name);
        at.y -= 0.95 * height;
        g_free(name);
    }
    nw_plot_label(draft->plot, at, height, 0, 0, false, number);
    g_free(number);
}

static size_t roomiest_face(const NwNetTabs *tabs, size_t net) {
    size_t best = 0;
    double most = -1;
    for (size_t f = 0; f < tabs->faces->count; f++) {
        double room = nw_region_rim_distance(&tabs->regions[f], nw_net_tabs_middle(tabs, f));
        if (tabs->nets->net[f] == net && room > most + 1e-6) {
            most = room;
            best = f;
        }
    }
    return best;
}

/* Moves the drawing to the corner of a plot of its own size. */
static NwPlot *cropped(NwPlot *plot) {
    NwPoint low = {INFINITY, INFINITY}, high = {-INFINITY, -INFINITY};
    for (size_t i = 0; i < plot->stroke_count; i++)
        for (size_t k = 0; k < plot->strokes[i].count; k++) {
            NwPoint p = plot->strokes[i].points[k];
            low = (NwPoint){fmin(low.x, p.x), fmin(low.y, p.y)};
            high = (NwPoint){fmax(high.x, p.x), fmax(high.y, p.y)};
        }
    NwPlot *tight = nw_plot_new(high.x - low.x, high.y - low.y);
    nw_plot_paste(tight, plot, (NwPoint){-low.x, -low.y});
    nw_plot_free(plot);
    return tight;
}

static NwPlot *draw_net(const NwNetTabs *tabs, const NwPiece *piece, size_t net,
                        const size_t *letters) {
    Draft draft = {tabs, piece, nw_plot_new(1, 1), net, tint_of(piece)};
    size_t named = roomiest_face(tabs, net);
    for (size_t f = 0; f < tabs->faces->count; f++)
        if (tabs->nets->net[f] == net)
            fill_face(&draft, f);
    for (size_t f = 0; f < tabs->faces->count; f++)
        if (tabs->nets->net[f] == net) {
            draw_rim(&draft, f, letters);
            name_face(&draft, f, f == named);
        }
    return cropped(draft.plot);
}

static void refuse(const NwPiece *piece, size_t face, bool too_large, const NwNetOptions *options,
                   GError **error) {
    if (too_large)
        g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT,
                    _("face %d of piece “%s” does not fit on %s paper at %g mm per cell; use "
                      "smaller cells (--cell-mm) or larger paper (--paper)"),
                    (int)face + 1, piece->name, options->paper->name, options->cell_mm);
    else
        g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT,
                    _("face %d of piece “%s” is too small at %g mm a cell for card of %g mm with "
                      "a clearance of %g mm: nothing would be left of it. Take larger cells "
                      "(--cell-mm) or thinner card (--card-mm)"),
                    (int)face + 1, piece->name, options->cell_mm, options->card_mm,
                    options->clearance_mm);
}

static size_t count_bare(const NwNetTabs *tabs) {
    size_t bare = 0;
    for (size_t e = 0; e < tabs->faces->edge_count; e++)
        bare += !tabs->folded[e] && tabs->tabs[e].face == NW_NO_EDGE;
    return bare;
}

/* The judge of unfoldings: edges that get no tab. */
static double cost_of(const NwPieceFaces *faces, const NwNets *nets, const void *data) {
    const NwNetOptions *options = data;
    NwUnfoldOptions unfold = {.cell_mm = options->cell_mm};
    NwNetTabs *tabs = nw_net_tabs_new(faces, nets, &unfold, options->tab_mm);
    double cost = (double)count_bare(tabs);
    nw_net_tabs_free(tabs);
    return cost;
}

NwPieceNets *nw_piece_nets_new(const NwPiece *piece, const NwNetOptions *options, GError **error) {
    NwPieceFaces *faces = nw_faces_new(piece->solid);
    NwUnfoldOptions unfold = {options->cell_mm,
                              options->card_mm + options->clearance_mm,
                              nw_paper_room_x(options->paper) - 2 * options->tab_mm,
                              nw_paper_room_y(options->paper) - 2 * options->tab_mm,
                              0,
                              options->tab_mm > 0 ? cost_of : NULL,
                              options,
                              options->progress};
    size_t culprit = 0;
    bool too_large = false;
    NwPieceNets *result = NULL;
    NwNets *nets = nw_unfold(faces, &unfold, &culprit, &too_large);
    if (nets) {
        NwNetTabs *tabs = nw_net_tabs_new(faces, nets, &unfold, options->tab_mm);
        size_t *letters = nw_alloc(faces->edge_count, sizeof *letters), letter = 0;
        result = nw_alloc(1, sizeof *result);
        *result = (NwPieceNets){nw_alloc(nets->count, sizeof(NwPlot *)),
                                nets->count,
                                faces->shells,
                                0,
                                0,
                                faces->count};
        for (size_t e = 0; e < faces->edge_count; e++) {
            if (tabs->folded[e])
                continue;
            letters[e] = letter++;
        }
        result->bare = count_bare(tabs);
        result->tabs = letter - result->bare;
        for (size_t net = 0; net < nets->count; net++)
            result->plots[net] = draw_net(tabs, piece, net, letters);
        free(letters);
        nw_net_tabs_free(tabs);
        nw_nets_free(nets, faces);
    } else if (nw_progress_is_stopped(options->progress)) {
        nw_progress_set_error(error);
    } else {
        refuse(piece, culprit, too_large, options, error);
    }
    nw_faces_free(faces);
    return result;
}

void nw_piece_nets_free(NwPieceNets *nets) {
    if (!nets)
        return;
    for (size_t i = 0; i < nets->count; i++)
        nw_plot_free(nets->plots[i]);
    free(nets->plots);
    free(nets);
}
