/* Sheets of paper, upright, and the room that is left on them.
 *
 * Sizes: A4 and A3 by ISO 216; Letter, 8.5 by 11 inches, by ANSI/ASME Y14.1 (quoted from memory). A
 * margin all round is left free, as most printers ask, and a strip at the foot for the ruler and
 * the key to the lines. Thread: any. */
#ifndef NW_MAKE_PAPER_H
#define NW_MAKE_PAPER_H

#include <stddef.h>

#define NW_PAPER_MARGIN_MM 8.0
#define NW_PAPER_FOOT_MM 22.0

typedef struct NwPaperSize {
    const char *name;
    double width_mm, height_mm;
} NwPaperSize;

/* Row `index` of the table, NULL past its end. */
const NwPaperSize *nw_paper_size(size_t index);

/* The row of that name, in small or large letters, or NULL. */
const NwPaperSize *nw_paper_size_find(const char *name);

static inline double nw_paper_room_x(const NwPaperSize *paper) {
    return paper->width_mm - 2 * NW_PAPER_MARGIN_MM;
}

static inline double nw_paper_room_y(const NwPaperSize *paper) {
    return paper->height_mm - 2 * NW_PAPER_MARGIN_MM - NW_PAPER_FOOT_MM;
}

#endif
