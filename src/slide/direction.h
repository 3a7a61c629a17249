/* The directions of slides: the six cube directions, then the twelve face diagonals.
 * A direction and its opposite are d and d ^ 1. Thread: any. */
#ifndef NW_SLIDE_DIRECTION_H
#define NW_SLIDE_DIRECTION_H

#include "base/status.h"
#include "lattice/vec.h"

enum {
    NW_CUBE_DIRECTIONS = 6,
    NW_DIRECTIONS = 18,
    NW_DIRECTION_NAME_SIZE = 5, /* "+x-y" and a final zero */
    NW_DIRECTION_TEXT_SIZE = 9, /* a minus sign takes three bytes */
};

/* One step: a vector with one or two components of +-1. */
NwVec nw_direction_step(int direction);

/* "+x" or "-y+z". */
void nw_direction_name(int direction, char name[NW_DIRECTION_NAME_SIZE]);

/* The same for a person, in UTF-8 and with real minus signs: "+x" or "−y+z". */
void nw_direction_text(int direction, char text[NW_DIRECTION_TEXT_SIZE]);

/* Takes either. */
NwStatus nw_direction_parse(const char *name, int *direction);

static inline int nw_direction_opposite(int direction) {
    return direction ^ 1;
}

#endif
