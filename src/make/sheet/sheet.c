#include "make/sheet/sheet.h"

static void clear_label(gpointer label) {
    g_free(((NwSheetLabel *)label)->text);
}

static void clear_picture(NwSheetPicture *picture) {
    g_clear_pointer(&picture->surface, cairo_surface_destroy);
    if (picture->labels)
        g_array_set_clear_func(picture->labels, clear_label);
    g_clear_pointer(&picture->labels, g_array_unref);
}

static void clear_piece(gpointer data) {
    NwSheetPiece *piece = data;
    g_free(piece->name);
    clear_picture(&piece->picture);
}

static void clear_step(gpointer data) {
    NwSheetStep *step = data;
    g_free(step->what);
    g_free(step->holds);
    clear_picture(&step->picture);
}

NwSheet *nw_sheet_new(void) {
    NwSheet *sheet = g_new0(NwSheet, 1);
    sheet->pieces = g_array_new(FALSE, TRUE, sizeof(NwSheetPiece));
    sheet->steps = g_array_new(FALSE, TRUE, sizeof(NwSheetStep));
    g_array_set_clear_func(sheet->pieces, clear_piece);
    g_array_set_clear_func(sheet->steps, clear_step);
    sheet->paper = nw_paper_size(0);
    return sheet;
}

void nw_sheet_free(NwSheet *sheet) {
    if (!sheet)
        return;
    g_free(sheet->title);
    g_free(sheet->caution);
    clear_picture(&sheet->solid);
    g_array_unref(sheet->pieces);
    g_array_unref(sheet->steps);
    g_free(sheet->proof.search);
    g_free(sheet->proof.version);
    g_free(sheet);
}
