#include "view/framebuffer.h"

#include <glib/gi18n.h>

#include "view/program.h"

static void make_renderbuffers(NwFramebuffer *target) {
    glGenRenderbuffers(1, &target->colour);
    glBindRenderbuffer(GL_RENDERBUFFER, target->colour);
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, target->samples, GL_RGBA8, target->width,
                                     target->height);
    glGenRenderbuffers(1, &target->depth);
    glBindRenderbuffer(GL_RENDERBUFFER, target->depth);
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, target->samples, GL_DEPTH_COMPONENT24,
                                     target->width, target->height);
    glBindRenderbuffer(GL_RENDERBUFFER, 0);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER,
                              target->colour);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, target->depth);
}

static GLuint make_texture(GLint inner, GLenum format, GLenum type, int width, int height) {
    GLuint texture;
    glGenTextures(1, &texture);
    glBindTexture(GL_TEXTURE_2D, texture);
    glTexImage2D(GL_TEXTURE_2D, 0, inner, width, height, 0, format, type, NULL);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_NEAREST);
    glBindTexture(GL_TEXTURE_2D, 0);
    return texture;
}

static void make_textures(NwFramebuffer *target) {
    target->colour =
        make_texture(GL_RGBA8, GL_RGBA, GL_UNSIGNED_BYTE, target->width, target->height);
    target->depth = make_texture(GL_DEPTH_COMPONENT24, GL_DEPTH_COMPONENT, GL_UNSIGNED_INT,
                                 target->width, target->height);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, target->colour, 0);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_TEXTURE_2D, target->depth, 0);
}

gboolean nw_framebuffer_bind(NwFramebuffer *target, int width, int height, int samples,
                             gboolean textures, GError **error) {
    if (target->frame && target->width == width && target->height == height &&
        target->samples == samples && target->textures == textures) {
        glBindFramebuffer(GL_FRAMEBUFFER, target->frame);
        return TRUE;
    }
    nw_framebuffer_clear(target);
    *target =
        (NwFramebuffer){.width = width, .height = height, .samples = samples, .textures = textures};
    glGenFramebuffers(1, &target->frame);
    glBindFramebuffer(GL_FRAMEBUFFER, target->frame);
    if (textures)
        make_textures(target);
    else
        make_renderbuffers(target);
    if (glCheckFramebufferStatus(GL_FRAMEBUFFER) == GL_FRAMEBUFFER_COMPLETE)
        return TRUE;
    nw_framebuffer_clear(target);
    g_set_error(error, NW_VIEW_ERROR, NW_VIEW_ERROR_FAILED,
                _("the graphics driver cannot make a picture of %d × %d pixels: make it smaller"),
                width, height);
    return FALSE;
}

void nw_framebuffer_clear(NwFramebuffer *target) {
    if (target->frame)
        glDeleteFramebuffers(1, &target->frame);
    if (target->textures) {
        glDeleteTextures(1, &target->colour);
        glDeleteTextures(1, &target->depth);
    } else if (target->frame) {
        glDeleteRenderbuffers(1, &target->colour);
        glDeleteRenderbuffers(1, &target->depth);
    }
    *target = (NwFramebuffer){0};
}

void nw_framebuffer_copy(const NwFramebuffer *target, GLuint frame, int width, int height) {
    glBindFramebuffer(GL_READ_FRAMEBUFFER, target->frame);
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, frame);
    glBlitFramebuffer(0, 0, target->width, target->height, 0, 0, width, height, GL_COLOR_BUFFER_BIT,
                      target->width == width && target->height == height ? GL_NEAREST : GL_LINEAR);
    glBindFramebuffer(GL_FRAMEBUFFER, frame);
}
