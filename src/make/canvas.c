#include "make/canvas.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <gio/gio.h>

static cairo_status_t collect(void *closure, const unsigned char *data, unsigned int length) {
    g_byte_array_append(closure, data, length);
    return CAIRO_STATUS_SUCCESS;
}

NwCanvas nw_canvas_pdf(const char *title, double width, double height) {
    NwCanvas canvas = {.bytes = g_byte_array_new()};
    canvas.surface = cairo_pdf_surface_create_for_stream(collect, canvas.bytes, width, height);
    cairo_pdf_surface_set_metadata(canvas.surface, CAIRO_PDF_METADATA_TITLE, title);
    canvas.cr = cairo_create(canvas.surface);
    return canvas;
}

NwCanvas nw_canvas_svg(double width, double height) {
    NwCanvas canvas = {.bytes = g_byte_array_new()};
    canvas.surface = cairo_svg_surface_create_for_stream(collect, canvas.bytes, width, height);
    canvas.cr = cairo_create(canvas.surface);
    return canvas;
}

GBytes *nw_canvas_finish(NwCanvas *canvas, GError **error) {
    cairo_status_t status = cairo_status(canvas->cr);
    cairo_destroy(canvas->cr);
    cairo_surface_finish(canvas->surface);
    if (status == CAIRO_STATUS_SUCCESS)
        status = cairo_surface_status(canvas->surface);
    cairo_surface_destroy(canvas->surface);
    if (status == CAIRO_STATUS_SUCCESS)
        return g_byte_array_free_to_bytes(canvas->bytes);
    g_byte_array_unref(canvas->bytes);
    g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_FAILED, cairo_status_to_string(status));
    return NULL;
}
