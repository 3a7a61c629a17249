/* Lines and paragraphs of text on a page.
 *
 * Drawn by Pango where Notchwright was built with it, so that any script comes out right; else by
 * cairo alone, which breaks lines at spaces and knows no more than that.
 * Coordinates: units of the page, y down; sizes of type in the same units. Thread: that of the
 * page. */
#ifndef NW_MAKE_TEXT_LAYOUT_H
#define NW_MAKE_TEXT_LAYOUT_H

#include <cairo.h>
#include <glib.h>

typedef enum NwAlign { NW_ALIGN_LEFT, NW_ALIGN_MIDDLE, NW_ALIGN_RIGHT } NwAlign;

typedef struct NwTextLayout {
    double size;
    gboolean bold, italic, serif;
    NwAlign align;
    double grey; /* 0: black */
} NwTextLayout;

/* Draws a paragraph with its upper left corner there, no wider than `width`; returns its height. */
double nw_text_layout_draw(cairo_t *cr, const NwTextLayout *style, double x, double y, double width,
                           const char *text);

/* The height of the same paragraph, and the width that it takes (NULL allowed). */
double nw_text_layout_measure(cairo_t *cr, const NwTextLayout *style, double width,
                              const char *text, double *taken);

#endif
