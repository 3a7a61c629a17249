#include "make/sheet/sheet_pdf.h"

#include <cairo-pdf.h>
#include <gio/gio.h>
#include <glib/gi18n.h>

#include "make/canvas.h"
#include "make/sheet/sheet_page.h"
#include "make/sheet/sheet_proof.h"

enum { STEP_COLUMNS = 2, STEP_ROWS = 3 };

static const double least_cell = 80, gutter = 14;
static const NwTextLayout title_style = {.size = 30, .bold = TRUE, .serif = TRUE};
static const NwTextLayout lead_style = {.size = 12, .italic = TRUE, .serif = TRUE, .grey = 0.25};
static const NwTextLayout head_style = {.size = 15, .bold = TRUE, .serif = TRUE};
static const NwTextLayout body_style = {.size = 10};
static const NwTextLayout name_style = {.size = 10, .bold = TRUE, .align = NW_ALIGN_MIDDLE};
static const NwTextLayout note_style = {.size = 9, .grey = 0.3};

/* ---- the challenge ------------------------------------------------------------------------ */

/* How many columns make the cells of a grid largest. */
static int best_columns(int count, double width, double height, double aspect, double *cell) {
    int best = 1;
    *cell = 0;
    for (int columns = 1; columns <= count; columns++) {
        int rows = (count + columns - 1) / columns;
        double wide = MIN(width / columns, aspect * height / rows);
        if (wide > *cell) {
            *cell = wide;
            best = columns;
        }
    }
    return best;
}

static void draw_piece(NwSheetPage *page, const NwSheetPiece *piece, NwSheetBox box) {
    g_autofree char *name =
        piece->copies > 1 ? g_strdup_printf("%s × %d", piece->name, piece->copies) : NULL;
    double line = 1.7 * name_style.size;
    NwSheetBox room = {box.x, box.y, box.width, box.height - line};
    nw_sheet_page_picture(page, &piece->picture, room);
    nw_text_layout_draw(page->cr, &name_style, box.x, box.y + box.height - line, box.width,
                        name ? name : piece->name);
}

/* The pieces from `from` on that find room in the box, in rows whose last is centred. Returns how
 * many they are. */
static int draw_pieces(NwSheetPage *page, int from, NwSheetBox box) {
    const GArray *pieces = page->sheet->pieces;
    double cell, aspect = 1.05; /* a picture and its name */
    int count = (int)pieces->len - from;
    int columns = best_columns(count, box.width, box.height, aspect, &cell);
    if (cell < least_cell) { /* as many as go in at that size; the rest on the next page */
        columns = MAX(1, (int)(box.width / least_cell));
        count = MIN(count, columns * MAX(1, (int)(box.height * aspect / least_cell)));
        cell = box.width / columns;
    }
    double high = cell / aspect;
    int rows = (count + columns - 1) / columns;
    double spare = MAX(0, box.height - rows * high) / 2;
    for (int i = 0; i < count; i++) {
        int row = i / columns, in_row = MIN(columns, count - row * columns);
        double x = box.x + (box.width - in_row * cell) / 2 + (i % columns) * cell;
        NwSheetBox place = {x + 3, box.y + spare + row * high, cell - 6, high - 4};
        draw_piece(page, &g_array_index(pieces, NwSheetPiece, from + i), place);
    }
    return count;
}

static char *dup_task(const NwSheet *sheet) {
    return g_strdup_printf(
        "%s %s",
        sheet->diagonals
            ? _("Put all pieces together so that they make this solid. Every piece slides in "
                "straight, along the edges of a cube or the diagonals of its faces; nothing is "
                "bent or forced.")
            : _("Put all pieces together so that they make this solid. Every piece slides in "
                "straight along the edges of a cube; nothing is bent or forced."),
        sheet->claims_only ? _("There is exactly one way to do it.") : "");
}

/* The caution, on the first page; returns where it begins. */
static double draw_caution(NwSheetPage *page) {
    const char *caution = page->sheet->caution;
    if (!caution)
        return page->bottom;
    double y = page->bottom - nw_text_layout_measure(page->cr, &note_style,
                                                     page->right - page->left, caution, NULL);
    nw_sheet_page_text(page, &note_style, y, caution);
    nw_sheet_page_rule(page, y - 7, 0.7);
    return y - 12;
}

