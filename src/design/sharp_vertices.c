#include "design/sharp_vertices.h"

#include <stdlib.h>

#include "base/memory.h"
#include "design/bodies.h"
#include "lattice/connect.h"

enum { STAR_MAX = 32 }; /* at an even vertex, 8 cells with a core and three corners each */

/* The parts of a solid that meet at a vertex. */
typedef struct Star {
    NwVec vertex;
    NwPart parts[STAR_MAX];
    int count;
} Star;

static bool part_equal(NwPart a, NwPart b) {
    return nw_vec_equal(a.cell, b.cell) && a.bit == b.bit;
}

static bool holds(const NwVec *vertices, int count, NwVec vertex) {
    for (int k = 0; k < count; k++)
        if (nw_vec_equal(vertices[k], vertex))
            return true;
    return false;
}

static bool touches(NwPart part, NwVec vertex) {
    NwVec vertices[4];
    nw_part_vertices(part, vertices);
    return holds(vertices, 4, vertex);
}

/* The cell in octant 0 to 7 about a vertex. */
static NwVec cell_about(NwVec vertex, int octant) {
    return nw_vec_sub(vertex, nw_vec(octant & 1, octant >> 1 & 1, octant >> 2));
}

static Star star_at(const NwSolid *solid, NwVec vertex) {
    Star star = {vertex, {{{0, 0, 0}, 0}}, 0};
    for (int octant = 0; octant < 8; octant++) {
        NwVec cell = cell_about(vertex, octant);
        int mask = nw_solid_mask(solid, cell);
        for (int bit = 0; bit < NW_PARTS; bit++)
            if (mask >> bit & 1 && touches((NwPart){cell, bit}, vertex))
                star.parts[star.count++] = (NwPart){cell, bit};
    }
    return star;
}

/* Moves the group of the star's last part out of the star. */
static Star take_group(Star *star) {
    Star group = {.vertex = star->vertex};
    group.parts[group.count++] = star->parts[--star->count];
    for (int i = 0; i < group.count; i++)
        for (int face = 0; face < 4; face++) {
            NwVec triangle[3];
            nw_part_face(group.parts[i], face, triangle);
            NwPart across = nw_part_across(group.parts[i], face);
            for (int k = 0; holds(triangle, 3, star->vertex) && k < star->count; k++)
                if (part_equal(star->parts[k], across)) {
                    group.parts[group.count++] = across;
                    star->parts[k] = star->parts[--star->count];
                    break;
                }
        }
    return group;
}

static bool has(const Star *group, NwPart part) {
    for (int i = 0; i < group->count; i++)
        if (part_equal(group->parts[i], part))
            return true;
    return false;
}

/* The normals of the planes that bound the cone; planes named twice are kept once. */
static int bounding_normals(const Star *group, NwVec normals[4 * STAR_MAX]) {
    int count = 0;
    for (int i = 0; i < group->count; i++)
        for (int face = 0; face < 4; face++) {
            NwVec t[3];
            nw_part_face(group->parts[i], face, t);
            if (!holds(t, 3, group->vertex) || has(group, nw_part_across(group->parts[i], face)))
                continue;
            NwVec normal = nw_vec_cross(nw_vec_sub(t[1], t[0]), nw_vec_sub(t[2], t[0]));
            if (!holds(normals, count, normal))
                normals[count++] = normal;
        }
    return count;
}

/* A cone that lies on the inner side of every plane that bounds it is all that these planes leave,
 * for a face of it within would be in one of the planes. */
static bool is_convex(const Star *group, const NwVec *normals, int count) {
    for (int i = 0; i < group->count; i++) {
        NwVec vertices[4];
        nw_part_vertices(group->parts[i], vertices);
        for (int k = 0; k < 4; k++)
            for (int n = 0; n < count; n++)
                if (nw_vec_dot(normals[n], nw_vec_sub(vertices[k], group->vertex)) > 0)
                    return false;
    }
    return true;
}

/* It holds no straight line when three of its planes meet in one point. */
static bool is_pointed(const NwVec *normals, int count) {
    for (int a = 0; a < count; a++)
        for (int b = a + 1; b < count; b++)
            for (int c = b + 1; c < count; c++)
                if (nw_vec_dot(normals[a], nw_vec_cross(normals[b], normals[c])))
                    return true;
    return false;
}

