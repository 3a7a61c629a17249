#include "make/text_layout.h"

#include <string.h>

#ifdef NW_PANGO
#include <pango/pangocairo.h>

static PangoLayout *lay_out(cairo_t *cr, const NwTextLayout *style, double width,
                            const char *text) {
    static const PangoAlignment alignments[] = {PANGO_ALIGN_LEFT, PANGO_ALIGN_CENTER,
                                                PANGO_ALIGN_RIGHT};
    PangoLayout *layout = pango_cairo_create_layout(cr);
    cairo_font_options_t *exact = cairo_font_options_create();
    cairo_font_options_set_hint_metrics(exact, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_hint_style(exact, CAIRO_HINT_STYLE_NONE);
    pango_cairo_context_set_font_options(pango_layout_get_context(layout), exact);
    cairo_font_options_destroy(exact);
    PangoFontDescription *font = pango_font_description_new();
    pango_font_description_set_family_static(font, style->serif ? "serif" : "sans-serif");
    pango_font_description_set_weight(font, style->bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_style(font, style->italic ? PANGO_STYLE_ITALIC : PANGO_STYLE_NORMAL);
    pango_font_description_set_absolute_size(font, style->size * PANGO_SCALE);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
    pango_layout_set_width(layout, (int)(width * PANGO_SCALE));
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_alignment(layout, alignments[style->align]);
    pango_layout_set_spacing(layout, (int)(0.15 * style->size * PANGO_SCALE));
    pango_layout_set_text(layout, text, -1);
    return layout;
}

double nw_text_layout_draw(cairo_t *cr, const NwTextLayout *style, double x, double y, double width,
                           const char *text) {
    int height;
    PangoLayout *layout = lay_out(cr, style, width, text);
    cairo_set_source_rgb(cr, style->grey, style->grey, style->grey);
    cairo_move_to(cr, x, y);
    pango_cairo_show_layout(cr, layout);
    pango_layout_get_size(layout, NULL, &height);
    g_object_unref(layout);
    return (double)height / PANGO_SCALE;
}

double nw_text_layout_measure(cairo_t *cr, const NwTextLayout *style, double width,
                              const char *text, double *taken) {
    int wide, height;
    PangoLayout *layout = lay_out(cr, style, width, text);
    pango_layout_get_size(layout, &wide, &height);
    g_object_unref(layout);
    if (taken)
        *taken = (double)wide / PANGO_SCALE;
    return (double)height / PANGO_SCALE;
}

#else

static const double line_height = 1.32;

static void choose_font(cairo_t *cr, const NwTextLayout *style) {
    cairo_select_font_face(cr, style->serif ? "serif" : "sans-serif",
                           style->italic ? CAIRO_FONT_SLANT_ITALIC : CAIRO_FONT_SLANT_NORMAL,
                           style->bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cr, style->size);
}

static double width_of(cairo_t *cr, const char *text) {
    cairo_text_extents_t extents;
    cairo_text_extents(cr, text, &extents);
    return extents.x_advance;
}

static void show(cairo_t *cr, const NwTextLayout *style, double x, double y, double width,
                 const char *line) {
    cairo_move_to(cr, x + (width - width_of(cr, line)) * style->align / 2, y + style->size);
    cairo_show_text(cr, line);
}

/* Breaks at spaces and new lines; draws if asked to. */
static double set(cairo_t *cr, const NwTextLayout *style, double x, double y, double width,
                  const char *text, gboolean draw, double *taken) {
    g_auto(GStrv) paragraphs = g_strsplit(text, "\n", -1);
    double height = 0;
    choose_font(cr, style);
    for (int p = 0; paragraphs[p]; p++) {
        g_auto(GStrv) words = g_strsplit(paragraphs[p], " ", -1);
        g_autoptr(GString) line = g_string_new(NULL);
        for (int w = 0;; w++) {
            g_autofree char *longer =
                words[w] ? g_strconcat(line->str, line->len ? " " : "", words[w], NULL) : NULL;
            if (longer && (!line->len || width_of(cr, longer) <= width)) {
                g_string_assign(line, longer);
                continue;
            }
            if (draw)
                show(cr, style, x, y + height, width, line->str);
            *taken = MAX(*taken, width_of(cr, line->str));
            height += line_height * style->size;
            if (!words[w])
                break;
            g_string_assign(line, words[w]);
        }
    }
    return height;
}

double nw_text_layout_draw(cairo_t *cr, const NwTextLayout *style, double x, double y, double width,
                           const char *text) {
    double taken = 0;
    cairo_set_source_rgb(cr, style->grey, style->grey, style->grey);
    return set(cr, style, x, y, width, text, TRUE, &taken);
}

double nw_text_layout_measure(cairo_t *cr, const NwTextLayout *style, double width,
                              const char *text, double *taken) {
    double most = 0, height = set(cr, style, 0, 0, width, text, FALSE, &most);
    if (taken)
        *taken = most;
    return height;
}

#endif
