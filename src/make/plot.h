/* A drawing to be cut, folded or read: lines and labels in millimetres.
 *
 * Everything that this folder draws flat (nets, panels, tables) is a plot first; a plot is then
 * written as a page of a PDF, as SVG or as DXF. Lines have an ink, and an ink says what the line
 * is for, so that all writers tell them apart in the same way: colour, width, dashes, layer.
 *
 * Coordinates: millimetres, x to the right, y upwards, (0,0) at the lower left corner.
 * Ownership: a plot owns all it holds; `add` copies. Thread: one writer or many readers. */
#ifndef NW_MAKE_PLOT_H
#define NW_MAKE_PLOT_H

#include <stdbool.h>
#include <stddef.h>

#include "make/exact_plane.h"

typedef enum NwInk {
    NW_INK_CUT,
    NW_INK_MOUNTAIN, /* a fold that rises towards the reader */
    NW_INK_VALLEY,   /* one that sinks */
    NW_INK_INNER,    /* what is seen on the far side of a sheet, or the size without kerf */
    NW_INK_NOTE,     /* text and rulers */
    NW_INK_STOCK,    /* the rim of a sheet as it is bought */
    NW_INK_COUNT
} NwInk;

enum { NW_DASHES_MAX = 4, NW_NO_TINT = -1 };

/* Of each ink: its name (a layer's), its width, its colour, and lengths of dashes and gaps. */
typedef struct NwInkRow {
    const char *name;
    double width_mm;
    int colour;       /* 0xrrggbb */
    int colour_index; /* the nearest of DXF's first colours */
    int dash_count;
    double dashes_mm[NW_DASHES_MAX];
} NwInkRow;

typedef struct NwStroke {
    NwInk ink;
    NwPoint *points;
    size_t count;
    bool closed;
    int tint; /* fills a closed stroke, without a line; or NW_NO_TINT: a line and nothing in it */
} NwStroke;

typedef struct NwLabel {
    NwPoint at;       /* of the middle of its height */
    double height_mm; /* of a capital letter */
    double degrees;   /* counter-clockwise */
    int align;        /* -1: `at` is its left end, 0: its middle, 1: its right end */
    bool bold;
    char *text;
} NwLabel;

typedef struct NwPlot {
    double width_mm, height_mm;
    NwStroke *strokes;
    size_t stroke_count, stroke_capacity;
    NwLabel *labels;
    size_t label_count, label_capacity;
} NwPlot;

const NwInkRow *nw_ink_row(NwInk ink);

NwPlot *nw_plot_new(double width_mm, double height_mm);
void nw_plot_free(NwPlot *plot); /* NULL is allowed */

void nw_plot_line(NwPlot *plot, NwInk ink, NwPoint from, NwPoint to);
void nw_plot_loop(NwPlot *plot, NwInk ink, const NwPoint *points, size_t count, int tint);
void nw_plot_label(NwPlot *plot, NwPoint at, double height_mm, double degrees, int align, bool bold,
                   const char *text);

/* Adds all of `other`, shifted. */
void nw_plot_paste(NwPlot *plot, const NwPlot *other, NwPoint shift);

/* The middle line of a label is lowered by this much to find its base line. */
#define NW_LABEL_DROP 0.5
/* A capital letter's height as a share of the size of the font. */
#define NW_CAPITAL 0.72

/* How many letters of a label surely have room in a width: they are taken as wide as 0.56 of the
 * size of the font, over what text of a sans serif has on average. */
static inline int nw_plot_letters(double width_mm, double height_mm) {
    return (int)(width_mm / (0.56 * height_mm / NW_CAPITAL));
}

#endif
