/* A picture made without a display, by EGL's surfaceless platform.
 *
 * It works without any window system, and with a software driver too. Nothing is left behind: the
 * context is made and freed within a studio's life. Where EGL or a driver is missing, the error
 * says so and what to install. Thread: the one that made the studio; others may have their own at
 * the same time. */
#ifndef NW_VIEW_PICTURE_H
#define NW_VIEW_PICTURE_H

#include <cairo.h>

#include "view/painter.h"

enum { NW_PICTURE_SIDE_MAX = 8192 }; /* pixels; halved for `best` */

typedef struct NwStudio NwStudio;

NwStudio *nw_studio_new(GError **error);
void nw_studio_free(NwStudio *studio); /* NULL is allowed */

/* Draws and waits until it is drawn, for measuring. */
gboolean nw_studio_paint(NwStudio *studio, const NwScene *scene, const NwCamera *camera,
                         const NwPaintOptions *options, GError **error);

/* Draws; the caller destroys the image surface (CAIRO_FORMAT_RGB24). NULL with an error in
 * NW_VIEW_ERROR. Sizes go from 1 to NW_PICTURE_SIDE_MAX or to what the driver allows. */
cairo_surface_t *nw_studio_draw(NwStudio *studio, const NwScene *scene, const NwCamera *camera,
                                const NwPaintOptions *options, GError **error);

/* The same once, in a thread of its own, which it waits for: for a thread that another context is
 * to stay current in, such as that of a window. (A thread can not take a context of EGL while it
 * has one of GLX.) */
cairo_surface_t *nw_picture_draw(const NwScene *scene, const NwCamera *camera,
                                 const NwPaintOptions *options, GError **error);

/* Writes a PNG file, whole or not at all. */
gboolean nw_picture_save(cairo_surface_t *picture, const char *path, GError **error);

#endif
