#include "view/faces.h"

#include <stddef.h>
#include <stdlib.h>

#include "base/memory.h"

enum { PLACES_BINDING = 0 };

/* What the shader gets of a vertex: that of the mesh, and its body. */
typedef struct Vertex {
    NwMeshVertex mesh;
    guint32 body;
} Vertex;

/* The uniform block of face.vert.glsl. */
typedef struct Places {
    float place[NW_SCENE_BODIES_MAX][4];
    float paint[NW_SCENE_BODIES_MAX][4];
} Places;

/* Where the eye is, or where it is towards. */
typedef struct Eye {
    gboolean parallel;
    float at[3];
} Eye;

static void attribute(GLuint index, GLint size, GLenum type, GLboolean share, size_t offset) {
    glEnableVertexAttribArray(index);
    glVertexAttribPointer(index, size, type, share, sizeof(Vertex), (const void *)offset);
}

static void make(NwFaces *faces) {
    glGenVertexArrays(1, &faces->array);
    glGenBuffers(1, &faces->vertices);
    glGenBuffers(1, &faces->indices);
    glGenBuffers(1, &faces->places);
    glBindVertexArray(faces->array);
    glBindBuffer(GL_ARRAY_BUFFER, faces->vertices);
    glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, faces->indices);
    attribute(0, 3, GL_FLOAT, GL_FALSE, offsetof(NwMeshVertex, at));
    attribute(1, 3, GL_BYTE, GL_FALSE, offsetof(NwMeshVertex, normal));
    attribute(2, 1, GL_UNSIGNED_BYTE, GL_TRUE, offsetof(NwMeshVertex, open));
    attribute(3, 3, GL_FLOAT, GL_FALSE, offsetof(NwMeshVertex, rim));
    attribute(4, 3, GL_FLOAT, GL_FALSE, offsetof(NwMeshVertex, rim) + 3 * sizeof(float));
    attribute(5, 3, GL_FLOAT, GL_FALSE, offsetof(NwMeshVertex, beyond));
    attribute(6, 3, GL_FLOAT, GL_FALSE, offsetof(NwMeshVertex, beyond) + 3 * sizeof(float));
    glEnableVertexAttribArray(7);
    glVertexAttribIPointer(7, 1, GL_UNSIGNED_INT, sizeof(Vertex),
                           (const void *)offsetof(Vertex, body));
    glBindVertexArray(0);
}

void nw_faces_clear(NwFaces *faces) {
    if (faces->array) {
        glDeleteVertexArrays(1, &faces->array);
        glDeleteBuffers(1, &faces->vertices);
        glDeleteBuffers(1, &faces->indices);
        glDeleteBuffers(1, &faces->places);
    }
    free(faces->first);
    free(faces->list);
    *faces = (NwFaces){0};
}

void nw_faces_load(NwFaces *faces, const NwScene *scene) {
    if (!faces->array)
        make(faces);
    size_t total = 0, at = 0;
    faces->first = nw_resize(faces->first, scene->body_count, sizeof *faces->first);
    for (size_t i = 0; i < scene->body_count; i++) {
        faces->first[i] = (guint32)total;
        total += 3 * scene->bodies[i].mesh->triangle_count;
    }
    Vertex *vertices = nw_alloc(total, sizeof *vertices);
    for (size_t i = 0; i < scene->body_count; i++)
        for (size_t v = 0; v < 3 * scene->bodies[i].mesh->triangle_count; v++)
            vertices[at++] = (Vertex){scene->bodies[i].mesh->vertices[v], (guint32)i};
    glBindBuffer(GL_ARRAY_BUFFER, faces->vertices);
    glBufferData(GL_ARRAY_BUFFER, (GLsizeiptr)(total * sizeof *vertices), vertices, GL_STATIC_DRAW);
    glBindBuffer(GL_ARRAY_BUFFER, 0);
    free(vertices);
}

