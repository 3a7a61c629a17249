/* The colours of pieces and of the paper they lie on.
 *
 * The rule. The first seven are those of M. Okabe and K. Ito, "Color Universal Design" (2002,
 * revised 2008), without its black, which is kept for edges. Five more were found by greatest least
 * distance: of a grid of sRGB colours (components multiples of 17, the largest at most 1/2 over the
 * least, L* 35 to 85) each next one is that which stays farthest from all before it, from paper
 * and from ink. The distance is CIE 1976 L*a*b*'s, and the least of four: as seen by full sight and
 * as simulated for protanopia, deuteranopia and tritanopia (G. Machado, M. Oliveira, L. Fernandes,
 * "A Physiologically-based Model for Simulation of Color Vision Deficiency", IEEE TVCG 15, 2009;
 * its matrices at severity 1 and Okabe and Ito's values are quoted from memory).
 * nw_palette_distance is that least distance; the tests hold every pair to a stated bound.
 *
 * Colours: sRGB, 0 to 1. Thread: any. */
#ifndef NW_VIEW_PALETTE_H
#define NW_VIEW_PALETTE_H

#include <stdbool.h>

enum { NW_PALETTE_COLOURS = 12 };

typedef struct NwColour {
    float r, g, b;
} NwColour;

/* What surrounds the pieces. */
typedef struct NwPaper {
    NwColour ground; /* the background */
    NwColour ink;    /* edges */
    NwColour shade;  /* the shadow on the ground */
    NwColour ghost;  /* parts of the envelope that no piece takes */
    NwColour mark;   /* what is pointed at */
} NwPaper;

/* The colour of piece `index`; from the thirteenth on they come again, lighter or darker. */
NwColour nw_palette_piece(int index);

/* The colour of copy `copy` of a piece of that colour: the first as it is, the next lighter and
 * darker in turn. */
NwColour nw_palette_shade(NwColour colour, int copy);

/* Wood: one tone for all pieces, a shade lighter or darker from one to the next. */
NwColour nw_palette_wood(int index);

const NwPaper *nw_palette_paper(bool dark);

/* Reads "#rrggbb"; false for anything else. */
bool nw_palette_parse(const char *text, NwColour *colour);

/* The least distance of two colours over the four kinds of sight. Under about 10 they are hard to
 * tell apart in a picture. */
double nw_palette_distance(NwColour a, NwColour b);

#endif
