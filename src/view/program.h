/* Shader programs from the files in shaders/, for OpenGL 3.3 core and OpenGL ES 3.
 * Thread: that of the current context. */
#ifndef NW_VIEW_PROGRAM_H
#define NW_VIEW_PROGRAM_H

#include <epoxy/gl.h>
#include <glib.h>

#define NW_VIEW_ERROR (nw_view_error_quark())

typedef enum NwViewError {
    NW_VIEW_ERROR_DRIVER,  /* no usable driver, or one too old */
    NW_VIEW_ERROR_PROGRAM, /* the driver refuses a shader */
    NW_VIEW_ERROR_SIZE,    /* a picture larger than the driver can make */
    NW_VIEW_ERROR_FAILED,  /* the driver ran out of memory or the like */
} NwViewError;

GQuark nw_view_error_quark(void);

/* Whether the current context will do; if not, the message says what it is. */
gboolean nw_program_check_driver(GError **error);

/* Compiles shaders/NAME.vert.glsl and shaders/NAME.frag.glsl with `defines` (whole lines) before
 * them. 0 with the driver's message if it refuses. */
GLuint nw_program_new(const char *name, const char *defines, GError **error);

#endif
