#include "make/plot.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

static const NwInkRow rows[NW_INK_COUNT] = {
    [NW_INK_CUT] = {"CUT", 0.25, 0x000000, 7, 0, {0}},
    [NW_INK_MOUNTAIN] = {"MOUNTAIN", 0.2, 0xb03a2e, 1, 2, {2.4, 1.0}},
    [NW_INK_VALLEY] = {"VALLEY", 0.2, 0x1f4e9c, 5, 4, {2.4, 0.8, 0.3, 0.8}},
    [NW_INK_INNER] = {"INNER", 0.15, 0x6b7280, 8, 2, {0.8, 0.8}},
    [NW_INK_NOTE] = {"NOTE", 0.15, 0x3a3f47, 3, 0, {0}},
    [NW_INK_STOCK] = {"STOCK", 0.15, 0x8a6d3b, 9, 0, {0}},
};

const NwInkRow *nw_ink_row(NwInk ink) {
    return &rows[ink];
}

NwPlot *nw_plot_new(double width_mm, double height_mm) {
    NwPlot *plot = nw_alloc(1, sizeof *plot);
    plot->width_mm = width_mm;
    plot->height_mm = height_mm;
    return plot;
}

void nw_plot_free(NwPlot *plot) {
    if (!plot)
        return;
    for (size_t i = 0; i < plot->stroke_count; i++)
        free(plot->strokes[i].points);
    for (size_t i = 0; i < plot->label_count; i++)
        free(plot->labels[i].text);
    free(plot->strokes);
    free(plot->labels);
    free(plot);
}

static void add_stroke(NwPlot *plot, NwStroke stroke, const NwPoint *points, NwPoint shift) {
    plot->strokes =
        nw_grow(plot->strokes, plot->stroke_count, &plot->stroke_capacity, sizeof(NwStroke));
    stroke.points = nw_alloc(stroke.count, sizeof(NwPoint));
    for (size_t i = 0; i < stroke.count; i++)
        stroke.points[i] = (NwPoint){points[i].x + shift.x, points[i].y + shift.y};
    plot->strokes[plot->stroke_count++] = stroke;
}

static void add_label(NwPlot *plot, NwLabel label) {
    plot->labels = nw_grow(plot->labels, plot->label_count, &plot->label_capacity, sizeof(NwLabel));
    label.text = nw_dup_string(label.text);
    plot->labels[plot->label_count++] = label;
}

void nw_plot_line(NwPlot *plot, NwInk ink, NwPoint from, NwPoint to) {
    NwPoint points[2] = {from, to};
    add_stroke(plot, (NwStroke){ink, NULL, 2, false, NW_NO_TINT}, points, (NwPoint){0, 0});
}

void nw_plot_loop(NwPlot *plot, NwInk ink, const NwPoint *points, size_t count, int tint) {
    add_stroke(plot, (NwStroke){ink, NULL, count, true, tint}, points, (NwPoint){0, 0});
}

void nw_plot_label(NwPlot *plot, NwPoint at, double height_mm, double degrees, int align, bool bold,
                   const char *text) {
    char *copy = nw_dup_string(text);
    add_label(plot, (NwLabel){at, height_mm, degrees, align, bold, copy});
    free(copy);
}

void nw_plot_paste(NwPlot *plot, const NwPlot *other, NwPoint shift) {
    for (size_t i = 0; i < other->stroke_count; i++)
        add_stroke(plot, other->strokes[i], other->strokes[i].points, shift);
    for (size_t i = 0; i < other->label_count; i++) {
        NwLabel label = other->labels[i];
        label.at = (NwPoint){label.at.x + shift.x, label.at.y + shift.y};
        add_label(plot, label);
    }
}
