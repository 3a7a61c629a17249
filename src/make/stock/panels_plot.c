#include <glib/gi18n.h>
#include <stdlib.h>

#include "base/memory.h"
#include "make/pack.h"
#include "make/safety/safety_notes.h"
#include "make/stock/nest.h"
#include "make/text.h"

static const double sheet_width_mm = 400, gap_mm = NW_NEST_GAP_MM, head_mm = 15, endless_mm = 1e6,
                    small_mm = 2.2, line_mm = 4.5;

static void draw_region(NwPlot *plot, NwInk ink, const NwRegion *region, const NwBlank *blank) {
    for (size_t k = 0; k < region->count; k++) {
        const NwOutline *loop = &region->loops[k];
        NwPoint *points = nw_alloc(loop->count, sizeof *points);
        for (size_t i = 0; i < loop->count; i++)
            points[i] = nw_blank_point(blank, loop->points[i]);
        nw_plot_loop(plot, ink, points, loop->count, NW_NO_TINT);
        free(points);
    }
}

/* The tilt of the saw, inside each edge and along it. */
static void draw_tilts(NwPlot *plot, const NwPanel *panel, const NwBlank *blank) {
    for (size_t i = 0; i < panel->edge_count; i++) {
        NwPoint from = nw_blank_point(blank, panel->sides[i].from);
        NwPoint to = nw_blank_point(blank, panel->sides[i].to);
        NwPoint along = nw_point_sub(to, from),
                middle = nw_point_scale(nw_point_add(from, to), 0.5);
        double length = nw_point_length(along), height = fmin(2, 0.12 * length);
        double degrees = atan2(along.y, along.x) * 180 / G_PI;
        NwPoint in = nw_point_scale((NwPoint){-along.y, along.x}, 0.95 * height / length);
        if (degrees > 90 + 1e-6)
            degrees -= 180;
        else if (degrees <= -90 + 1e-6)
            degrees += 180;
        char *text = nw_dup_degrees(panel->edges[i].tilt);
        nw_plot_label(plot, nw_point_add(middle, in), height, degrees, 0, false, text);
        g_free(text);
    }
}

/* A spot well inside the panel: of points on a grid, the one farthest from the rim. */
static NwPoint middle_of(const NwRegion *region, double *room) {
    enum { GRID = 24 };
    NwBox box = nw_region_box(region);
    NwPoint best = box.low;
    *room = 0;
    for (int i = 1; i < GRID; i++)
        for (int k = 1; k < GRID; k++) {
            NwPoint at = {box.low.x + (box.high.x - box.low.x) * i / GRID,
                          box.low.y + (box.high.y - box.low.y) * k / GRID};
            double distance =
                nw_region_holds(region, at, 0) ? nw_region_rim_distance(region, at) : 0;
            if (distance > *room + NW_REGION_TOUCH_MM) {
                *room = distance;
                best = at;
            }
        }
    return best;
}

static void draw_panel(NwPlot *plot, const NwPanel *panel, const NwBlank *blank, const char *text) {
    double room;
    NwPoint at = nw_blank_point(blank, middle_of(&panel->inside, &room));
    draw_region(plot, NW_INK_CUT, &panel->cut, blank);
    draw_region(plot, NW_INK_INNER, &panel->inside, blank);
    draw_tilts(plot, panel, blank);
    nw_plot_label(plot, at, fmin(3, fmax(1.7, 0.34 * room)), 0, 0, true, text);
}

/* What a drawing says at its head. `line`: what the numbers in the panels are, and how edges are
 * marked. */
typedef struct Head {
    const char *line;
    char **cautions;
    double height_mm;
} Head;

static Head head_of(const NwPanelOptions *o, const char *line, double width_mm) {
    Head head = {line, nw_dup_caution_lines(o->tools, nw_plot_letters(width_mm, small_mm)), 0};
    head.height_mm = head_mm + line_mm * g_strv_length(head.cautions);
    return head;
}

/* Draws it and frees what it holds. */
static void draw_head(NwPlot *plot, const NwDesign *design, const NwPanelOptions *o, Head *head) {
    char *text = g_strdup_printf(_("%s · 1 cell = %g mm · sheet %g mm · kerf %g mm"), design->name,
                                 o->cell_mm, o->sheet_mm, o->kerf_mm);
    nw_plot_label(plot, (NwPoint){gap_mm, plot->height_mm - 6}, 3, 0, -1, true, text);
    nw_plot_label(plot, (NwPoint){gap_mm, plot->height_mm - 11.5}, small_mm, 0, -1, false,
                  head->line);
    for (int i = 0; head->cautions[i]; i++)
        nw_plot_label(plot, (NwPoint){gap_mm, plot->height_mm - 16 - line_mm * i}, small_mm, 0, -1,
                      false, head->cautions[i]);
    g_strfreev(head->cautions);
    g_free(text);
}

