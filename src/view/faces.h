/* The faces of all bodies of a scene in the graphics memory, and the list of those to be drawn.
 * Inner part of painter.h. Thread: that of the current context. */
#ifndef NW_VIEW_FACES_H
#define NW_VIEW_FACES_H

#include <epoxy/gl.h>
#include <glib.h>

#include "view/order.h"

typedef struct NwFaces {
    GLuint array, vertices, indices, places; /* 0: not made */
    guint32 *first;                          /* the first vertex of each body */
    guint32 *list;                           /* indices of vertices */
    size_t count, capacity;
} NwFaces;

void nw_faces_clear(NwFaces *faces);

/* Brings the triangles into the graphics memory; then offsets and colours. `opaque` is how opaque
 * plain bodies are. */
void nw_faces_load(NwFaces *faces, const NwScene *scene);
void nw_faces_place(NwFaces *faces, const NwScene *scene, float opaque);

/* Lists the groups in this order, of each the triangles turned away from the eye first. With
 * `fronts_only` those are left out. */
void nw_faces_list(NwFaces *faces, const NwScene *scene, const NwCamera *camera,
                   const NwOrderItem *items, size_t count, gboolean fronts_only);

/* Lists all fronts of what is not a ghost, in no order. */
void nw_faces_list_fronts(NwFaces *faces, const NwScene *scene, const NwCamera *camera);

/* Draws what is listed with the program in use. */
void nw_faces_draw(const NwFaces *faces, GLuint program);

#endif
