/* Whole vectors of the cube lattice, in cells. Coordinates of cells stay within
 * [NW_COORD_MIN, NW_COORD_MAX], a range that every turn carries to itself, so
 * that turned copies stay inside and sums never overflow an int. */
#ifndef NW_LATTICE_VEC_H
#define NW_LATTICE_VEC_H

#include <stdbool.h>

enum { NW_COORD_MIN = -1000, NW_COORD_MAX = 999 };

typedef struct NwVec {
    int x, y, z;
} NwVec;

static inline NwVec nw_vec(int x, int y, int z) {
    return (NwVec){x, y, z};
}

static inline NwVec nw_vec_add(NwVec a, NwVec b) {
    return nw_vec(a.x + b.x, a.y + b.y, a.z + b.z);
}

static inline NwVec nw_vec_sub(NwVec a, NwVec b) {
    return nw_vec(a.x - b.x, a.y - b.y, a.z - b.z);
}

static inline NwVec nw_vec_scale(NwVec a, int k) {
    return nw_vec(k * a.x, k * a.y, k * a.z);
}

static inline int nw_vec_dot(NwVec a, NwVec b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

static inline NwVec nw_vec_cross(NwVec a, NwVec b) {
    return nw_vec(a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x);
}

static inline bool nw_vec_equal(NwVec a, NwVec b) {
    return a.x == b.x && a.y == b.y && a.z == b.z;
}

/* The coordinate along axis 0, 1 or 2. */
static inline int nw_vec_get(NwVec a, int axis) {
    return axis == 0 ? a.x : axis == 1 ? a.y : a.z;
}

static inline void nw_vec_set(NwVec *a, int axis, int value) {
    *(axis == 0 ? &a->x : axis == 1 ? &a->y : &a->z) = value;
}

/* 0 for an even vertex (x+y+z even), 1 for an odd one. */
static inline int nw_vec_parity(NwVec a) {
    return (a.x + a.y + a.z) & 1;
}

/* Whether the cell with this lowest corner is within the stated range. */
static inline bool nw_vec_in_range(NwVec a) {
    return a.x >= NW_COORD_MIN && a.x <= NW_COORD_MAX && a.y >= NW_COORD_MIN &&
           a.y <= NW_COORD_MAX && a.z >= NW_COORD_MIN && a.z <= NW_COORD_MAX;
}

#endif
