/* Draws a scene as a camera sees it, with OpenGL 3.3 core or OpenGL ES 3.0.
 *
 * Solid: the fronts of all faces with a depth buffer, then ghosts from back to front. See-through:
 * convex groups from back to front (view/order.h), of each the back faces, then the front faces,
 * in one draw call. Lines: depths first, then hidden edges faint, then seen ones. In all looks an
 * edge is ink in a face (view/mesh.h), and the shadow on the ground is a small picture
 * (view/shadow.h). `best` draws at twice the size, and see-through bodies by peeling: each pass
 * draws, of what lies behind the pass before, what is nearest (C. Everitt, "Interactive
 * order-independent transparency", NVIDIA, 2001). Peeling is right pixel by pixel also where
 * groups hide each other in a circle, and takes about twenty times as long.
 *
 * It draws into whatever framebuffer is bound, which needs depth only if `samples` is 0, and leaves
 * that framebuffer bound and the rest of the state as a new context has it. It never ends the
 * process: what the driver refuses is an error to be shown. Thread: that of the current context,
 * which must be the same in all calls, `free` too. */
#ifndef NW_VIEW_PAINTER_H
#define NW_VIEW_PAINTER_H

#include <glib.h>

#include "view/program.h"
#include "view/scene.h"

enum { NW_PAINTER_SAMPLES = 4 };

typedef struct NwPaintOptions {
    int width, height; /* pixels of the framebuffer */
    int samples;       /* for each pixel: 0 or NW_PAINTER_SAMPLES */
    gboolean best;     /* for still pictures */
    float pixel_scale; /* device pixels for one pixel of line width; 0: 1 */
} NwPaintOptions;

typedef struct NwPainter NwPainter;

/* NULL with an error if the context will not do. */
NwPainter *nw_painter_new(GError **error);
void nw_painter_free(NwPainter *painter); /* NULL is allowed */

/* Only what changed since the last call is sent to the driver (the scene's stamps tell). */
gboolean nw_painter_draw(NwPainter *painter, const NwScene *scene, const NwCamera *camera,
                         const NwPaintOptions *options, GError **error);

#endif
