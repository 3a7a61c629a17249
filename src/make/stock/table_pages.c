#include <glib/gi18n.h>
#include <stdlib.h>

#include "base/memory.h"
#include "make/safety/safety_notes.h"
#include "make/stock/table.h"
#include "make/text.h"

static const double text_mm = 2.3, line_mm = 4.6, pad_mm = 3, small_mm = 1.9, small_line_mm = 2.9;
enum { ANGLES_A_LINE = 5 };

/* Columns: where each begins, as a share of the room's width, and how it is aligned. */
static const struct {
    const char *title;
    double at;
    int align;
} columns[] = {
    {N_("piece"), 0, -1},     {N_("copies"), 0.24, 1},   {N_("volume, cm³"), 0.37, 1},
    {N_("mass, g"), 0.47, 1}, {N_("box, mm"), 0.51, -1}, {N_("dihedral angles"), 0.71, -1},
};

typedef struct Pages {
    NwPlot **pages;
    size_t count, capacity;
    double y;        /* where the next line goes */
    char **cautions; /* lines at the foot */
    double foot;     /* where they begin */
    const NwDesign *design;
    const NwTableOptions *options;
} Pages;

static double column_x(const Pages *pages, size_t column) {
    return NW_PAPER_MARGIN_MM + 4 +
           columns[column].at * (nw_paper_room_x(pages->options->paper) - 8);
}

static void cell(Pages *pages, size_t column, double y, bool bold, const char *text) {
    nw_plot_label(pages->pages[pages->count - 1], (NwPoint){column_x(pages, column), y}, text_mm, 0,
                  columns[column].align, bold, text);
}

static void rule(Pages *pages) {
    const NwPaperSize *paper = pages->options->paper;
    nw_plot_line(pages->pages[pages->count - 1], NW_INK_NOTE,
                 (NwPoint){NW_PAPER_MARGIN_MM + 4, pages->y},
                 (NwPoint){paper->width_mm - NW_PAPER_MARGIN_MM - 4, pages->y});
}

static void begin_page(Pages *pages) {
    const NwTableOptions *o = pages->options;
    pages->pages = nw_grow(pages->pages, pages->count, &pages->capacity, sizeof(NwPlot *));
    NwPlot *page = nw_plot_new(o->paper->width_mm, o->paper->height_mm);
    pages->pages[pages->count++] = page;
    double left = column_x(pages, 0), top = page->height_mm - NW_PAPER_MARGIN_MM - 8;
    nw_plot_label(page, (NwPoint){left, top}, 4.2, 0, -1, true, pages->design->name);
    char *text = g_strdup_printf(_("1 cell = %g mm · %s, %.0f kg/m³ · full size, without "
                                   "clearance · box: as the piece is drawn"),
                                 o->cell_mm, o->material, o->density_kg_m3);
    nw_plot_label(page, (NwPoint){left, top - 7}, text_mm, 0, -1, false, text);
    g_free(text);
    for (int i = 0; pages->cautions[i]; i++)
        nw_plot_label(page, (NwPoint){left, pages->foot - small_line_mm * (i + 0.5)}, small_mm, 0,
                      -1, false, pages->cautions[i]);
    pages->y = top - 17;
    for (size_t i = 0; i < G_N_ELEMENTS(columns); i++)
        cell(pages, i, pages->y, true, _(columns[i].title));
    pages->y -= pad_mm;
    rule(pages);
}

static void add_angles(Pages *pages, const NwTableRow *row, double y) {
    for (size_t first = 0; first < row->angle_count; first += ANGLES_A_LINE) {
        GString *line = g_string_new(NULL);
        for (size_t k = first; k < row->angle_count && k < first + ANGLES_A_LINE; k++) {
            char *degrees = nw_dup_degrees(row->angles[k]);
            g_string_append_printf(line, "%s%s", k > first ? "  " : "", degrees);
            g_free(degrees);
        }
        cell(pages, 5, y, false, line->str);
        g_string_free(line, TRUE);
        y -= line_mm;
    }
}

static void add_row(Pages *pages, const char *name, int copies, const NwTableRow *row, bool bold) {
    double lines = fmax(1, ceil((double)row->angle_count / ANGLES_A_LINE));
    double height = lines * line_mm + pad_mm;
    if (pages->y - height < pages->foot + 2)
        begin_page(pages);
    double y = pages->y - pad_mm / 2 - line_mm / 2;
    char *copies_text = g_strdup_printf("%d", copies);
    char *volume = g_strdup_printf("%.2f", row->volume_cm3);
    char *mass = g_strdup_printf("%.1f", row->mass_g);
    cell(pages, 0, y, true, name);
    cell(pages, 1, y, bold, copies_text);
    cell(pages, 2, y, bold, volume);
    cell(pages, 3, y, bold, mass);
    if (row->angle_count) {
        char *box =
            g_strdup_printf("%.4g × %.4g × %.4g", row->box_mm[0], row->box_mm[1], row->box_mm[2]);
        cell(pages, 4, y, bold, box);
        g_free(box);
    }
    add_angles(pages, row, y);
    g_free(copies_text);
    g_free(volume);
    g_free(mass);
    pages->y -= height;
    rule(pages);
}

NwPlot **nw_table_pages(const NwDesign *design, const NwTableOptions *options, size_t *count) {
    Pages pages = {.design = design, .options = options};
    double width = nw_paper_room_x(options->paper) - 8;
    pages.cautions = nw_dup_caution_lines(options->tools, nw_plot_letters(width, small_mm));
    pages.foot = NW_PAPER_MARGIN_MM + small_line_mm * g_strv_length(pages.cautions);
    NwTableRow sum = {0};
    int copies = 0;
    begin_page(&pages);
    for (size_t i = 0; i < design->piece_count; i++) {
        const NwPiece *piece = &design->pieces[i];
        NwTableRow row;
        nw_table_row_fill(piece->solid, options, &row);
        add_row(&pages, piece->name, piece->copies, &row, false);
        copies += piece->copies;
        sum.volume_cm3 += piece->copies * row.volume_cm3;
        sum.mass_g += piece->copies * row.mass_g;
        nw_table_row_clear(&row);
    }
    add_row(&pages, _("in all"), copies, &sum, true);
    g_strfreev(pages.cautions);
    *count = pages.count;
    return pages.pages;
}