static void draw_challenge(NwSheetPage *page) {
    const NwSheet *sheet = page->sheet;
    nw_sheet_page_begin(page);
    double y = nw_sheet_page_text(page, &title_style, page->top - 6, sheet->title);
    g_autofree char *lead =
        g_strdup_printf(ngettext("%d piece · %.6g × %.6g × %.6g mm",
                                 "%d pieces · %.6g × %.6g × %.6g mm", (gulong)sheet->bodies),
                        sheet->bodies, sheet->size_mm[0], sheet->size_mm[1], sheet->size_mm[2]);
    y = nw_sheet_page_text(page, &lead_style, y + 2, lead) + 8;
    nw_sheet_page_rule(page, y, 0.7);
    double width = page->right - page->left, high = 0.4 * (page->bottom - page->top);
    nw_sheet_page_picture(page, &sheet->solid, (NwSheetBox){page->left, y + 8, width, high});
    y += high + 20;
    g_autofree char *task = dup_task(sheet);
    y = nw_sheet_page_text(page, &body_style, y, task) + 10;
    nw_sheet_page_rule(page, y, 0.7);
    y = nw_sheet_page_text(page, &head_style, y + 8, _("The pieces")) + 4;
    double bottom = draw_caution(page);
    int done = 0;
    while (done < (int)sheet->pieces->len) {
        if (done) {
            nw_sheet_page_begin(page);
            y = page->top;
            bottom = page->bottom;
        }
        done += draw_pieces(page, done, (NwSheetBox){page->left, y, width, bottom - y});
    }
}

/* ---- the sealed part ---------------------------------------------------------------------- */

static void dashed_line(NwSheetPage *page, double y, const char *text) {
    static const double dashes[] = {8, 5};
    NwTextLayout style = note_style;
    style.align = NW_ALIGN_RIGHT;
    cairo_set_dash(page->cr, dashes, 2, 0);
    cairo_set_source_rgb(page->cr, 0.35, 0.35, 0.35);
    cairo_set_line_width(page->cr, 0.8);
    cairo_new_path(page->cr);
    cairo_move_to(page->cr, 0, y);
    cairo_line_to(page->cr, page->width, y);
    cairo_stroke(page->cr);
    cairo_set_dash(page->cr, NULL, 0, 0);
    nw_text_layout_draw(page->cr, &style, page->left, y - 14, page->right - page->left, text);
}

/* The cover is folded in three with its print outwards: the middle third is seen in front, and the
 * free edge of the lower third comes to lie on the upper one behind, where the seal joins them. */
static void draw_cover(NwSheetPage *page) {
    NwTextLayout centred = title_style, lead = lead_style, note = note_style;
    centred.align = lead.align = note.align = NW_ALIGN_MIDDLE;
    centred.size = 26;
    nw_sheet_page_begin(page);
    double third = page->height / 3, middle = page->width / 2;
    dashed_line(page, third, _("fold back here"));
    dashed_line(page, 2 * third, _("fold back here"));
    g_autofree char *title = g_strdup_printf(_("The answer to %s"), page->sheet->title);
    double y = nw_sheet_page_text(page, &centred, third + 0.3 * third, title);
    nw_sheet_page_text(page, &lead, y + 10, _("Open this when you have solved it, or given up."));
    nw_sheet_page_text(page, &note, page->top,
                       _("To seal: lay the following pages under this one, fold all of them back "
                         "along both lines,\nfirst the upper third, then the lower, and close the "
                         "free edge with a sticker over the ring."));
    double radius = 11 * NW_POINTS_PER_MM, low = page->height - 20 * NW_POINTS_PER_MM - radius;
    cairo_set_source_rgb(page->cr, 0.35, 0.35, 0.35);
    cairo_set_line_width(page->cr, 1.2);
    cairo_new_path(page->cr);
    cairo_arc(page->cr, middle, low, radius, 0, 2 * G_PI);
    cairo_stroke(page->cr);
    nw_sheet_page_text(page, &note, low - 6, _("seal"));
}