void nw_faces_place(NwFaces *faces, const NwScene *scene, float opaque) {
    Places *places = nw_alloc(1, sizeof *places);
    for (size_t i = 0; i < scene->body_count; i++) {
        const NwSceneBody *body = &scene->bodies[i];
        gboolean ghost = (body->flags & NW_BODY_GHOST) != 0, lit = (body->flags & NW_BODY_LIT) != 0;
        gboolean rim = (body->flags & NW_BODY_RIM) != 0;
        for (int k = 0; k < 3; k++)
            places->place[i][k] = body->offset[k];
        places->place[i][3] = ghost ? 1 : lit ? 2 : rim ? 3 : 0;
        float lift = lit ? 0.22f : 0;
        places->paint[i][0] = body->colour.r + (1 - body->colour.r) * lift;
        places->paint[i][1] = body->colour.g + (1 - body->colour.g) * lift;
        places->paint[i][2] = body->colour.b + (1 - body->colour.b) * lift;
        places->paint[i][3] = opaque <= 0 ? 0
                              : ghost     ? 0.10f
                              : rim       ? 0.16f
                              : lit       ? MAX(opaque, 0.8f)
                                          : opaque;
    }
    glBindBuffer(GL_UNIFORM_BUFFER, faces->places);
    glBufferData(GL_UNIFORM_BUFFER, sizeof *places, places, GL_DYNAMIC_DRAW);
    glBindBuffer(GL_UNIFORM_BUFFER, 0);
    free(places);
}

static Eye eye_of(const NwCamera *camera) {
    NwCameraAxes axes = nw_camera_axes(camera);
    Eye eye = {.parallel = camera->parallel};
    for (int k = 0; k < 3; k++)
        eye.at[k] = (float)(camera->parallel ? axes.back[k] : axes.eye[k]);
    return eye;
}

static gboolean is_front(const NwSceneBody *body, size_t triangle, const Eye *eye) {
    const NwMeshVertex *vertex = &body->mesh->vertices[3 * triangle];
    float sum = 0;
    for (int k = 0; k < 3; k++)
        sum += vertex->normal[k] *
               (eye->parallel ? eye->at[k] : eye->at[k] - vertex->at[k] - body->offset[k]);
    return sum > 0;
}

static void add_group(NwFaces *faces, const NwScene *scene, size_t b, const NwMeshGroup *group,
                      const Eye *eye, gboolean fronts) {
    for (size_t t = group->first; t < group->first + group->count; t++) {
        if (is_front(&scene->bodies[b], t, eye) != fronts)
            continue;
        for (guint32 v = 0; v < 3; v++) {
            faces->list = nw_grow(faces->list, faces->count, &faces->capacity, sizeof(guint32));
            faces->list[faces->count++] = faces->first[b] + 3 * (guint32)t + v;
        }
    }
}

static void send_list(NwFaces *faces) {
    glBindVertexArray(faces->array);
    glBufferData(GL_ELEMENT_ARRAY_BUFFER, (GLsizeiptr)(faces->count * sizeof(guint32)), faces->list,
                 GL_STREAM_DRAW);
    glBindVertexArray(0);
}

void nw_faces_list(NwFaces *faces, const NwScene *scene, const NwCamera *camera,
                   const NwOrderItem *items, size_t count, gboolean fronts_only) {
    Eye eye = eye_of(camera);
    faces->count = 0;
    for (size_t i = 0; i < count; i++) {
        const NwMeshGroup *group = &scene->bodies[items[i].body].mesh->groups[items[i].group];
        if (!fronts_only)
            add_group(faces, scene, items[i].body, group, &eye, FALSE);
        add_group(faces, scene, items[i].body, group, &eye, TRUE);
    }
    send_list(faces);
}

void nw_faces_list_fronts(NwFaces *faces, const NwScene *scene, const NwCamera *camera) {
    Eye eye = eye_of(camera);
    faces->count = 0;
    for (size_t b = 0; b < scene->body_count; b++) {
        const NwSceneBody *body = &scene->bodies[b];
        for (size_t g = 0;
             !(body->flags & (NW_BODY_HIDDEN | NW_BODY_GHOST)) && g < body->mesh->group_count; g++)
            add_group(faces, scene, b, &body->mesh->groups[g], &eye, TRUE);
    }
    send_list(faces);
}

void nw_faces_draw(const NwFaces *faces, GLuint program) {
    GLuint block = glGetUniformBlockIndex(program, "Bodies");
    glUniformBlockBinding(program, block, PLACES_BINDING);
    glBindBufferBase(GL_UNIFORM_BUFFER, PLACES_BINDING, faces->places);
    glBindVertexArray(faces->array);
    glDrawElements(GL_TRIANGLES, (GLsizei)faces->count, GL_UNSIGNED_INT, NULL);
    glBindVertexArray(0);
}
