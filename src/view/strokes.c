#include "view/strokes.h"

#include <math.h>
#include <stddef.h>
#include <stdlib.h>

#include "base/memory.h"

static const float head_length = 0.45f; /* of an arrow, cells */
static const float star_reach = 0.2f;   /* of a star from its point, cells */

typedef struct Corner {
    float at[3], other[3];
    float side;
    float paint[4];
} Corner;

typedef struct Builder {
    Corner *corners;
    size_t count, capacity;
} Builder;

static void add(Builder *builder, const float at[3], const float other[3], float side,
                const float paint[4]) {
    builder->corners =
        nw_grow(builder->corners, builder->count, &builder->capacity, sizeof(Corner));
    Corner *corner = &builder->corners[builder->count++];
    *corner = (Corner){.side = side};
    for (int k = 0; k < 3; k++) {
        corner->at[k] = at[k];
        corner->other[k] = other[k];
    }
    for (int k = 0; k < 4; k++)
        corner->paint[k] = paint[k];
}

/* A stroke whose half width goes from `a` to `b` pixels. At `to` the way is seen backwards, so
 * left and right change places. */
static void add_stroke(Builder *builder, const float from[3], const float to[3], float a, float b,
                       const float paint[4]) {
    add(builder, from, to, a, paint);
    add(builder, from, to, -a, paint);
    add(builder, to, from, -b, paint);
    add(builder, from, to, -a, paint);
    add(builder, to, from, b, paint);
    add(builder, to, from, -b, paint);
}

static void add_wire(Builder *builder, const NwMesh *mesh, NwColour colour, float width) {
    const float paint[4] = {colour.r, colour.g, colour.b, 0.75f};
    for (size_t e = 0; e < mesh->edge_count; e++) {
        const NwEdge *edge = &mesh->edges[e];
        float from[3] = {(float)edge->from.x, (float)edge->from.y, (float)edge->from.z};
        float to[3] = {(float)edge->to.x, (float)edge->to.y, (float)edge->to.z};
        add_stroke(builder, from, to, width / 2, width / 2, paint);
    }
}

static void add_path(Builder *builder, const NwScenePath *path, float width) {
    const float paint[4] = {path->colour.r, path->colour.g, path->colour.b, 0.9f};
    for (size_t i = 0; i + 1 < path->count; i++) {
        const float *from = path->points[i], *to = path->points[i + 1];
        if (i + 2 < path->count) {
            add_stroke(builder, from, to, width, width, paint);
            continue;
        }
        float length = 0, neck[3];
        for (int k = 0; k < 3; k++)
            length += (to[k] - from[k]) * (to[k] - from[k]);
        length = sqrtf(length);
        float share = length > 0 ? fmaxf(0, 1 - head_length / length) : 0;
        for (int k = 0; k < 3; k++)
            neck[k] = from[k] + share * (to[k] - from[k]);
        add_stroke(builder, from, neck, width, width, paint);
        add_stroke(builder, neck, to, 4 * width, 0, paint);
    }
}

/* Three strokes that cross at the point, one along each axis: spindles, or thin lines. */
static void add_star(Builder *builder, const NwScene *scene, const NwScenePoint *point,
                     float width) {
    const float paint[4] = {point->colour.r, point->colour.g, point->colour.b, 1};
    const float middle = point->thin ? width : 2.6f * width, end = point->thin ? width : 0;
    float at[3];
    for (int k = 0; k < 3; k++)
        at[k] = (float)nw_vec_get(point->vertex, k) +
                (point->body < scene->body_count ? scene->bodies[point->body].offset[k] : 0);
    for (int k = 0; k < 3; k++)
        for (int sign = -1; sign <= 1; sign += 2) {
            float to[3] = {at[0], at[1], at[2]};
            to[k] += (float)sign * star_reach;
            add_stroke(builder, at, to, middle, end, paint);
        }
}

static void make(NwStrokes *strokes) {
    static const GLint sizes[4] = {3, 3, 1, 4};
    static const size_t offsets[4] = {offsetof(Corner, at), offsetof(Corner, other),
                                      offsetof(Corner, side), offsetof(Corner, paint)};
    glGenVertexArrays(1, &strokes->array);
    glGenBuffers(1, &strokes->vertices);
    glBindVertexArray(strokes->array);
    glBindBuffer(GL_ARRAY_BUFFER, strokes->vertices);
    for (GLuint i = 0; i < 4; i++) {
        glEnableVertexAttribArray(i);
        glVertexAttribPointer(i, sizes[i], GL_FLOAT, GL_FALSE, sizeof(Corner),
                              (const void *)offsets[i]);
    }
    glBindVertexArray(0);
}

void nw_strokes_clear(NwStrokes *strokes) {
    if (strokes->array) {
        glDeleteVertexArrays(1, &strokes->array);
        glDeleteBuffers(1, &strokes->vertices);
    }
    *strokes = (NwStrokes){0};
}

void nw_strokes_load(NwStrokes *strokes, const NwScene *scene, float width) {
    Builder builder = {0};
    if (!strokes->array)
        make(strokes);
    if (scene->wire)
        add_wire(&builder, scene->wire, nw_palette_paper(scene->dark)->ghost, width);
    strokes->wire_count = builder.count;
    for (size_t i = 0; i < scene->path_count; i++)
        add_path(&builder, &scene->paths[i], 1.3f * width);
    strokes->path_count = builder.count - strokes->wire_count;
    for (size_t i = 0; i < scene->point_count; i++)
        add_star(&builder, scene, &scene->points[i], width);
    strokes->point_count = builder.count - strokes->wire_count - strokes->path_count;
    glBindBuffer(GL_ARRAY_BUFFER, strokes->vertices);
    glBufferData(GL_ARRAY_BUFFER, (GLsizeiptr)(builder.count * sizeof(Corner)), builder.corners,
                 GL_DYNAMIC_DRAW);
    glBindBuffer(GL_ARRAY_BUFFER, 0);
    free(builder.corners);
}

static void draw(const NwStrokes *strokes, size_t first, size_t count) {
    if (!count)
        return;
    glBindVertexArray(strokes->array);
    glDrawArrays(GL_TRIANGLES, (GLint)first, (GLsizei)count);
    glBindVertexArray(0);
}

void nw_strokes_draw_wire(const NwStrokes *strokes) {
    draw(strokes, 0, strokes->wire_count);
}

void nw_strokes_draw_paths(const NwStrokes *strokes) {
    draw(strokes, strokes->wire_count, strokes->path_count);
}

void nw_strokes_draw_points(const NwStrokes *strokes) {
    draw(strokes, strokes->wire_count + strokes->path_count, strokes->point_count);
}
