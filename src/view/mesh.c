#include "view/mesh.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "lattice/connect.h"
#include "view/edge_lines.h"

static const NwVec axes[NW_MESH_AXES] = {
    {1, 0, 0}, {0, 1, 0},  {0, 0, 1}, {1, 1, 0},  {1, -1, 0}, {1, 0, 1},   {1, 0, -1},
    {0, 1, 1}, {0, 1, -1}, {1, 1, 1}, {1, 1, -1}, {1, -1, 1}, {1, -1, -1},
};

typedef struct Builder {
    const NwSolid *solid;
    const NwEdgeLines *rim;
    NwMesh *mesh;
    size_t vertex_count, vertex_capacity, group_capacity;
} Builder;

NwVec nw_mesh_axis(int index) {
    return axes[index];
}

/* Whether a point, in eighths of a cell and on no plane of the lattice, lies in the solid. */
static bool is_inside(const NwSolid *solid, NwVec eighths) {
    NwVec cell = nw_vec(eighths.x >> 3, eighths.y >> 3, eighths.z >> 3);
    NwVec in = nw_vec_sub(eighths, nw_vec_scale(cell, 8));
    int mask = nw_solid_mask(solid, cell), parity = nw_vec_parity(cell);
    if (!mask || mask == NW_WHOLE)
        return mask;
    for (int bit = 1; bit < NW_PARTS; bit++) {
        int v = nw_part_vertex(parity, bit);
        int away =
            (v & 1 ? 8 - in.x : in.x) + (v & 2 ? 8 - in.y : in.y) + (v & 4 ? 8 - in.z : in.z);
        if (away < 8)
            return mask >> bit & 1;
    }
    return mask & NW_CORE;
}

/* How much of the outlook from a vertex, over the face with that normal, is free of the solid:
 * the share of free points on the open side among some, at less than a cell. Odd multiples of an
 * eighth keep most of them off the planes; the rest count as they come. */
static unsigned char outlook(const NwSolid *solid, NwVec vertex, NwVec normal) {
    static const signed char reach[2] = {3, 7};
    int seen = 0, free_points = 0;
    for (int s = 0; s < 2; s++)
        for (int v = 0; v < 8; v++) {
            int r = reach[s];
            NwVec to = nw_vec(v & 1 ? r : -r, v & 2 ? r : -r, v & 4 ? r : -r);
            to.x += v & 2 ? 1 : -1, to.y += v & 4 ? 1 : -1;
            if (nw_vec_dot(to, normal) <= 0)
                continue;
            seen++;
            free_points += !is_inside(solid, nw_vec_add(nw_vec_scale(vertex, 8), to));
        }
    return (unsigned char)(255 * free_points / seen);
}

static float plane_code(NwVec normal, int offset) {
    return (float)(32 * offset + normal.x + 1 + 3 * (normal.y + 1) + 9 * (normal.z + 1));
}

static void add_triangle(Builder *builder, const NwVec triangle[3]) {
    NwMesh *mesh = builder->mesh;
    NwVec normal =
        nw_vec_cross(nw_vec_sub(triangle[1], triangle[0]), nw_vec_sub(triangle[2], triangle[0]));
    NwEdgeLine lines[NW_MESH_RIMS];
    nw_edge_lines_get(builder->rim, normal, triangle, NW_MESH_RIMS, NW_MESH_FAR, lines);
    for (int v = 0; v < 3; v++) {
        mesh->vertices = nw_grow(mesh->vertices, builder->vertex_count, &builder->vertex_capacity,
                                 sizeof(NwMeshVertex));
        NwMeshVertex *vertex = &mesh->vertices[builder->vertex_count++];
        *vertex = (NwMeshVertex){
            .at = {(float)triangle[v].x, (float)triangle[v].y, (float)triangle[v].z},
            .normal = {(signed char)normal.x, (signed char)normal.y, (signed char)normal.z},
            .open = outlook(builder->solid, triangle[v], normal),
        };
        for (int i = 0; i < NW_MESH_RIMS; i++) {
            vertex->rim[i] = lines[i].distance[v];
            vertex->beyond[i] = plane_code(lines[i].beyond, lines[i].offset);
        }
    }
    mesh->triangle_count++;
}

/* Extent, centre and radius of the parts of `mask`, whose faces have been added. */
static void measure(NwMeshGroup *group, int mask) {
    NwVec all[4 * NW_PARTS];
    int count = 0;
    for (int bit = 0; bit < NW_PARTS; bit++)
        if (mask >> bit & 1) {
            nw_part_vertices((NwPart){group->cell, bit}, &all[count]);
            count += 4;
        }
    for (int a = 0; a < NW_MESH_AXES; a++) {
        group->low[a] = group->high[a] = nw_vec_dot(axes[a], all[0]);
        for (int i = 1; i < count; i++) {
            int along = nw_vec_dot(axes[a], all[i]);
            group->low[a] = along < group->low[a] ? along : group->low[a];
            group->high[a] = along > group->high[a] ? along : group->high[a];
        }
    }
    for (int k = 0; k < 3; k++) {
        float sum = 0;
        for (int i = 0; i < count; i++)
            sum += (float)nw_vec_get(all[i], k);
        group->centre[k] = sum / (float)count;
    }
    for (int i = 0; i < count; i++) {
        float x = (float)all[i].x - group->centre[0], y = (float)all[i].y - group->centre[1],
              z = (float)all[i].z - group->centre[2];
        group->radius = fmaxf(group->radius, sqrtf(x * x + y * y + z * z));
    }
}

static void add_group(Builder *builder, NwVec cell, int mask, int name) {
    NwMesh *mesh = builder->mesh;
    NwMeshGroup group = {.first = mesh->triangle_count, .cell = cell, .bit = name};
    for (int bit = 0; bit < NW_PARTS; bit++)
        for (int face = 0; mask >> bit & 1 && face < 4; face++) {
            NwPart part = {cell, bit};
            if (nw_solid_has(builder->solid, nw_part_across(part, face)))
                continue;
            NwVec triangle[3];
            nw_part_face(part, face, triangle);
            add_triangle(builder, triangle);
        }
    group.count = mesh->triangle_count - group.first;
    if (!group.count)
        return;
    measure(&group, mask);
    mesh->groups =
        nw_grow(mesh->groups, mesh->group_count, &builder->group_capacity, sizeof(NwMeshGroup));
    mesh->groups[mesh->group_count++] = group;
}

NwMesh *nw_mesh_new(const NwSolid *solid) {
    NwMesh *mesh = nw_alloc(1, sizeof *mesh);
    NwSurface *surface = nw_surface_new(solid);
    mesh->edge_count = nw_surface_edges(surface, &mesh->edges);
    NwEdgeLines *rim = nw_edge_lines_new(surface, mesh->edges, mesh->edge_count);
    Builder builder = {.solid = solid, .rim = rim, .mesh = mesh};
    for (size_t i = 0; i < solid->count; i++) {
        NwVec cell = nw_cell_at(&solid->cells[i]);
        int mask = solid->cells[i].mask;
        if (mask & NW_CORE) {
            add_group(&builder, cell, mask, 0);
            continue;
        }
        for (int bit = 1; bit < NW_PARTS; bit++)
            if (mask >> bit & 1)
                add_group(&builder, cell, 1 << bit, bit);
    }
    nw_edge_lines_free(rim);
    nw_surface_free(surface);
    return mesh;
}

void nw_mesh_free(NwMesh *mesh) {
    if (!mesh)
        return;
    free(mesh->vertices);
    free(mesh->groups);
    free(mesh->edges);
    free(mesh);
}