static NwTip tip_of(const Star *group) {
    NwTip tip = {.vertex = group->vertex};
    bool odd = nw_vec_parity(group->vertex);
    for (int i = 0; i < group->count; i++) {
        bool core = group->parts[i].bit == 0;
        tip.alphas += odd ? 0 : core ? 3 : -1;
        tip.quarters += !odd && core ? -2 : 1;
    }
    tip.sharp = !odd && group->count == 1;
    return tip;
}

static int compare_vertices(const void *a, const void *b) {
    return nw_vec_compare(*(const NwVec *)a, *(const NwVec *)b);
}

static int compare_tips(const void *a, const void *b) {
    const NwTip *p = a, *q = b;
    int order = nw_vec_compare(p->vertex, q->vertex);
    if (order)
        return order;
    return p->alphas != q->alphas ? (p->alphas < q->alphas ? -1 : 1)
                                  : (p->quarters > q->quarters) - (p->quarters < q->quarters);
}

/* All vertices of all parts, sorted, each once. */
static size_t vertices_of(const NwSolid *solid, NwVec **vertices) {
    NwVec *all = nw_alloc(4 * nw_solid_parts(solid), sizeof *all);
    size_t count = 0, kept = 0;
    for (size_t i = 0; i < solid->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++)
            if (solid->cells[i].mask >> bit & 1) {
                nw_part_vertices((NwPart){nw_cell_at(&solid->cells[i]), bit}, &all[count]);
                count += 4;
            }
    qsort(all, count, sizeof *all, compare_vertices);
    for (size_t i = 0; i < count; i++)
        if (!kept || !nw_vec_equal(all[kept - 1], all[i]))
            all[kept++] = all[i];
    *vertices = all;
    return kept;
}

size_t nw_solid_tips(const NwSolid *solid, NwTip **tips) {
    NwVec *vertices;
    size_t vertex_count = vertices_of(solid, &vertices), count = 0, capacity = 0;
    *tips = NULL;
    for (size_t i = 0; i < vertex_count; i++) {
        Star star = star_at(solid, vertices[i]);
        while (star.count) {
            Star group = take_group(&star);
            NwVec normals[4 * STAR_MAX];
            int planes = bounding_normals(&group, normals);
            if (!is_pointed(normals, planes) || !is_convex(&group, normals, planes))
                continue;
            *tips = nw_grow(*tips, count, &capacity, sizeof **tips);
            (*tips)[count++] = tip_of(&group);
        }
    }
    if (count)
        qsort(*tips, count, sizeof **tips, compare_tips);
    free(vertices);
    return count;
}

/* Whether the envelope fills all directions about a vertex. */
static bool is_inside(const NwSolid *envelope, NwVec vertex) {
    int meeting = nw_vec_parity(vertex) ? 8 : STAR_MAX;
    return star_at(envelope, vertex).count == meeting;
}

/* Whether the vertex is inside for the first copy and for every other that is placed. */
static bool is_hidden(const NwDesign *design, int piece, NwVec vertex) {
    NwMotion first = nw_design_motion(design, piece);
    bool hidden =
        is_inside(design->envelope, nw_vec_add(nw_turn_vec(first.turn, vertex), first.shift));
    for (size_t i = 0; i < design->intended_count && hidden; i++) {
        NwMotion motion = design->intended[i].motion;
        if (design->intended[i].piece == piece)
            hidden = is_inside(design->envelope,
                               nw_vec_add(nw_turn_vec(motion.turn, vertex), motion.shift));
    }
    return hidden;
}

size_t nw_piece_tips(const NwDesign *design, int piece, NwTip **tips) {
    size_t count = nw_solid_tips(design->pieces[piece].solid, tips);
    for (size_t i = 0; i < count; i++)
        (*tips)[i].hidden = is_hidden(design, piece, (*tips)[i].vertex);
    return count;
}

double nw_tip_steradians(const NwTip *tip) {
    static const double pi = 3.14159265358979323846, alpha = 1.23095941734077468213;
    return tip->alphas * alpha + tip->quarters * (pi / 2);
}
