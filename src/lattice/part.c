#include "lattice/part.h"

static const int odd_vertices[2][NW_PARTS] = {{-1, 1, 2, 4, 7}, {-1, 0, 3, 5, 6}};

int nw_part_vertex(int parity, int bit) {
    return odd_vertices[parity][bit];
}

int nw_part_bit(int parity, int v) {
    for (int bit = 1; bit < NW_PARTS; bit++)
        if (odd_vertices[parity][bit] == v)
            return bit;
    return 0;
}

static NwVec vertex_at(NwVec cell, int v) {
    return nw_vec_add(cell, nw_vec(v & 1, v >> 1 & 1, v >> 2 & 1));
}

void nw_part_vertices(NwPart part, NwVec vertices[4]) {
    int parity = nw_vec_parity(part.cell);
    if (part.bit == 0) {
        /* The even vertices of a cell are the odd ones of the other kind of cell. */
        for (int k = 0; k < 4; k++)
            vertices[k] = vertex_at(part.cell, nw_part_vertex(1 - parity, k + 1));
        return;
    }
    int v = nw_part_vertex(parity, part.bit);
    vertices[0] = vertex_at(part.cell, v);
    for (int axis = 0; axis < 3; axis++)
        vertices[1 + axis] = vertex_at(part.cell, v ^ 1 << axis);
}

int nw_mask_volume6(int mask) {
    return __builtin_popcount((unsigned)mask) + (mask & NW_CORE);
}

int nw_mask_turn(NwTurn turn, int parity, int mask) {
    NwTurnMap map = nw_turn_map(turn);
    int flips = (map.sign[0] < 0) + (map.sign[1] < 0) + (map.sign[2] < 0);
    int turned_parity = (parity + flips) & 1;
    int turned = mask & NW_CORE;
    for (int bit = 1; bit < NW_PARTS; bit++) {
        if (!(mask >> bit & 1))
            continue;
        int v = nw_part_vertex(parity, bit), w = 0;
        for (int k = 0; k < 3; k++)
            w |= ((v >> map.axis[k] & 1) ^ (map.sign[k] < 0)) << k;
        turned |= 1 << nw_part_bit(turned_parity, w);
    }
    return turned;
}

NwPart nw_part_across(NwPart part, int face) {
    if (part.bit == 0)
        return (NwPart){part.cell, face + 1};
    if (face == 0)
        return (NwPart){part.cell, 0};
    int axis = face - 1;
    int parity = nw_vec_parity(part.cell);
    int v = nw_part_vertex(parity, part.bit);
    NwVec cell = part.cell;
    nw_vec_set(&cell, axis, nw_vec_get(cell, axis) + (v >> axis & 1 ? 1 : -1));
    return (NwPart){cell, nw_part_bit(1 - parity, v ^ 1 << axis)};
}

/* A face is the part without one vertex. Corner face f leaves out vertex f; the core's face towards
 * odd vertex v leaves out the opposite even one, v ^ 7, and in rising order that reverses the list.
 */
void nw_part_face(NwPart part, int face, NwVec triangle[3]) {
    NwVec vertices[4];
    nw_part_vertices(part, vertices);
    int left_out = part.bit == 0 ? 3 - face : face;
    for (int k = 0, at = 0; k < 4; k++)
        if (k != left_out)
            triangle[at++] = vertices[k];
    NwVec normal =
        nw_vec_cross(nw_vec_sub(triangle[1], triangle[0]), nw_vec_sub(triangle[2], triangle[0]));
    if (nw_vec_dot(normal, nw_vec_sub(vertices[left_out], triangle[0])) > 0) {
        NwVec last = triangle[2];
        triangle[2] = triangle[1];
        triangle[1] = last;
    }
}
