/* A sheet as a PDF. Thread: one. */
#ifndef NW_MAKE_SHEET_SHEET_PDF_H
#define NW_MAKE_SHEET_SHEET_PDF_H

#include "make/sheet/sheet.h"

/* The PDF. NULL with an error if it is refused or cairo fails. */
GBytes *nw_sheet_to_pdf(const NwSheet *sheet, GError **error);

#endif
