/* Lying flat: which way up a piece is best printed.
 *
 * Tried are all 26 directions of faces, edges and corners of the cube, which hold every face of
 * every piece, as the one that is to be down. The piece lies on what of it is lowest. It stands
 * *stable* if its centre of mass is over the hull of what touches the bed, by a millimetre at
 * least. Its *overhang* is the area of faces that look down more steeply than 45 degrees and are
 * not on the bed: most printers need support under them. The faces of type (1,1,1) over the bed
 * lean by 54.7 degrees from it, and need none when a cube face is down.
 *
 * The best is, of the stable ones (of all, if none is), that which has most area on the bed over
 * what overhangs; of equals the lowest, and of those the first tried.
 *
 * Coordinates: millimetres, z up. Thread: any. */
#ifndef NW_MAKE_MESH_PRINT_ORIENTATION_H
#define NW_MAKE_MESH_PRINT_ORIENTATION_H

#include "make/mesh/facets.h"

typedef struct NwPrintOrientation {
    NwVec down;        /* what is to be down, in the frame of the piece */
    double rows[3][3]; /* the rotation that lays it so */
    bool stable;
    double contact_mm2; /* area on the bed */
    double overhang_mm2;
    double height_mm;
} NwPrintOrientation;

/* The best way to lay the piece. */
NwPrintOrientation nw_print_orientation_choose(const NwFacets *facets);

/* The reason in one sentence without a full stop, in the language of the user; g_free it. */
char *nw_dup_print_orientation_text(const NwPrintOrientation *bed);

/* Lays boxes of these widths and depths in rows, `gap_mm` apart, and writes where the corner of
 * each goes; about as wide as deep in all. */
void nw_print_orientation_arrange(const double (*sizes_mm)[2], size_t count, double gap_mm,
                                  double (*at_mm)[2]);

#endif
