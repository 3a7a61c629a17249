#include "view/scene.h"

#include <math.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

NwScene *nw_scene_new(void) {
    static atomic_ulong made; /* scenes, by any thread */
    NwScene *scene = nw_alloc(1, sizeof *scene);
    scene->serial = 1 + atomic_fetch_add(&made, 1);
    scene->shadow = true;
    scene->up[2] = 1;
    return scene;
}

void nw_scene_free(NwScene *scene) {
    if (!scene)
        return;
    nw_scene_clear(scene);
    free(scene->bodies);
    free(scene->marks);
    free(scene->points);
    free(scene->paths);
    free(scene);
}

void nw_scene_clear(NwScene *scene) {
    for (size_t i = 0; i < scene->body_count; i++) {
        nw_solid_free(scene->bodies[i].solid);
        nw_solid_free(scene->bodies[i].shown);
        nw_mesh_free(scene->bodies[i].mesh);
    }
    nw_scene_clear_marks(scene);
    nw_scene_clear_points(scene);
    nw_scene_clear_paths(scene);
    nw_mesh_free(scene->wire);
    scene->wire = NULL;
    scene->body_count = 0;
    scene->built++;
}

static bool keeps(const NwPlane *plane, NwPart part) {
    NwVec vertices[4];
    nw_part_vertices(part, vertices);
    for (int k = 0; k < 4; k++)
        if (nw_vec_dot(plane->normal, vertices[k]) > plane->limit)
            return false;
    return true;
}

static NwSolid *cut(const NwScene *scene, const NwSolid *solid) {
    NwSolid *shown = nw_solid_copy(solid);
    for (size_t i = 0; scene->has_section && i < solid->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++) {
            NwPart part = {nw_cell_at(&solid->cells[i]), bit};
            if (solid->cells[i].mask >> bit & 1 && !keeps(&scene->section, part))
                nw_solid_remove(shown, part.cell, 1 << bit);
        }
    return shown;
}

size_t nw_scene_add(NwScene *scene, const NwSolid *solid, NwColour colour, unsigned flags) {
    if (scene->body_count == NW_SCENE_BODIES_MAX)
        return NW_SCENE_BODIES_MAX;
    scene->bodies =
        nw_grow(scene->bodies, scene->body_count, &scene->body_capacity, sizeof(NwSceneBody));
    NwSceneBody *body = &scene->bodies[scene->body_count];
    *body = (NwSceneBody){.solid = nw_solid_copy(solid), .colour = colour, .flags = flags};
    body->shown = cut(scene, body->solid);
    body->mesh = nw_mesh_new(body->shown);
    scene->built++;
    return scene->body_count++;
}

void nw_scene_move(NwScene *scene, size_t body, const double offset[3]) {
    for (int k = 0; k < 3; k++)
        scene->bodies[body].offset[k] = (float)offset[k];
    scene->moved++;
}

void nw_scene_paint(NwScene *scene, size_t body, NwColour colour, unsigned flags) {
    scene->bodies[body].colour = colour;
    scene->bodies[body].flags = flags;
    scene->moved++;
}

void nw_scene_set_section(NwScene *scene, const NwPlane *plane) {
    scene->has_section = plane != NULL;
    if (plane)
        scene->section = *plane;
    for (size_t i = 0; i < scene->body_count; i++) {
        NwSceneBody *body = &scene->bodies[i];
        nw_solid_free(body->shown);
        nw_mesh_free(body->mesh);
        body->shown = cut(scene, body->solid);
        body->mesh = nw_mesh_new(body->shown);
    }
    scene->built++;
}

void nw_scene_add_mark(NwScene *scene, const NwSolid *solid, size_t body, NwColour colour,
                       NwMarkLook look) {
    if (!solid->count)
        return;
    scene->marks =
        nw_grow(scene->marks, scene->mark_count, &scene->mark_capacity, sizeof(NwSceneMark));
    scene->marks[scene->mark_count++] = (NwSceneMark){nw_solid_copy(solid), body, colour, look};
    scene->marked++;
}

void nw_scene_add_point(NwScene *scene, NwScenePoint point) {
    scene->points =
        nw_grow(scene->points, scene->point_count, &scene->point_capacity, sizeof(NwScenePoint));
    scene->points[scene->point_count++] = point;
    scene->moved++;
}

