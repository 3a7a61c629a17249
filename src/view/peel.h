/* Layers of what is see-through, one by one, the nearest first. Inner part of painter.h.
 * Thread: that of the current context. */
#ifndef NW_VIEW_PEEL_H
#define NW_VIEW_PEEL_H

#include "view/faces.h"
#include "view/target.h"

enum { NW_PEEL_LAYERS_MAX = 96 };

typedef struct NwPeel {
    NwTarget layers[2]; /* in turn: this one, and the one before */
    NwTarget sum;       /* all layers so far */
    GLuint query, array;
} NwPeel;

void nw_peel_clear(NwPeel *peel);

/* Draws the listed faces with `faces_program`, whose uniforms but for "before" are set, over the
 * framebuffer `frame`. Afterwards that is bound. */
gboolean nw_peel_draw(NwPeel *peel, const NwFaces *faces, GLuint faces_program,
                      GLuint layer_program, GLuint frame, int width, int height, GError **error);

#endif
