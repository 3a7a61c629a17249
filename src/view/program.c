#include "view/program.h"

#include <gio/gio.h>
#include <glib/gi18n.h>

#include "view/nw-shaders.h"

G_DEFINE_QUARK(nw_view_error, nw_view_error)

gboolean nw_program_check_driver(GError **error) {
    int version = epoxy_gl_version(), least = epoxy_is_desktop_gl() ? 33 : 30;
    if (version >= least)
        return TRUE;
    g_set_error(error, NW_VIEW_ERROR, NW_VIEW_ERROR_DRIVER,
                _("pictures need OpenGL 3.3 or OpenGL ES 3.0, and this driver has %s %d.%d: "
                  "install a newer one, such as Mesa’s"),
                epoxy_is_desktop_gl() ? "OpenGL" : "OpenGL ES", version / 10, version % 10);
    return FALSE;
}

static GLuint compile(GLenum kind, const char *file, const char *defines, GError **error) {
    char *path = g_strconcat("/notchwright/shaders/", file, NULL);
    GBytes *bytes = g_resource_lookup_data(nw_shaders_get_resource(), path,
                                           G_RESOURCE_LOOKUP_FLAGS_NONE, error);
    g_free(path);
    if (!bytes)
        return 0;
    gsize size;
    const char *text = g_bytes_get_data(bytes, &size);
    const char *version = epoxy_is_desktop_gl()
                              ? "#version 330 core\n"
                              : "#version 300 es\nprecision highp float;\nprecision highp int;\n"
                                "precision highp sampler2D;\n";
    const char *parts[] = {version, defines, text};
    const GLint lengths[] = {-1, -1, (GLint)size};
    GLuint shader = glCreateShader(kind);
    glShaderSource(shader, 3, parts, lengths);
    glCompileShader(shader);
    g_bytes_unref(bytes);
    GLint good = GL_FALSE;
    glGetShaderiv(shader, GL_COMPILE_STATUS, &good);
    if (good)
        return shader;
    char log[1024] = "";
    glGetShaderInfoLog(shader, sizeof log, NULL, log);
    g_set_error(error, NW_VIEW_ERROR, NW_VIEW_ERROR_PROGRAM,
                _("the graphics driver refuses %s: %s"), file, g_strchomp(log));
    glDeleteShader(shader);
    return 0;
}

static gboolean link_program(GLuint program, const char *name, GError **error) {
    glLinkProgram(program);
    GLint good = GL_FALSE;
    glGetProgramiv(program, GL_LINK_STATUS, &good);
    if (good)
        return TRUE;
    char log[1024] = "";
    glGetProgramInfoLog(program, sizeof log, NULL, log);
    g_set_error(error, NW_VIEW_ERROR, NW_VIEW_ERROR_PROGRAM,
                _("the graphics driver cannot link %s: %s"), name, g_strchomp(log));
    return FALSE;
}

GLuint nw_program_new(const char *name, const char *defines, GError **error) {
    char *vertex_file = g_strconcat(name, ".vert.glsl", NULL);
    char *fragment_file = g_strconcat(name, ".frag.glsl", NULL);
    GLuint program = 0;
    GLuint vertex = compile(GL_VERTEX_SHADER, vertex_file, defines, error);
    GLuint fragment = vertex ? compile(GL_FRAGMENT_SHADER, fragment_file, defines, error) : 0;
    if (fragment) {
        program = glCreateProgram();
        glAttachShader(program, vertex);
        glAttachShader(program, fragment);
        if (!link_program(program, name, error)) {
            glDeleteProgram(program);
            program = 0;
        }
    }
    glDeleteShader(vertex); /* 0 is allowed; kept by the program while it needs them */
    glDeleteShader(fragment);
    g_free(vertex_file);
    g_free(fragment_file);
    return program;
}
