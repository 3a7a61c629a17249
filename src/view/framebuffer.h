/* Framebuffers of the painter's own: with samples, or with textures to read back in a shader.
 * Thread: that of the current context. */
#ifndef NW_VIEW_FRAMEBUFFER_H
#define NW_VIEW_FRAMEBUFFER_H

#include <epoxy/gl.h>
#include <glib.h>

typedef struct NwFramebuffer {
    GLuint frame, colour, depth; /* 0: not made */
    int width, height, samples;
    gboolean textures; /* colour and depth are textures, else renderbuffers */
} NwFramebuffer;

/* Makes it, or makes it anew if it was of another kind, and binds it. On failure it is cleared. */
gboolean nw_framebuffer_bind(NwFramebuffer *target, int width, int height, int samples,
                             gboolean textures, GError **error);
void nw_framebuffer_clear(NwFramebuffer *target);

/* Copies its colours to another framebuffer of that size; halves them if it is twice as large. */
void nw_framebuffer_copy(const NwFramebuffer *target, GLuint frame, int width, int height);

#endif