static void draw_step(NwSheetPage *page, int index, NwSheetBox box) {
    const NwSheetStep *step = &g_array_index(page->sheet->steps, NwSheetStep, index);
    const NwTextLayout number = {.size = 11, .bold = TRUE, .align = NW_ALIGN_MIDDLE};
    g_autofree char *digits = g_strdup_printf("%d", index + 1);
    const double radius = 10, indent = 28;
    cairo_set_source_rgb(page->cr, 0.15, 0.15, 0.15);
    cairo_set_line_width(page->cr, 1);
    cairo_new_path(page->cr);
    cairo_arc(page->cr, box.x + radius + 1, box.y + radius + 1, radius, 0, 2 * G_PI);
    cairo_stroke(page->cr);
    double high = nw_text_layout_measure(page->cr, &number, 2 * radius, digits, NULL);
    nw_text_layout_draw(page->cr, &number, box.x + 1, box.y + radius + 1 - high / 2, 2 * radius,
                        digits);
    double y = box.y + 2;
    y += nw_text_layout_draw(page->cr, &body_style, box.x + indent, y, box.width - indent,
                             step->what);
    if (*step->holds)
        y += 2 + nw_text_layout_draw(page->cr, &note_style, box.x + indent, y + 2,
                                     box.width - indent, step->holds);
    y += 4;
    nw_sheet_page_picture(page, &step->picture,
                          (NwSheetBox){box.x, y, box.width, box.y + box.height - y});
}

/* Steps in rows, to be read from left to right. Returns where the last row ends. */
static double draw_steps(NwSheetPage *page) {
    const NwSheet *sheet = page->sheet;
    double y = 0, wide = 0, high = 0;
    for (int i = 0; i < (int)sheet->steps->len; i++) {
        if (i % (STEP_COLUMNS * STEP_ROWS) == 0) {
            nw_sheet_page_begin(page);
            y = page->top - 6;
            if (i == 0)
                y = nw_sheet_page_text(page, &head_style, y, _("The way in"));
            wide = (page->right - page->left - gutter) / STEP_COLUMNS;
            high = (page->bottom - y) / STEP_ROWS;
        } else if (i % STEP_COLUMNS == 0) {
            y += high;
        }
        double x = page->left + (i % STEP_COLUMNS) * (wide + gutter);
        draw_step(page, i, (NwSheetBox){x, y + 8, wide, high - 14});
    }
    return y + high;
}

/* The proof note, under the last row of steps or on a page of its own. */
static void draw_proof(NwSheetPage *page, double y) {
    const NwSheet *sheet = page->sheet;
    const NwSheetProof *proof = &sheet->proof;
    g_autofree char *found = nw_sheet_dup_proof(sheet);
    const char *paragraphs[] = {found, proof->search, proof->version};
    double width = page->right - page->left, needed = 40;
    for (gsize i = 0; i < G_N_ELEMENTS(paragraphs); i++)
        needed += 6 + nw_text_layout_measure(page->cr, &body_style, width,
                                             paragraphs[i] ? paragraphs[i] : "", NULL);
    if (y + needed > page->bottom) {
        nw_sheet_page_begin(page);
        y = page->top - 6;
    }
    nw_sheet_page_rule(page, y + 4, 0.7);
    y = nw_sheet_page_text(page, &head_style, y + 12, _("What is proved")) + 4;
    for (gsize i = 0; i < G_N_ELEMENTS(paragraphs); i++)
        if (paragraphs[i] && *paragraphs[i])
            y = nw_sheet_page_text(page, &body_style, y, paragraphs[i]) + 6;
}

/* ---- the document ------------------------------------------------------------------------- */

GBytes *nw_sheet_to_pdf(const NwSheet *sheet, GError **error) {
    g_autofree char *refusal = nw_sheet_dup_refusal(sheet);
    if (refusal) {
        g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT, refusal);
        return NULL;
    }
    NwCanvas canvas = nw_canvas_pdf(sheet->title, sheet->paper->width_mm * NW_POINTS_PER_MM,
                                    sheet->paper->height_mm * NW_POINTS_PER_MM);
    cairo_pdf_surface_set_metadata(canvas.surface, CAIRO_PDF_METADATA_CREATOR, "Notchwright");
    NwSheetPage page = {.cr = canvas.cr, .sheet = sheet};
    draw_challenge(&page);
    if (!sheet->challenge) {
        draw_cover(&page);
        draw_proof(&page, draw_steps(&page));
    }
    nw_sheet_page_end(&page);
    return nw_canvas_finish(&canvas, error);
}
