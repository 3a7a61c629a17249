#include "make/sheet/sheet_page.h"

#include <math.h>

static const double margin_mm = 18;

static void draw_foot(NwSheetPage *page) {
    const NwTextLayout small = {.size = 8, .grey = 0.45};
    NwTextLayout right = small;
    right.align = NW_ALIGN_RIGHT;
    g_autofree char *number = g_strdup_printf("%d", page->number);
    double y = page->height - 12 * NW_POINTS_PER_MM;
    nw_text_layout_draw(page->cr, &small, page->left, y, page->right - page->left,
                        page->sheet->title);
    nw_text_layout_draw(page->cr, &right, page->left, y, page->right - page->left, number);
}

void nw_sheet_page_end(NwSheetPage *page) {
    if (!page->number)
        return;
    draw_foot(page);
    cairo_show_page(page->cr);
}

void nw_sheet_page_begin(NwSheetPage *page) {
    nw_sheet_page_end(page);
    page->number++;
    page->width = page->sheet->paper->width_mm * NW_POINTS_PER_MM;
    page->height = page->sheet->paper->height_mm * NW_POINTS_PER_MM;
    page->left = margin_mm * NW_POINTS_PER_MM;
    page->top = margin_mm * NW_POINTS_PER_MM;
    page->right = page->width - page->left;
    page->bottom = page->height - page->top;
}

double nw_sheet_page_text(NwSheetPage *page, const NwTextLayout *style, double y,
                          const char *text) {
    return y + nw_text_layout_draw(page->cr, style, page->left, y, page->right - page->left, text);
}

void nw_sheet_page_rule(NwSheetPage *page, double y, double grey) {
    cairo_set_source_rgb(page->cr, grey, grey, grey);
    cairo_set_line_width(page->cr, 0.6);
    cairo_new_path(page->cr);
    cairo_move_to(page->cr, page->left, y);
    cairo_line_to(page->cr, page->right, y);
    cairo_stroke(page->cr);
}

/* A letter on a small white disc, or a longer name on a white band with round ends. */
static void draw_label(cairo_t *cr, double x, double y, const char *text) {
    const NwTextLayout letter = {.size = 8, .bold = TRUE};
    double wide, height = nw_text_layout_measure(cr, &letter, 400, text, &wide);
    double half = MAX(wide / 2 + 2.2, 0.62 * height), radius = 0.62 * height;
    cairo_new_path(cr);
    cairo_arc(cr, x + half - radius, y, radius, -G_PI_2, G_PI_2);
    cairo_arc(cr, x - half + radius, y, radius, G_PI_2, 3 * G_PI_2);
    cairo_close_path(cr);
    cairo_set_source_rgba(cr, 1, 1, 1, 0.92);
    cairo_fill_preserve(cr);
    cairo_set_source_rgb(cr, 0.15, 0.15, 0.15);
    cairo_set_line_width(cr, 0.5);
    cairo_stroke(cr);
    nw_text_layout_draw(cr, &letter, x - wide / 2, y - height / 2, wide + 1, text);
}

/* A red arrow with a white rim, not too short to be seen. */
static void draw_arrow(cairo_t *cr, double from_x, double from_y, double to_x, double to_y) {
    const double least = 26, head = 8, width = 2.2;
    double x = to_x - from_x, y = to_y - from_y, length = hypot(x, y);
    if (length < 1e-6)
        return;
    x /= length;
    y /= length;
    if (length < least) { /* longer at both ends */
        from_x -= x * (least - length) / 2;
        from_y -= y * (least - length) / 2;
        to_x = from_x + x * least;
        to_y = from_y + y * least;
    }
    cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
    for (int rim = 1; rim >= 0; rim--) {
        double out = rim ? 1.6 : 0;
        cairo_set_source_rgb(cr, rim ? 1 : 0.86, rim ? 1 : 0.13, rim ? 1 : 0.17);
        cairo_new_path(cr);
        cairo_move_to(cr, from_x, from_y);
        cairo_line_to(cr, to_x - x * head, to_y - y * head);
        cairo_set_line_width(cr, width + 2 * out);
        cairo_stroke(cr);
        cairo_move_to(cr, to_x, to_y);
        cairo_line_to(cr, to_x - x * head - y * head / 2, to_y - y * head + x * head / 2);
        cairo_line_to(cr, to_x - x * head + y * head / 2, to_y - y * head - x * head / 2);
        cairo_close_path(cr);
        cairo_set_line_width(cr, 2 * out);
        if (rim)
            cairo_stroke_preserve(cr);
        cairo_fill(cr);
    }
}

void nw_sheet_page_picture(NwSheetPage *page, const NwSheetPicture *picture, NwSheetBox box) {
    cairo_t *cr = page->cr;
    if (!picture->surface)
        return;
    double wide = cairo_image_surface_get_width(picture->surface);
    double high = cairo_image_surface_get_height(picture->surface);
    double scale = MIN(box.width / wide, box.height / high);
    double x = box.x + (box.width - scale * wide) / 2, y = box.y + (box.height - scale * high) / 2;
    cairo_save(cr);
    cairo_translate(cr, x, y);
    cairo_scale(cr, scale, scale);
    cairo_set_source_surface(cr, picture->surface, 0, 0);
    cairo_paint(cr);
    cairo_restore(cr);
    wide *= scale;
    high *= scale;
    if (picture->has_arrow)
        draw_arrow(cr, x + wide * picture->arrow[0][0], y + high * picture->arrow[0][1],
                   x + wide * picture->arrow[1][0], y + high * picture->arrow[1][1]);
    for (guint i = 0; picture->labels && i < picture->labels->len; i++) {
        const NwSheetLabel *label = &g_array_index(picture->labels, NwSheetLabel, i);
        draw_label(cr, x + wide * label->x, y + high * label->y, label->text);
    }
}
