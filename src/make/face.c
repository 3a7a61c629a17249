#include "make/face.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "lattice/connect.h"

/* A plane x = k has the diagonals across and up; one of type (1,1,1) has the diagonals across and,
 * 60 degrees to its left, up. */
static void set_frame(NwFace *face, const NwPolygon *polygon) {
    NwVec n = polygon->normal;
    face->origin = polygon->loops[0].vertices[0];
    face->slanted = nw_vec_dot(n, n) == 3;
    if (face->slanted) {
        face->across = nw_vec(n.y, -n.x, 0);
        NwVec turned = nw_vec_cross(n, face->across), sum = nw_vec_add(face->across, turned);
        face->up = nw_vec(sum.x / 2, sum.y / 2, sum.z / 2);
    } else {
        int axis = n.x ? 0 : n.y ? 1 : 2;
        face->across = nw_vec(1, 1, 1);
        nw_vec_set(&face->across, axis, 0);
        face->up = nw_vec_cross(n, face->across);
    }
}

NwExactPoint nw_face_flat(const NwFace *face, NwVec vertex) {
    NwVec d = nw_vec_sub(vertex, face->origin);
    int across = nw_vec_dot(d, face->across), up = nw_vec_dot(d, face->up);
    if (!face->slanted) /* the two are at right angles, of squared length 2 */
        return nw_exact_point(2 * across, 0, 2 * up, 0);
    int a = (2 * across - up) / 3, b = (2 * up - across) / 3;
    return nw_exact_point(4 * a + 2 * b, 0, 0, 2 * b);
}

double nw_edge_length(const NwEdge *edge) {
    NwVec along = nw_vec_sub(edge->to, edge->from);
    return sqrt(nw_vec_dot(along, along));
}

/* Whether the directed stretch a -> b lies on the side from -> to. */
static bool lies_on(NwVec from, NwVec to, NwVec a, NwVec b) {
    NwVec along = nw_vec_sub(to, from), zero = {0, 0, 0};
    if (!nw_vec_equal(nw_vec_cross(along, nw_vec_sub(a, from)), zero) ||
        !nw_vec_equal(nw_vec_cross(along, nw_vec_sub(b, from)), zero))
        return false;
    int start = nw_vec_dot(along, from), end = nw_vec_dot(along, to);
    int at = nw_vec_dot(along, a), past = nw_vec_dot(along, b);
    return start <= at && at < past && past <= end;
}

/* Adds to the ring the edges that lie on one side of the loop, in their order along it. */
static void add_sides(const NwPieceFaces *faces, size_t index, NwRing *ring, size_t *capacity,
                      NwVec from, NwVec to) {
    const NwFace *face = &faces->faces[index];
    size_t first = ring->count;
    NwVec along = nw_vec_sub(to, from);
    for (size_t e = 0; e < faces->edge_count; e++)
        for (int turn = 0; turn < 2; turn++) {
            const NwEdge *edge = &faces->edges[e];
            NwVec a = turn ? edge->to : edge->from, b = turn ? edge->from : edge->to;
            if ((turn ? edge->right : edge->left) != index || !lies_on(from, to, a, b))
                continue;
            ring->sides = nw_grow(ring->sides, ring->count, capacity, sizeof *ring->sides);
            size_t at = ring->count++;
            for (; at > first; at--) {
                const NwSide *before = &ring->sides[at - 1];
                const NwEdge *other = &faces->edges[before->edge];
                NwVec start = before->forward ? other->from : other->to;
                if (nw_vec_dot(along, start) <= nw_vec_dot(along, a))
                    break;
                ring->sides[at] = *before;
            }
            ring->sides[at] = (NwSide){nw_face_flat(face, a), nw_face_flat(face, b), e, !turn};
        }
}

static void set_rings(NwPieceFaces *faces, size_t index) {
    const NwPolygon *polygon = &faces->surface->polygons[index];
    NwFace *face = &faces->faces[index];
    face->rings = nw_alloc(polygon->count, sizeof *face->rings);
    face->ring_count = polygon->count;
    for (size_t k = 0; k < polygon->count; k++) {
        const NwLoop *loop = &polygon->loops[k];
        size_t capacity = 0;
        for (size_t i = 0; i < loop->count; i++)
            add_sides(faces, index, &face->rings[k], &capacity, loop->vertices[i],
                      loop->vertices[(i + 1) % loop->count]);
    }
}

static NwTile *add_tile(NwFace *face, size_t *capacity, size_t corners) {
    face->tiles = nw_grow(face->tiles, face->tile_count, capacity, sizeof *face->tiles);
    NwTile *tile = &face->tiles[face->tile_count++];
    *tile = (NwTile){nw_alloc(corners, sizeof(NwExactPoint)), corners};
    return tile;
}

static bool is_convex(const NwFace *face, const NwPolygon *polygon) {
    const NwLoop *loop = &polygon->loops[0];
    for (size_t i = 0; i < loop->count; i++) {
        NwExactPoint a = nw_face_flat(face, loop->vertices[i]);
        NwExactPoint b = nw_face_flat(face, loop->vertices[(i + 1) % loop->count]);
        NwExactPoint c = nw_face_flat(face, loop->vertices[(i + 2) % loop->count]);
        if (nw_root3_sign(
                nw_exact_point_cross(nw_exact_point_sub(b, a), nw_exact_point_sub(c, b))) < 0)
            return false;
    }
    return polygon->count == 1;
}

