#include "measure/chart.h"

#include <glib/gi18n.h>
#include <math.h>

#include "make/canvas.h"
#include "make/text_layout.h"

static const double width = NW_CHART_WIDTH, height = NW_CHART_HEIGHT;
static const double left = 62, right = 16, top = 34, bottom = 64;

NwChartScale nw_chart_scale(const double *values, gsize count) {
    NwChartScale scale = {.low = count ? values[0] : 0, .high = count ? values[0] : 1};
    for (gsize i = 0; i < count; i++) {
        scale.low = fmin(scale.low, values[i]);
        scale.high = fmax(scale.high, values[i]);
    }
    scale.powers = scale.low > 0 && scale.high > 30 * scale.low;
    if (scale.powers) { /* whole powers of ten */
        scale.low = pow(10, floor(log10(scale.low)));
        scale.high = pow(10, ceil(log10(scale.high)));
    } else { /* from 0 to a round number */
        scale.low = 0;
        double unit = pow(10, floor(log10(scale.high > 0 ? scale.high : 1)));
        scale.high = unit * fmax(1, ceil(1.02 * scale.high / unit));
    }
    return scale;
}

double nw_chart_place(const NwChartScale *scale, double value) {
    if (scale->powers)
        return log(value / scale->low) / log(scale->high / scale->low);
    return (value - scale->low) / (scale->high - scale->low);
}

static double x_of(const NwChartScale *scale, double value) {
    return left + (width - left - right) * (0.04 + 0.92 * nw_chart_place(scale, value));
}

static double y_of(const NwChartScale *scale, double value) {
    return height - bottom - (height - top - bottom) * nw_chart_place(scale, value);
}

/* The values with a mark, 2 to 10 of them; returns how many. */
static int marks_of(const NwChartScale *scale, double marks[16]) {
    int count = 0;
    if (scale->powers) {
        double step = ceil(log10(scale->high / scale->low) / 8);
        for (double value = scale->low; value < 1.5 * scale->high && count < 16;
             value *= pow(10, step))
            marks[count++] = value;
        return count;
    }
    double step = pow(10, floor(log10(scale->high)));
    if (scale->high / step < 4)
        step /= 2;
    for (int i = 0; i * step < 1.001 * scale->high && count < 16; i++)
        marks[count++] = i * step;
    return count;
}

static char *dup_mark(double value) {
    if (value >= 1e5)
        return g_strdup_printf("10^%.0f", log10(value));
    return g_strdup_printf("%g", value);
}

static void line(cairo_t *cr, double x0, double y0, double x1, double y1, double grey) {
    cairo_set_source_rgb(cr, grey, grey, grey);
    cairo_set_line_width(cr, 0.7);
    cairo_new_path(cr);
    cairo_move_to(cr, x0, y0);
    cairo_line_to(cr, x1, y1);
    cairo_stroke(cr);
}

static void draw_axes(cairo_t *cr, const NwChart *chart, const NwChartScale *across,
                      const NwChartScale *up) {
    const NwTextLayout number = {.size = 9, .align = NW_ALIGN_MIDDLE, .grey = 0.3};
    const NwTextLayout name = {.size = 10, .align = NW_ALIGN_MIDDLE};
    NwTextLayout beside = number;
    double marks[16];
    beside.align = NW_ALIGN_RIGHT;
    for (int i = 0, count = marks_of(up, marks); i < count; i++) {
        double y = y_of(up, marks[i]);
        g_autofree char *text = dup_mark(marks[i]);
        line(cr, left, y, width - right, y, i ? 0.88 : 0.3);
        nw_text_layout_draw(cr, &beside, 0, y - 6, left - 6, text);
    }
    for (int i = 0, count = marks_of(across, marks); i < count; i++) {
        double x = x_of(across, marks[i]);
        g_autofree char *text = dup_mark(marks[i]);
        line(cr, x, height - bottom, x, height - bottom + 4, 0.3);
        nw_text_layout_draw(cr, &number, x - 40, height - bottom + 6, 80, text);
    }
    nw_text_layout_draw(cr, &name, left, height - bottom + 22, width - left - right,
                        chart->measure);
    const NwTextLayout corner = {.size = 10};
    nw_text_layout_draw(cr, &corner, left - 30, top - 22, 200, _("Minutes"));
}

