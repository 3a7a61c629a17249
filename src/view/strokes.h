/* Straight strokes: the wire of the envelope, paths with an arrow's head, and stars at points.
 * Inner part of painter.h. Thread: that of the current context. */
#ifndef NW_VIEW_STROKES_H
#define NW_VIEW_STROKES_H

#include <epoxy/gl.h>
#include <glib.h>

#include "view/scene.h"

typedef struct NwStrokes {
    GLuint array, vertices;                     /* 0: not made */
    size_t wire_count, path_count, point_count; /* vertices, in this order */
} NwStrokes;

void nw_strokes_clear(NwStrokes *strokes);

/* `width` is that of an edge, in pixels. */
void nw_strokes_load(NwStrokes *strokes, const NwScene *scene, float width);

/* With the line program in use. */
void nw_strokes_draw_wire(const NwStrokes *strokes);
void nw_strokes_draw_paths(const NwStrokes *strokes);
void nw_strokes_draw_points(const NwStrokes *strokes);

#endif
