/* The panels of hollow pieces: every face as a sheet of stock, with the bevel of each edge.
 *
 * Two sheets of thickness t that meet at the dihedral angle D are mitred: both are cut at D/2 to
 * the face, so the saw tilts by 90 - D/2 degrees from square. The tilt is positive where the
 * outside of the panel is the larger face, and negative in a groove, where the inside is. The
 * outside outline is the face moved in by the clearance, the inside outline the same moved in by
 * the thickness more (inset.h): t * cot(D/2) farther at an edge. The blank holds both, and the cut
 * line runs half a kerf outside the blank.
 *
 *       ______________  outside      Panels are equal when a turn in their plane carries one to the
 *        \  tilt     /               other with all bevels; a mirror image is another panel, since
 *         \_________/   inside       its bevels would face the wrong way.
 *
 * The edges' angles are exact until here, so equal panels are found by exact comparison.
 * Refused: a sheet over half a cell, and one that leaves nothing of the inside of a face.
 *
 * Millimetres; coordinates of regions are the face's flat frame. Ownership: the caller frees.
 * Thread: any. */
#ifndef NW_MAKE_STOCK_PANELS_H
#define NW_MAKE_STOCK_PANELS_H

#include <glib.h>

#include "design/design.h"
#include "make/inset.h"
#include "make/plot.h"
#include "make/progress.h"

typedef struct NwPanelOptions {
    double cell_mm, sheet_mm, kerf_mm, clearance_mm;
    unsigned tools;       /* whose cautions the head of the drawing has (safety_notes.h) */
    NwProgress *progress; /* or NULL */
    double stock_width_mm, stock_height_mm; /* of a sheet to nest on (nest.h); 0: none */
    bool grain;                             /* a sheet has one, along its width */
} NwPanelOptions;

typedef struct NwPanelEdge {
    double length_mm; /* outside */
    double dihedral;  /* degrees, inside the piece */
    double tilt;      /* of the saw, from square */
} NwPanelEdge;

typedef struct NwPanel {
    NwRegion outside, inside, cut;
    NwPanelEdge *edges; /* ring by ring */
    NwStretch *sides;   /* the cut line's stretch along each edge */
    size_t edge_count;
    int count;      /* how many are needed for all copies of all pieces */
    char *whose;    /* "A 1 4, B 2": pieces, each with the numbers of its faces */
    GString *shape; /* what equal panels have in common */
    size_t last_piece;
} NwPanel;

typedef struct NwPanels {
    NwPanel *panels;
    size_t count, capacity;
} NwPanels;

NwPanels *nw_panels_new(const NwDesign *design, const NwPanelOptions *options, GError **error);
void nw_panels_free(NwPanels *panels); /* NULL is allowed */

/* All panels, each once with its count, side by side; for sheets of stock there is nw_nest_plot.
 * The caller frees the plot. */
NwPlot *nw_panels_plot(const NwPanels *panels, const NwDesign *design,
                       const NwPanelOptions *options);

/* One line a panel: number, count, pieces and faces, area, lengths, angles, tilts. */
char *nw_panels_csv(const NwPanels *panels);

#endif
