/* A design: an envelope and the pieces that are to fill it.
 *
 * Coordinates: cells of the lattice; the envelope and every piece each in a frame of their own
 * (a piece is drawn wherever its designer drew it). Fields may be read and written directly; the
 * design owns everything it points to. Thread: one writer or many readers; a search takes a copy.
 */
#ifndef NW_DESIGN_DESIGN_H
#define NW_DESIGN_DESIGN_H

#include "lattice/solid.h"

enum {
    NW_COLOUR_SIZE = 8,  /* "#rrggbb" and a final zero */
    NW_PIECES_MAX = 64,  /* pieces a design may list */
    NW_COPIES_MAX = 256, /* copies of all pieces together */
};

typedef struct NwPiece {
    char *name;
    char colour[NW_COLOUR_SIZE]; /* or "" for none */
    int copies;                  /* at least 1 */
    NwSolid *solid;
} NwPiece;

/* One copy of a piece at its place; the turn is a rotation. */
typedef struct NwPlacement {
    int piece;
    NwMotion motion;
} NwPlacement;

typedef struct NwDesign {
    char *name;
    NwSolid *envelope;
    NwSolid *may_be_empty; /* parts of the envelope that need not be filled */
    NwPiece *pieces;
    size_t piece_count, piece_capacity;
    NwPlacement *intended; /* one entry for each copy of each piece, or none at all */
    size_t intended_count;
    bool mirrors_together; /* an assembly and its mirror image count as one */
} NwDesign;

/* An empty design with that name. */
NwDesign *nw_design_new(const char *name);
NwDesign *nw_design_copy(const NwDesign *design);
void nw_design_free(NwDesign *design); /* NULL is allowed */

/* Adds a piece with one copy and no colour, and takes the solid over. Returns its index. */
size_t nw_design_take_piece(NwDesign *design, const char *name, NwSolid *solid);

/* How many bodies the pieces make, copies counted. */
int nw_design_copies(const NwDesign *design);

/* Whether parts can move by odd shifts: every piece and the envelope are of whole cells. */
bool nw_design_is_whole(const NwDesign *design);

/* Replaces the intended assembly by a copy of the `count` placements (0 clears it). */
void nw_design_set_intended(NwDesign *design, const NwPlacement *placements, size_t count);

#endif
