/* A canvas: a drawing that becomes the bytes of a PDF or an SVG.
 *
 * Draw with `cr`, in points from the upper left corner, and finish it. Ownership: `finish` frees
 * all that it holds, also when it fails. Thread: one at a time. */
#ifndef NW_MAKE_CANVAS_H
#define NW_MAKE_CANVAS_H

#include <cairo.h>
#include <glib.h>

typedef struct NwCanvas {
    cairo_surface_t *surface;
    cairo_t *cr;
    GByteArray *bytes;
} NwCanvas;

/* Of one size for all pages, unless that is changed at the surface. */
NwCanvas nw_canvas_pdf(const char *title, double width, double height);
NwCanvas nw_canvas_svg(double width, double height);

/* The bytes; NULL with an error (G_IO_ERROR_FAILED) if cairo failed at any point. */
GBytes *nw_canvas_finish(NwCanvas *canvas, GError **error);

#endif
