#include "lattice/overlap.h"

typedef struct Axis {
    int64_t x, y, z;
} Axis;

static Axis between(NwVec from, NwVec to) {
    return (Axis){to.x - from.x, to.y - from.y, to.z - from.z};
}

static Axis across(Axis a, Axis b) {
    return (Axis){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

static void extent(Axis axis, const NwVec vertices[4], int64_t *low, int64_t *high) {
    for (int k = 0; k < 4; k++) {
        int64_t at = axis.x * vertices[k].x + axis.y * vertices[k].y + axis.z * vertices[k].z;
        if (k == 0 || at < *low)
            *low = at;
        if (k == 0 || at > *high)
            *high = at;
    }
}

static bool separates(Axis axis, const NwVec a[4], const NwVec b[4]) {
    if (!axis.x && !axis.y && !axis.z)
        return false;
    int64_t low_a = 0, high_a = 0, low_b = 0, high_b = 0;
    extent(axis, a, &low_a, &high_a);
    extent(axis, b, &low_b, &high_b);
    return high_a <= low_b || high_b <= low_a;
}

/* The plane through all vertices but `left_out`. */
static Axis face_normal(const NwVec v[4], int left_out) {
    int i = (left_out + 1) % 4, j = (left_out + 2) % 4, k = (left_out + 3) % 4;
    return across(between(v[i], v[j]), between(v[i], v[k]));
}

static const int edges[6][2] = {{0, 1}, {0, 2}, {0, 3}, {1, 2}, {1, 3}, {2, 3}};

bool nw_overlap_tetrahedra(const NwVec a[4], const NwVec b[4]) {
    for (int face = 0; face < 4; face++)
        if (separates(face_normal(a, face), a, b) || separates(face_normal(b, face), a, b))
            return false;
    for (int i = 0; i < 6; i++)
        for (int j = 0; j < 6; j++) {
            Axis of_a = between(a[edges[i][0]], a[edges[i][1]]);
            Axis of_b = between(b[edges[j][0]], b[edges[j][1]]);
            if (separates(across(of_a, of_b), a, b))
                return false;
        }
    return true;
}

static void scaled_vertices(NwVec cell, int bit, int scale, NwVec offset, NwVec vertices[4]) {
    nw_part_vertices((NwPart){cell, bit}, vertices);
    for (int k = 0; k < 4; k++)
        vertices[k] = nw_vec_add(nw_vec_scale(vertices[k], scale), offset);
}

static bool cells_overlap(const NwCell *a, const NwCell *b, NwVec offset, int scale) {
    for (int i = 0; i < NW_PARTS; i++)
        for (int j = 0; j < NW_PARTS; j++) {
            if (!(a->mask >> i & 1) || !(b->mask >> j & 1))
                continue;
            NwVec of_a[4], of_b[4];
            scaled_vertices(nw_cell_at(a), i, scale, nw_vec(0, 0, 0), of_a);
            scaled_vertices(nw_cell_at(b), j, scale, offset, of_b);
            if (nw_overlap_tetrahedra(of_a, of_b))
                return true;
        }
    return false;
}

bool nw_overlap_solids(const NwSolid *a, const NwSolid *b, NwVec numerator, int denominator) {
    for (size_t i = 0; i < a->count; i++)
        for (size_t j = 0; j < b->count; j++) {
            NwVec apart = nw_vec_sub(nw_cell_at(&b->cells[j]), nw_cell_at(&a->cells[i]));
            apart = nw_vec_add(nw_vec_scale(apart, denominator), numerator);
            bool boxes_meet = apart.x < denominator && apart.x > -denominator &&
                              apart.y < denominator && apart.y > -denominator &&
                              apart.z < denominator && apart.z > -denominator;
            if (boxes_meet && cells_overlap(&a->cells[i], &b->cells[j], numerator, denominator))
                return true;
        }
    return false;
}
