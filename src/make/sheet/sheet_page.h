/* A page of a sheet in work: where the pen stands, and the few things that all pages draw. Inner
 * part of sheet.h. Coordinates: points (1/72 inch), y down. Thread: one. */
#ifndef NW_MAKE_SHEET_SHEET_PAGE_H
#define NW_MAKE_SHEET_SHEET_PAGE_H

#include "make/sheet/sheet.h"
#include "make/text_layout.h"

#define NW_POINTS_PER_MM (72 / 25.4)

typedef struct NwSheetPage {
    cairo_t *cr;
    const NwSheet *sheet;
    double width, height; /* of the paper */
    double left, top, right, bottom;
    int number; /* of the page, 1 first; 0 before it is begun */
} NwSheetPage;

typedef struct NwSheetBox {
    double x, y, width, height;
} NwSheetBox;

/* Ends the page before, if there is one, and begins the next. */
void nw_sheet_page_begin(NwSheetPage *page);
void nw_sheet_page_end(NwSheetPage *page);

/* Text over the whole width from y on; returns where it ends. */
double nw_sheet_page_text(NwSheetPage *page, const NwTextLayout *style, double y, const char *text);

/* A picture as large as it fits, in the middle of the box, with its letters. */
void nw_sheet_page_picture(NwSheetPage *page, const NwSheetPicture *picture, NwSheetBox box);

/* A line from margin to margin. */
void nw_sheet_page_rule(NwSheetPage *page, double y, double grey);

#endif