static void draw_dot(cairo_t *cr, double x, double y, const NwChartDot *dot) {
    const double radius = 3.4;
    cairo_new_path(cr);
    if (dot->colours)
        cairo_arc(cr, x, y, radius, 0, 2 * G_PI);
    else
        cairo_rectangle(cr, x - radius + 0.4, y - radius + 0.4, 2 * radius - 0.8, 2 * radius - 0.8);
    cairo_set_line_width(cr, 1.1);
    if (dot->gave_up)
        cairo_set_source_rgb(cr, 1, 1, 1);
    else
        cairo_set_source_rgba(cr, 0, 0.447, 0.698, 0.75);
    cairo_fill_preserve(cr);
    cairo_set_source_rgb(cr, 0, 0.3, 0.5);
    cairo_stroke(cr);
}

static void draw_key(cairo_t *cr) {
    static const NwChartDot rows[] = {{.colours = TRUE}, {0}, {.colours = TRUE, .gave_up = TRUE}};
    const char *names[] = {_("with colours"), _("without"), _("open: given up")};
    const NwTextLayout small = {.size = 9, .grey = 0.3};
    double x = width - right;
    for (int i = 2; i >= 0; i--) {
        double wide;
        nw_text_layout_measure(cr, &small, 300, names[i], &wide);
        x -= wide + 8;
        nw_text_layout_draw(cr, &small, x, top - 22, wide + 4, names[i]);
        x -= 8;
        draw_dot(cr, x, top - 16, &rows[i]);
        x -= 12;
    }
}

/* Each design once, over its uppermost dot. */
static void draw_names(cairo_t *cr, const NwChart *chart, const NwChartScale *across,
                       const NwChartScale *up) {
    const NwTextLayout small = {.size = 8, .italic = TRUE, .align = NW_ALIGN_MIDDLE, .grey = 0.35};
    for (gsize i = 0; i < chart->count; i++) {
        gboolean uppermost = TRUE;
        for (gsize k = 0; k < chart->count; k++)
            if (g_str_equal(chart->dots[k].design, chart->dots[i].design) &&
                (chart->dots[k].minutes > chart->dots[i].minutes ||
                 (chart->dots[k].minutes == chart->dots[i].minutes && k < i)))
                uppermost = FALSE;
        if (!uppermost)
            continue;
        double wide;
        nw_text_layout_measure(cr, &small, 200, chart->dots[i].design, &wide);
        double x = x_of(across, chart->dots[i].value) - wide / 2;
        x = fmax(left, fmin(x, width - right - wide));
        nw_text_layout_draw(cr, &small, x, y_of(up, chart->dots[i].minutes) - 17, wide + 1,
                            chart->dots[i].design);
    }
}

void nw_chart_draw(cairo_t *cr, const NwChart *chart) {
    g_autofree double *values = g_new(double, chart->count + 1);
    g_autofree double *minutes = g_new(double, chart->count + 1);
    for (gsize i = 0; i < chart->count; i++) {
        values[i] = chart->dots[i].value;
        minutes[i] = chart->dots[i].minutes;
    }
    NwChartScale across = nw_chart_scale(values, chart->count);
    NwChartScale up = nw_chart_scale(minutes, chart->count);
    cairo_set_source_rgb(cr, 1, 1, 1);
    cairo_new_path(cr);
    cairo_rectangle(cr, 0, 0, width, height);
    cairo_fill(cr);
    draw_axes(cr, chart, &across, &up);
    draw_key(cr);
    for (gsize i = 0; i < chart->count; i++)
        draw_dot(cr, x_of(&across, chart->dots[i].value), y_of(&up, chart->dots[i].minutes),
                 &chart->dots[i]);
    draw_names(cr, chart, &across, &up);
}

static GBytes *finish(const NwChart *chart, NwCanvas canvas, GError **error) {
    nw_chart_draw(canvas.cr, chart);
    cairo_show_page(canvas.cr);
    return nw_canvas_finish(&canvas, error);
}

GBytes *nw_chart_to_pdf(const NwChart *chart, GError **error) {
    return finish(chart, nw_canvas_pdf(chart->title, width, height), error);
}

GBytes *nw_chart_to_svg(const NwChart *chart, GError **error) {
    return finish(chart, nw_canvas_svg(width, height), error);
}