/* Whether a point, given threefold, is inside the rim: a ray from it crosses the rim an odd number
 * of times. No side goes through the centre of a triangle. */
static bool inside(const NwFace *face, NwExactPoint thrice) {
    bool in = false;
    for (size_t k = 0; k < face->ring_count; k++)
        for (size_t i = 0; i < face->rings[k].count; i++) {
            NwExactPoint a = face->rings[k].sides[i].from, b = face->rings[k].sides[i].to;
            NwExactPoint a3 = nw_exact_point_add(a, nw_exact_point_add(a, a)),
                         b3 = nw_exact_point_add(b, nw_exact_point_add(b, b));
            bool a_over = nw_root3_sign(nw_root3_sub(a3.y, thrice.y)) > 0;
            bool b_over = nw_root3_sign(nw_root3_sub(b3.y, thrice.y)) > 0;
            if (a_over == b_over)
                continue;
            int side = nw_root3_sign(
                nw_exact_point_cross(nw_exact_point_sub(b3, a3), nw_exact_point_sub(thrice, a3)));
            in ^= (side > 0) == b_over;
        }
    return in;
}

/* Gives a seen triangle to the face of its plane that holds its centre. */
static void give_triangle(NwPieceFaces *faces, size_t *capacities, const NwVec triangle[3]) {
    NwVec normal =
        nw_vec_cross(nw_vec_sub(triangle[1], triangle[0]), nw_vec_sub(triangle[2], triangle[0]));
    for (size_t i = 0; i < faces->count; i++) {
        const NwPolygon *polygon = &faces->surface->polygons[i];
        NwFace *face = &faces->faces[i];
        if (!nw_vec_equal(polygon->normal, normal) ||
            polygon->offset != nw_vec_dot(normal, triangle[0]))
            continue;
        NwExactPoint corners[3], sum = nw_exact_point(0, 0, 0, 0);
        for (int k = 0; k < 3; k++) {
            corners[k] = nw_face_flat(face, triangle[k]);
            sum = nw_exact_point_add(sum, corners[k]);
        }
        if (!inside(face, sum))
            continue;
        if (!is_convex(face, polygon)) {
            NwTile *tile = add_tile(face, &capacities[i], 3);
            for (int k = 0; k < 3; k++)
                tile->corners[k] = corners[k];
        }
        return;
    }
}

static void set_tiles(NwPieceFaces *faces, const NwSolid *solid) {
    size_t *capacities = nw_alloc(faces->count, sizeof *capacities);
    for (size_t i = 0; i < faces->count; i++) {
        NwFace *face = &faces->faces[i];
        const NwPolygon *polygon = &faces->surface->polygons[i];
        if (!is_convex(face, polygon))
            continue;
        const NwLoop *loop = &polygon->loops[0];
        NwTile *tile = add_tile(face, &capacities[i], loop->count);
        for (size_t k = 0; k < loop->count; k++)
            tile->corners[k] = nw_face_flat(face, loop->vertices[k]);
    }
    for (size_t i = 0; i < solid->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++) {
            NwPart part = {nw_cell_at(&solid->cells[i]), bit};
            if (!nw_solid_has(solid, part))
                continue;
            for (int face = 0; face < 4; face++) {
                NwVec triangle[3];
                nw_part_face(part, face, triangle);
                if (!nw_solid_has(solid, nw_part_across(part, face)))
                    give_triangle(faces, capacities, triangle);
            }
        }
    free(capacities);
}

static size_t count_shells(const NwPieceFaces *faces) {
    size_t *manifold = nw_alloc(faces->count, sizeof *manifold), shells = faces->count;
    for (size_t i = 0; i < faces->count; i++)
        manifold[i] = i;
    for (size_t e = 0; e < faces->edge_count; e++) {
        size_t a = manifold[faces->edges[e].left], b = manifold[faces->edges[e].right];
        if (a == b)
            continue;
        shells--;
        for (size_t i = 0; i < faces->count; i++)
            if (manifold[i] == b)
                manifold[i] = a;
    }
    free(manifold);
    return shells;
}

NwPieceFaces *nw_faces_new(const NwSolid *solid) {
    NwPieceFaces *faces = nw_alloc(1, sizeof *faces);
    faces->surface = nw_surface_new(solid);
    faces->edge_count = nw_surface_edges(faces->surface, &faces->edges);
    faces->count = faces->surface->count;
    faces->faces = nw_alloc(faces->count, sizeof *faces->faces);
    for (size_t i = 0; i < faces->count; i++)
        set_frame(&faces->faces[i], &faces->surface->polygons[i]);
    for (size_t i = 0; i < faces->count; i++)
        set_rings(faces, i);
    set_tiles(faces, solid);
    faces->shells = count_shells(faces);
    return faces;
}

void nw_faces_free(NwPieceFaces *faces) {
    if (!faces)
        return;
    for (size_t i = 0; i < faces->count; i++) {
        NwFace *face = &faces->faces[i];
        for (size_t k = 0; k < face->ring_count; k++)
            free(face->rings[k].sides);
        for (size_t k = 0; k < face->tile_count; k++)
            free(face->tiles[k].corners);
        free(face->rings);
        free(face->tiles);
    }
    free(faces->faces);
    free(faces->edges);
    nw_surface_free(faces->surface);
    free(faces);
}
