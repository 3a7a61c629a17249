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

/* A total order for sorting: by x, then y, then z. */
static inline int nw_vec_compare(NwVec a, NwVec b) {
    if (a.x != b.x)
        return a.x < b.x ? -1 : 1;
    if (a.y != b.y)
        return a.y < b.y ? -1 : 1;
    return a.z < b.z ? -1 : a.z > b.z;
}

/* Whether one who turns counter-clockwise about `axis`, starting at `start`, meets a before b. All
 * three lie in the plane across the axis. A full turn comes last: a = start is met after all. */
static inline bool nw_vec_meets_first(NwVec axis, NwVec start, NwVec a, NwVec b) {
    int side_a = nw_vec_dot(axis, nw_vec_cross(start, a));
    int side_b = nw_vec_dot(axis, nw_vec_cross(start, b));
    /* How far round: 0 before half a turn, 1 at it, 2 after it, 3 at a full one. */
    int phase_a = side_a > 0 ? 0 : side_a < 0 ? 2 : nw_vec_dot(start, a) < 0 ? 1 : 3;
    int phase_b = side_b > 0 ? 0 : side_b < 0 ? 2 : nw_vec_dot(start, b) < 0 ? 1 : 3;
    if (phase_a != phase_b)
        return phase_a < phase_b;
    return nw_vec_dot(axis, nw_vec_cross(a, b)) > 0;
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
