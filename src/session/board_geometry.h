/* Where parts lie on the layer board: the plan of the drawing, without a widget in it.
 *
 * The board lays the layers of a box of cells side by side, the lowest on the left, and goes on in
 * a further row below where `abreast` of them lie. A cell is a square. Seen along an axis, the core
 * of a cell covers the square, and of the two ends of each of its four upright edges exactly one is
 * odd: so each quarter of the square has one corner part. The plan draws the core as the diamond on
 * the middles of the sides and the corners as the four triangles that are left:
 *
 *      +---+---+     A corner is *upper* when its odd vertex is the end of the upright edge with
 *      | / | \ |     the higher coordinate, on the side of the next layer, else *lower*. In a
 *      +   core+     square two opposite corners are upper and two lower; in the squares beside
 *      | \ | / |     it, it is the other way round.
 *      +---+---+
 *
 *      axis     to the right    up      seen from
 *      0 (x)    y               z       +x
 *      1 (y)    x               z       -y
 *      2 (z)    x               y       +z
 *
 * Coordinates: points in pixels, y downwards; cells of the envelope. Thread: any; nothing to own.
 */
#ifndef NW_SESSION_BOARD_GEOMETRY_H
#define NW_SESSION_BOARD_GEOMETRY_H

#include "lattice/quarter.h"
#include "lattice/solid.h"

typedef struct NwBoardPlan {
    int axis;
    NwBounds box;  /* the cells on the board */
    int abreast;   /* layers in a row, at least 1 */
    double side;   /* of a square */
    double gap;    /* between two layers, and at the left and the right end */
    double head;   /* above the squares of each row, for the names of the layers */
    double margin; /* below the squares of each row */
} NwBoardPlan;

typedef struct NwBoardPoint {
    double x, y;
} NwBoardPoint;

/* How many squares there are along the board's own axes, and the size of the whole drawing. */
int nw_board_layers(const NwBoardPlan *plan);
int nw_board_columns(const NwBoardPlan *plan);
int nw_board_rows(const NwBoardPlan *plan);
NwBoardPoint nw_board_size(const NwBoardPlan *plan);

/* How many layers go abreast into that width, at least 1. */
int nw_board_abreast(const NwBoardPlan *plan, double width);

/* A side of a square, at most `most`, with which all layers go into that room; 0 if they never do.
 * One row is best to read, so a further row is begun only for squares larger by this. */
#define NW_BOARD_WORTH 1.25
double nw_board_fit(const NwBoardPlan *plan, NwBoardPoint room, double most);

/* The upper left end of a cell's square. The cell need not be in the box. */
NwBoardPoint nw_board_square(const NwBoardPlan *plan, NwVec cell);

/* The outline of a part: 4 points for a core, 3 for a corner, whose first is the right angle.
 * Returns their number. */
int nw_board_polygon(const NwBoardPlan *plan, NwPart part, NwBoardPoint points[4]);

/* A point well inside the part, for its letter. */
NwBoardPoint nw_board_centre(const NwBoardPlan *plan, NwPart part);

/* The part under a point: false between the layers and beside them. */
bool nw_board_hit(const NwBoardPlan *plan, NwBoardPoint point, NwPart *part);

#endif
