/* Layers of what is see-through, one by one, the nearest first. Inner part of painter.h.
 * Thread: that of the current context. */
#ifndef NW_VIEW_DEPTH_PEEL_H
#define NW_VIEW_DEPTH_PEEL_H

#include "view/faces.h"
#include "view/framebuffer.h"

enum { NW_DEPTH_PEEL_LAYERS_MAX = 96 };

typedef struct NwDepthPeel {
    NwFramebuffer layers[2]; /* in turn: this one, and the one before */
    NwFramebuffer sum;       /* all layers so far */
    GLuint query, array;
} NwDepthPeel;

void nw_depth_peel_clear(NwDepthPeel *peel);

/* Draws the listed faces with `faces_program`, whose uniforms but for "before" are set, over the
 * framebuffer `frame`. Afterwards that is bound. */
gboolean nw_depth_peel_draw(NwDepthPeel *peel, const NwFaces *faces, GLuint faces_program,
                            GLuint layer_program, GLuint frame, int width, int height,
                            GError **error);

#endif
