#include "lattice/convex.h"

#include <limits.h>

NwStatus nw_plane_check(NwPlane plane) {
    NwVec n = plane.normal;
    int length2 = nw_vec_dot(n, n);
    bool small = n.x >= -1 && n.x <= 1 && n.y >= -1 && n.y <= 1 && n.z >= -1 && n.z <= 1;
    if (!small || (length2 != 1 && length2 != 3))
        return NW_UNKNOWN_NAME;
    return length2 == 3 && plane.limit % 2 ? NW_OFF_LATTICE : NW_OK;
}

/* A direction in which one can go on for ever without leaving any plane. The cone of such
 * directions, if it is more than a point, has an edge along a cross product of two normals,
 * unless all normals are parallel; then any direction across them does. */
static bool is_escape(const NwPlane *planes, size_t count, NwVec direction) {
    if (nw_vec_equal(direction, nw_vec(0, 0, 0)))
        return false;
    for (size_t i = 0; i < count; i++)
        if (nw_vec_dot(planes[i].normal, direction) > 0)
            return false;
    return true;
}

static bool is_bounded(const NwPlane *planes, size_t count) {
    bool crossed = false;
    for (size_t i = 0; i < count; i++)
        for (size_t j = i + 1; j < count; j++) {
            NwVec edge = nw_vec_cross(planes[i].normal, planes[j].normal);
            crossed = crossed || !nw_vec_equal(edge, nw_vec(0, 0, 0));
            if (is_escape(planes, count, edge) || is_escape(planes, count, nw_vec_scale(edge, -1)))
                return false;
        }
    return crossed;
}

/* Numerator and (positive) denominator of the point where three planes meet. */
static bool meet(const NwPlane *a, const NwPlane *b, const NwPlane *c, NwVec *point, int *over) {
    NwVec bc = nw_vec_cross(b->normal, c->normal), ca = nw_vec_cross(c->normal, a->normal),
          ab = nw_vec_cross(a->normal, b->normal);
    *over = nw_vec_dot(a->normal, bc);
    *point = nw_vec_add(nw_vec_add(nw_vec_scale(bc, a->limit), nw_vec_scale(ca, b->limit)),
                        nw_vec_scale(ab, c->limit));
    if (*over < 0) {
        *over = -*over;
        *point = nw_vec_scale(*point, -1);
    }
    return *over != 0;
}

static bool inside(const NwPlane *planes, size_t count, NwVec point, int over) {
    for (size_t i = 0; i < count; i++)
        if (nw_vec_dot(planes[i].normal, point) > planes[i].limit * over)
            return false;
    return true;
}

static int floor_over(int a, int b) {
    return a / b - (a % b < 0);
}

static void widen(NwBounds *box, NwVec point, int over) {
    for (int axis = 0; axis < 3; axis++) {
        int low = floor_over(nw_vec_get(point, axis), over);
        int high = -floor_over(-nw_vec_get(point, axis), over);
        if (low < nw_vec_get(box->low, axis))
            nw_vec_set(&box->low, axis, low);
        if (high > nw_vec_get(box->high, axis))
            nw_vec_set(&box->high, axis, high);
    }
}

/* The box around all corners of the convex solid; false if it has none. The box begins inside out,
 * so that the first corner widens it on every side. */
static bool corner_box(const NwPlane *planes, size_t count, NwBounds *box) {
    *box = (NwBounds){.low = nw_vec(INT_MAX, INT_MAX, INT_MAX),
                      .high = nw_vec(INT_MIN, INT_MIN, INT_MIN)};
    for (size_t i = 0; i < count; i++)
        for (size_t j = i + 1; j < count; j++)
            for (size_t k = j + 1; k < count; k++) {
                NwVec point;
                int over;
                if (meet(&planes[i], &planes[j], &planes[k], &point, &over) &&
                    inside(planes, count, point, over))
                    widen(box, point, over);
            }
    return box->low.x <= box->high.x;
}

/* The parts of one cell that lie inside every plane. */
static int mask_inside(const NwPlane *planes, size_t count, NwVec cell) {
    int mask = 0;
    for (int bit = 0; bit < NW_PARTS; bit++) {
        NwVec vertices[4];
        nw_part_vertices((NwPart){cell, bit}, vertices);
        bool all = true;
        for (int k = 0; k < 4 && all; k++)
            all = inside(planes, count, vertices[k], 1);
        mask |= all << bit;
    }
    return mask;
}

NwStatus nw_solid_from_planes(const NwPlane *planes, size_t count, NwSolid **solid, size_t *fault) {
    *solid = NULL;
    for (size_t i = 0; i < count; i++) {
        NwStatus status = nw_plane_check(planes[i]);
        if (status == NW_OK &&
            (planes[i].limit > 3 * (NW_COORD_MAX + 1) || planes[i].limit < 3 * NW_COORD_MIN))
            status = NW_OUT_OF_RANGE;
        if (status == NW_OK)
            continue;
        if (fault)
            *fault = i;
        return status;
    }
    if (!is_bounded(planes, count))
        return NW_UNBOUNDED;
    NwBounds box;
    if (!corner_box(planes, count, &box))
        return NW_EMPTY;
    NwVec size = nw_vec_sub(box.high, box.low);
    int most = NW_COORD_MAX + 1; /* the far side of the last cell */
    if (size.x > NW_EXTENT_MAX || size.y > NW_EXTENT_MAX || size.z > NW_EXTENT_MAX ||
        !nw_vec_in_range(box.low) || box.high.x > most || box.high.y > most || box.high.z > most)
        return NW_TOO_MANY;
    NwSolid *result = nw_solid_new();
    for (int x = box.low.x; x < box.high.x; x++)
        for (int y = box.low.y; y < box.high.y; y++)
            for (int z = box.low.z; z < box.high.z; z++)
                nw_solid_add(result, nw_vec(x, y, z), mask_inside(planes, count, nw_vec(x, y, z)));
    if (!result->count) {
        nw_solid_free(result);
        return NW_EMPTY;
    }
    *solid = result;
    return NW_OK;
}