void nw_scene_clear_marks(NwScene *scene) {
    for (size_t i = 0; i < scene->mark_count; i++)
        nw_solid_free(scene->marks[i].solid);
    scene->mark_count = 0;
    scene->marked++;
}

void nw_scene_clear_points(NwScene *scene) {
    scene->point_count = 0;
    scene->moved++;
}

void nw_scene_clear_paths(NwScene *scene) {
    for (size_t i = 0; i < scene->path_count; i++)
        free(scene->paths[i].points);
    scene->path_count = 0;
    scene->moved++;
}

void nw_scene_add_path(NwScene *scene, const double (*points)[3], size_t count, NwColour colour) {
    scene->paths =
        nw_grow(scene->paths, scene->path_count, &scene->path_capacity, sizeof(NwScenePath));
    NwScenePath *path = &scene->paths[scene->path_count++];
    *path = (NwScenePath){nw_alloc(count, sizeof *path->points), count, colour};
    for (size_t i = 0; i < count; i++)
        for (int k = 0; k < 3; k++)
            path->points[i][k] = (float)points[i][k];
    scene->moved++;
}

void nw_scene_set_wire(NwScene *scene, const NwSolid *solid) {
    nw_mesh_free(scene->wire);
    scene->wire = solid ? nw_mesh_new(solid) : NULL;
    scene->built++;
}

static void add_point(double (**points)[3], size_t *count, size_t *capacity, NwVec at,
                      const float offset[3]) {
    *points = nw_grow(*points, *count, capacity, sizeof **points);
    for (int k = 0; k < 3; k++)
        (*points)[*count][k] = nw_vec_get(at, k) + (offset ? (double)offset[k] : 0);
    ++*count;
}

size_t nw_scene_points(const NwScene *scene, double (**points)[3]) {
    size_t count = 0, capacity = 0;
    *points = NULL;
    for (size_t i = 0; i < scene->body_count; i++) {
        const NwSceneBody *body = &scene->bodies[i];
        for (size_t e = 0; !(body->flags & NW_BODY_HIDDEN) && e < body->mesh->edge_count; e++) {
            add_point(points, &count, &capacity, body->mesh->edges[e].from, body->offset);
            add_point(points, &count, &capacity, body->mesh->edges[e].to, body->offset);
        }
    }
    for (size_t e = 0; scene->wire && e < scene->wire->edge_count; e++) {
        add_point(points, &count, &capacity, scene->wire->edges[e].from, NULL);
        add_point(points, &count, &capacity, scene->wire->edges[e].to, NULL);
    }
    return count;
}

void nw_scene_middle(const NwScene *scene, size_t body, double middle[3]) {
    NwBounds box = nw_solid_bounds(scene->bodies[body].shown);
    for (int k = 0; k < 3; k++)
        middle[k] = (nw_vec_get(box.low, k) + nw_vec_get(box.high, k)) / 2.0 +
                    (double)scene->bodies[body].offset[k];
}

void nw_scene_ball(const NwScene *scene, double middle[3], double *radius) {
    double(*points)[3], low[3] = {0}, high[3] = {0};
    size_t count = nw_scene_points(scene, &points);
    for (size_t i = 0; i < count; i++)
        for (int k = 0; k < 3; k++) {
            low[k] = i ? fmin(low[k], points[i][k]) : points[i][k];
            high[k] = i ? fmax(high[k], points[i][k]) : points[i][k];
        }
    free(points);
    double sum = 0;
    for (int k = 0; k < 3; k++) {
        middle[k] = (low[k] + high[k]) / 2;
        sum += (high[k] - low[k]) * (high[k] - low[k]) / 4;
    }
    *radius = sqrt(sum) + 0.5;
}

bool nw_scene_pick(const NwScene *scene, const NwRay *ray, NwScenePick *pick) {
    bool found = false;
    for (size_t i = 0; i < scene->body_count; i++) {
        const NwSceneBody *body = &scene->bodies[i];
        double offset[3] = {body->offset[0], body->offset[1], body->offset[2]};
        NwPick one;
        if (body->flags & (NW_BODY_GHOST | NW_BODY_HIDDEN) ||
            !nw_pick_solid(ray, body->shown, offset, &one))
            continue;
        if (!found || one.distance < pick->pick.distance)
            *pick = (NwScenePick){one, i};
        found = true;
    }
    return found;
}
