/* The table of pieces: volume, mass, size and angles, as CSV and as pages.
 *
 * Volumes are of the full solids, without clearance: whole sixths of a cell times its size. The
 * angles are the different dihedral angles inside the piece, rising. A box is the size of the piece
 * as it is drawn. Millimetres, cubic centimetres and grams. Ownership: the caller frees.
 * Thread: any. */
#ifndef NW_MAKE_STOCK_TABLE_H
#define NW_MAKE_STOCK_TABLE_H

#include <glib.h>

#include "design/design.h"
#include "make/paper.h"
#include "make/plot.h"

typedef struct NwTableOptions {
    double cell_mm;
    const char *material; /* its name, as it is shown */
    double density_kg_m3;
    unsigned tools; /* whose cautions the foot of each page has (safety_notes.h) */
    const NwPaperSize *paper;
} NwTableOptions;

/* One piece; all copies of it are alike. */
typedef struct NwTableRow {
    double volume_cm3, mass_g;
    double box_mm[3];
    double *angles; /* in degrees */
    size_t angle_count;
} NwTableRow;

void nw_table_row_fill(const NwSolid *solid, const NwTableOptions *options, NwTableRow *row);
void nw_table_row_clear(NwTableRow *row);

char *nw_table_csv(const NwDesign *design, const NwTableOptions *options);

/* Returns an array of *count pages. */
NwPlot **nw_table_pages(const NwDesign *design, const NwTableOptions *options, size_t *count);

#endif
