/* What is in the way where a clearance eats a feature up; clearance.h says what each kind means. */
#ifndef NW_MAKE_MESH_THIN_H
#define NW_MAKE_MESH_THIN_H

#include "lattice/vec.h"

typedef enum NwThinKind {
    NW_THIN_NOT,
    NW_THIN_VERTEX,
    NW_THIN_EDGE,
    NW_THIN_WALL,
    NW_THIN_EFFORT,
    NW_THIN_STOPPED,
} NwThinKind;

typedef struct NwThin {
    NwThinKind kind;
    NwVec at,
        to; /* the vertex; the ends of the edge; lattice points next to the wall's two sides */
} NwThin;

#endif
