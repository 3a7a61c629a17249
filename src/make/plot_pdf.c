#include <cairo-pdf.h>

#include "make/canvas.h"
#include "make/plot_write.h"

static const double points_per_mm = 72 / 25.4;

static void set_colour(cairo_t *cr, int colour) {
    cairo_set_source_rgb(cr, (colour >> 16 & 255) / 255.0, (colour >> 8 & 255) / 255.0,
                         (colour & 255) / 255.0);
}

static void draw_stroke(cairo_t *cr, const NwPlot *plot, const NwStroke *stroke) {
    const NwInkRow *row = nw_ink_row(stroke->ink);
    cairo_new_path(cr); /* a label leaves a point behind */
    for (size_t i = 0; i < stroke->count; i++)
        cairo_line_to(cr, stroke->points[i].x, plot->height_mm - stroke->points[i].y);
    if (stroke->closed)
        cairo_close_path(cr);
    if (stroke->tint != NW_NO_TINT) {
        set_colour(cr, stroke->tint);
        cairo_fill(cr);
        return;
    }
    set_colour(cr, row->colour);
    cairo_set_line_width(cr, row->width_mm);
    cairo_set_dash(cr, row->dashes_mm, row->dash_count, 0);
    cairo_stroke(cr);
}

static void draw_label(cairo_t *cr, const NwPlot *plot, const NwLabel *label) {
    cairo_text_extents_t extents;
    cairo_save(cr);
    cairo_translate(cr, label->at.x, plot->height_mm - label->at.y);
    cairo_rotate(cr, -label->degrees * G_PI / 180);
    cairo_select_font_face(cr, "sans-serif", CAIRO_FONT_SLANT_NORMAL,
                           label->bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cr, label->height_mm / NW_CAPITAL);
    cairo_text_extents(cr, label->text, &extents);
    cairo_move_to(cr, -extents.x_advance * (label->align + 1) / 2,
                  label->height_mm * NW_LABEL_DROP);
    set_colour(cr, nw_ink_row(NW_INK_NOTE)->colour);
    cairo_show_text(cr, label->text);
    cairo_restore(cr);
}

static void draw_page(cairo_t *cr, cairo_surface_t *surface, const NwPlot *plot) {
    cairo_pdf_surface_set_size(surface, plot->width_mm * points_per_mm,
                               plot->height_mm * points_per_mm);
    cairo_save(cr);
    cairo_scale(cr, points_per_mm, points_per_mm);
    cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
    cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
    for (size_t i = 0; i < plot->stroke_count; i++)
        draw_stroke(cr, plot, &plot->strokes[i]);
    for (size_t i = 0; i < plot->label_count; i++)
        draw_label(cr, plot, &plot->labels[i]);
    cairo_restore(cr);
    cairo_show_page(cr);
}

GBytes *nw_plots_to_pdf(const NwPlot *const *plots, size_t count, const char *title,
                        GError **error) {
    NwCanvas canvas = nw_canvas_pdf(title, 1, 1); /* each page has a size of its own */
    for (size_t i = 0; i < count; i++)
        draw_page(canvas.cr, canvas.surface, plots[i]);
    return nw_canvas_finish(&canvas, error);
}
