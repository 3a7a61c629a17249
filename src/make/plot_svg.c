#include "make/plot_write.h"
#include "make/text.h"

/* To a tenth of a micrometre. */
static void append_number(GString *out, const char *before, double value) {
    nw_append_number(out, before, value, 4);
}

static void append_colour(GString *out, const char *name, int colour) {
    g_string_append_printf(out, " %s=\"#%06x\"", name, (unsigned)colour);
}

static void append_path(GString *out, const NwPlot *plot, const NwStroke *stroke) {
    g_string_append(out, "<path d=\"");
    for (size_t i = 0; i < stroke->count; i++) {
        append_number(out, i ? " L" : "M", stroke->points[i].x);
        append_number(out, ",", plot->height_mm - stroke->points[i].y);
    }
    g_string_append(out, stroke->closed ? " Z\"" : "\"");
    if (stroke->tint != NW_NO_TINT) {
        append_colour(out, "fill", stroke->tint);
        g_string_append(out, " stroke=\"none\"");
    }
    g_string_append(out, "/>\n");
}

static void append_group(GString *out, const NwPlot *plot, NwInk ink) {
    const NwInkRow *row = nw_ink_row(ink);
    bool begun = false;
    for (size_t i = 0; i < plot->stroke_count; i++) {
        const NwStroke *stroke = &plot->strokes[i];
        if (stroke->ink != ink || stroke->tint != NW_NO_TINT)
            continue;
        if (!begun) {
            g_string_append_printf(out, "<g id=\"%s\" fill=\"none\"", row->name);
            append_colour(out, "stroke", row->colour);
            append_number(out, " stroke-width=\"", row->width_mm);
            for (int d = 0; d < row->dash_count; d++)
                append_number(out, d ? " " : "\" stroke-dasharray=\"", row->dashes_mm[d]);
            g_string_append(out, "\">\n");
            begun = true;
        }
        append_path(out, plot, stroke);
    }
    if (begun)
        g_string_append(out, "</g>\n");
}

static void append_label(GString *out, const NwPlot *plot, const NwLabel *label) {
    static const char *const anchors[] = {"start", "middle", "end"};
    append_number(out, "<text transform=\"translate(", label->at.x);
    append_number(out, ",", plot->height_mm - label->at.y);
    append_number(out, ") rotate(", -label->degrees);
    append_number(out, ")\" y=\"", label->height_mm * NW_LABEL_DROP);
    append_number(out, "\" font-size=\"", label->height_mm / NW_CAPITAL);
    char *text = g_markup_escape_text(label->text, -1);
    g_string_append_printf(out, "\" text-anchor=\"%s\"%s>%s</text>\n", anchors[label->align + 1],
                           label->bold ? " font-weight=\"bold\"" : "", text);
    g_free(text);
}

GBytes *nw_plot_to_svg(const NwPlot *plot, const char *title) {
    GString *out = g_string_new("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg "
                                "xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\"");
    append_number(out, " width=\"", plot->width_mm);
    append_number(out, "mm\" height=\"", plot->height_mm);
    append_number(out, "mm\" viewBox=\"0 0 ", plot->width_mm);
    append_number(out, " ", plot->height_mm);
    char *text = g_markup_escape_text(title, -1);
    g_string_append_printf(out, "\">\n<title>%s</title>\n", text);
    g_free(text);
    for (size_t i = 0; i < plot->stroke_count; i++)
        if (plot->strokes[i].tint != NW_NO_TINT)
            append_path(out, plot, &plot->strokes[i]);
    for (NwInk ink = 0; ink < NW_INK_COUNT; ink++)
        append_group(out, plot, ink);
    g_string_append(out, "<g id=\"TEXT\" font-family=\"sans-serif\"");
    append_colour(out, "fill", nw_ink_row(NW_INK_NOTE)->colour);
    g_string_append(out, ">\n");
    for (size_t i = 0; i < plot->label_count; i++)
        append_label(out, plot, &plot->labels[i]);
    g_string_append(out, "</g>\n</svg>\n");
    return g_string_free_to_bytes(out);
}