NwPlot *nw_panels_plot(const NwPanels *panels, const NwDesign *design,
                       const NwPanelOptions *options) {
    NwPacked *items = nw_alloc(panels->count, sizeof *items);
    double width = sheet_width_mm, height = 0;
    for (size_t i = 0; i < panels->count; i++) {
        NwBox box = nw_region_box(&panels->panels[i].cut);
        items[i] = (NwPacked){box.high.x - box.low.x, box.high.y - box.low.y, 0, 0, 0};
        width = fmax(width, items[i].width + 2 * gap_mm);
    }
    nw_pack(items, panels->count, width - 2 * gap_mm, endless_mm, gap_mm);
    for (size_t i = 0; i < panels->count; i++)
        height = fmax(height, items[i].y + items[i].height);
    Head head = head_of(options,
                        _("number × how many · outside up · along each edge the tilt of the saw "
                          "from square, negative where the inside is larger · dashed: inside"),
                        width - 2 * gap_mm);
    NwPlot *plot = nw_plot_new(width, height + 2 * gap_mm + head.height_mm);
    for (size_t i = 0; i < panels->count; i++) {
        NwBox box = nw_region_box(&panels->panels[i].cut);
        NwPoint corner = {gap_mm + items[i].x, gap_mm + items[i].y};
        NwBlank blank = {i, 0, 0, nw_point_sub(corner, box.low)};
        char *text = g_strdup_printf("%d ×%d", (int)i + 1, panels->panels[i].count);
        draw_panel(plot, &panels->panels[i], &blank, text);
        g_free(text);
    }
    draw_head(plot, design, options, &head);
    free(items);
    return plot;
}

/* The rim of one sheet, and above it which one it is. */
static void draw_sheet(NwPlot *plot, const NwNest *nest, size_t sheet, NwPoint corner) {
    NwPoint rim[4] = {corner,
                      {corner.x + nest->width_mm, corner.y},
                      {corner.x + nest->width_mm, corner.y + nest->height_mm},
                      {corner.x, corner.y + nest->height_mm}};
    nw_plot_loop(plot, NW_INK_STOCK, rim, 4, NW_NO_TINT);
    char *text = g_strdup_printf(_("sheet %d of %d"), (int)sheet + 1, (int)nest->sheet_count);
    nw_plot_label(plot, (NwPoint){corner.x, rim[3].y + gap_mm / 2}, 2.6, 0, -1, true, text);
    g_free(text);
}

NwPlot *nw_nest_plot(const NwNest *nest, const NwPanels *panels, const NwDesign *design,
                     const NwPanelOptions *options) {
    double step = nest->width_mm + 2 * gap_mm;
    double width = fmax(sheet_width_mm, (double)nest->sheet_count * step);
    g_autofree char *count = nw_dup_nest_text(nest);
    g_autofree char *line =
        g_strdup_printf(_("%s · the number of each panel · outside up · along each edge the tilt "
                          "of the saw from square, negative where the inside is larger · dashed: "
                          "inside"),
                        count);
    Head head = head_of(options, line, width - 2 * gap_mm);
    NwPlot *plot = nw_plot_new(width, nest->height_mm + 3 * gap_mm + head.height_mm);
    for (size_t s = 0; s < nest->sheet_count; s++)
        draw_sheet(plot, nest, s, (NwPoint){gap_mm + (double)s * step, gap_mm});
    for (size_t i = 0; i < nest->count; i++) {
        NwBlank blank = nest->blanks[i];
        NwPoint corner = {gap_mm + (double)blank.sheet * step, gap_mm};
        blank.shift = nw_point_add(blank.shift, corner);
        char *text = g_strdup_printf("%d", (int)blank.panel + 1);
        draw_panel(plot, &panels->panels[blank.panel], &blank, text);
        g_free(text);
    }
    draw_head(plot, design, options, &head);
    return plot;
}

char *nw_panels_csv(const NwPanels *panels) {
    GString *out = g_string_new("panel,count,piece and faces,area mm2,edge lengths mm,"
                                "dihedral angles deg,saw tilts deg\r\n");
    for (size_t i = 0; i < panels->count; i++) {
        const NwPanel *panel = &panels->panels[i];
        g_string_append_printf(out, "%d,%d,", (int)i + 1, panel->count);
        nw_append_csv(out, panel->whose);
        nw_append_number(out, ",", nw_region_area(&panel->outside), 2);
        for (size_t k = 0; k < panel->edge_count; k++)
            nw_append_number(out, k ? " " : ",", panel->edges[k].length_mm, 3);
        for (size_t k = 0; k < panel->edge_count; k++)
            nw_append_number(out, k ? " " : ",", panel->edges[k].dihedral, 4);
        for (size_t k = 0; k < panel->edge_count; k++)
            nw_append_number(out, k ? " " : ",", panel->edges[k].tilt, 4);
        g_string_append(out, "\r\n");
    }
    return g_string_free(out, FALSE);
}
