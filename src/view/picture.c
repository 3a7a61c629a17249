#include "view/picture.h"

#include <epoxy/egl.h>
#include <epoxy/gl.h>
#include <glib/gi18n.h>
#include <pthread.h>

#include "format/replace_file.h"
#include "view/framebuffer.h"

/* EGL has one display of this platform for the whole process, and terminating it takes the contexts
 * of every studio with it; so the last studio does. */
static pthread_mutex_t display_lock = PTHREAD_MUTEX_INITIALIZER;
static int display_users;

struct NwStudio {
    EGLDisplay display;
    EGLContext context;
    EGLSurface surface; /* EGL_NO_SURFACE where contexts need none */
    NwPainter *painter;
    NwFramebuffer target;
};

static gboolean refuse(GError **error, const char *what) {
    g_set_error(error, NW_VIEW_ERROR, NW_VIEW_ERROR_DRIVER,
                _("no picture can be drawn here: %s; install an OpenGL driver, such as the "
                  "package libegl-mesa0 with libgl1-mesa-dri"),
                what);
    return FALSE;
}

static EGLDisplay take_display(void) {
    pthread_mutex_lock(&display_lock);
    EGLDisplay display =
        eglGetPlatformDisplayEXT(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, NULL);
    if (display != EGL_NO_DISPLAY && !eglInitialize(display, NULL, NULL))
        display = EGL_NO_DISPLAY;
    display_users += display != EGL_NO_DISPLAY;
    pthread_mutex_unlock(&display_lock);
    return display;
}

static void return_display(EGLDisplay display) {
    pthread_mutex_lock(&display_lock);
    if (!--display_users)
        eglTerminate(display);
    pthread_mutex_unlock(&display_lock);
}

static gboolean open_display(NwStudio *studio, GError **error) {
    if (!epoxy_has_egl())
        return refuse(error, _("the EGL library is missing"));
    if (!epoxy_has_egl_extension(EGL_NO_DISPLAY, "EGL_EXT_platform_base") ||
        !epoxy_has_egl_extension(EGL_NO_DISPLAY, "EGL_MESA_platform_surfaceless"))
        return refuse(error, _("the EGL library cannot draw without a display"));
    studio->display = take_display();
    return studio->display != EGL_NO_DISPLAY ||
           refuse(error, _("the graphics driver does not start"));
}

/* A context of desktop OpenGL 3.3, or else of OpenGL ES 3. */
static gboolean make_context(NwStudio *studio, EGLConfig *config, GError **error) {
    static const struct {
        EGLenum api;
        EGLint renderable, attributes[7];
    } kinds[] = {
        {EGL_OPENGL_API,
         EGL_OPENGL_BIT,
         {EGL_CONTEXT_MAJOR_VERSION, 3, EGL_CONTEXT_MINOR_VERSION, 3,
          EGL_CONTEXT_OPENGL_PROFILE_MASK, EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT, EGL_NONE}},
        {EGL_OPENGL_ES_API, EGL_OPENGL_ES3_BIT, {EGL_CONTEXT_MAJOR_VERSION, 3, EGL_NONE}},
    };
    for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++) {
        const EGLint wanted[] = {EGL_SURFACE_TYPE, EGL_PBUFFER_BIT, EGL_RENDERABLE_TYPE,
                                 kinds[i].renderable, EGL_NONE};
        EGLint count = 0;
        if (!eglBindAPI(kinds[i].api) ||
            !eglChooseConfig(studio->display, wanted, config, 1, &count) || !count)
            continue;
        studio->context =
            eglCreateContext(studio->display, *config, EGL_NO_CONTEXT, kinds[i].attributes);
        if (studio->context != EGL_NO_CONTEXT)
            return TRUE;
    }
    return refuse(error, _("the graphics driver has neither OpenGL 3.3 nor OpenGL ES 3"));
}

static gboolean open_studio(NwStudio *studio, GError **error) {
    EGLConfig config = NULL;
    if (!open_display(studio, error) || !make_context(studio, &config, error))
        return FALSE;
    if (!epoxy_has_egl_extension(studio->display, "EGL_KHR_surfaceless_context")) {
        const EGLint smallest[] = {EGL_WIDTH, 1, EGL_HEIGHT, 1, EGL_NONE};
        studio->surface = eglCreatePbufferSurface(studio->display, config, smallest);
    }
    if (!eglMakeCurrent(studio->display, studio->surface, studio->surface, studio->context))
        return refuse(error, _("the graphics driver does not take a drawing without a window"));
    studio->painter = nw_painter_new(error);
    return studio->painter != NULL;
}

NwStudio *nw_studio_new(GError **error) {
    NwStudio *studio = g_new0(NwStudio, 1);
    studio->display = EGL_NO_DISPLAY;
    studio->context = EGL_NO_CONTEXT;
    studio->surface = EGL_NO_SURFACE;
    if (open_studio(studio, error))
        return studio;
    nw_studio_free(studio);
    return NULL;
}

void nw_studio_free(NwStudio *studio) {
    if (!studio)
        return;
    nw_painter_free(studio->painter);
    nw_framebuffer_clear(&studio->target);
    if (studio->display != EGL_NO_DISPLAY) {
        eglMakeCurrent(studio->display, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
        if (studio->surface != EGL_NO_SURFACE)
            eglDestroySurface(studio->display, studio->surface);
        if (studio->context != EGL_NO_CONTEXT)
            eglDestroyContext(studio->display, studio->context);
        return_display(studio->display);
    }
    g_free(studio);
}

/* Reads the framebuffer; its rows go upwards, those of the image downwards. */
static cairo_surface_t *read_picture(int width, int height, GError **error) {
    cairo_surface_t *picture = cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height);
    if (cairo_surface_status(picture) != CAIRO_STATUS_SUCCESS) {
        cairo_surface_destroy(picture);
        g_set_error(error, NW_VIEW_ERROR, NW_VIEW_ERROR_SIZE,
                    _("there is no memory for a picture of %d × %d pixels: make it smaller"), width,
                    height);
        return NULL;
    }
    guchar *row = g_new(guchar, 4 * (gsize)width);
    cairo_surface_flush(picture);
    unsigned char *data = cairo_image_surface_get_data(picture);
    int stride = cairo_image_surface_get_stride(picture);
    glPixelStorei(GL_PACK_ALIGNMENT, 4);
    for (int y = 0; y < height; y++) {
        guint32 *line = (guint32 *)(void *)(data + (gsize)y * (gsize)stride);
        glReadPixels(0, height - 1 - y, width, 1, GL_RGBA, GL_UNSIGNED_BYTE, row);
        for (int x = 0; x < width; x++)
            line[x] = 0xff000000u | (guint32)row[4 * x] << 16 | (guint32)row[4 * x + 1] << 8 |
                      row[4 * x + 2];
    }
    cairo_surface_mark_dirty(picture);
    g_free(row);
    return picture;
}

gboolean nw_studio_paint(NwStudio *studio, const NwScene *scene, const NwCamera *camera,
                         const NwPaintOptions *options, GError **error) {
    int most = NW_PICTURE_SIDE_MAX / (options->best ? 2 : 1);
    if (options->width < 1 || options->height < 1 || options->width > most ||
        options->height > most) {
        g_set_error(error, NW_VIEW_ERROR, NW_VIEW_ERROR_SIZE,
                    _("a picture of %d × %d pixels cannot be made: keep each side from 1 to %d"),
                    options->width, options->height, most);
        return FALSE;
    }
    if (!nw_framebuffer_bind(&studio->target, options->width, options->height, 0, FALSE, error) ||
        !nw_painter_draw(studio->painter, scene, camera, options, error))
        return FALSE;
    glFinish();
    return TRUE;
}

cairo_surface_t *nw_studio_draw(NwStudio *studio, const NwScene *scene, const NwCamera *camera,
                                const NwPaintOptions *options, GError **error) {
    if (!nw_studio_paint(studio, scene, camera, options, error))
        return NULL;
    return read_picture(options->width, options->height, error);
}

typedef struct Order {
    const NwScene *scene;
    const NwCamera *camera;
    const NwPaintOptions *options;
    cairo_surface_t *picture;
    GError *error;
} Order;

static void *fill_order(void *data) {
    Order *order = data;
    NwStudio *studio = nw_studio_new(&order->error);
    if (studio)
        order->picture =
            nw_studio_draw(studio, order->scene, order->camera, order->options, &order->error);
    nw_studio_free(studio);
    return NULL;
}

cairo_surface_t *nw_picture_draw(const NwScene *scene, const NwCamera *camera,
                                 const NwPaintOptions *options, GError **error) {
    Order order = {.scene = scene, .camera = camera, .options = options};
    pthread_t thread;
    if (pthread_create(&thread, NULL, fill_order, &order) != 0) {
        g_set_error(error, NW_VIEW_ERROR, NW_VIEW_ERROR_FAILED,
                    _("no picture can be drawn now: the system gives no thread for it; try again"));
        return NULL;
    }
    pthread_join(thread, NULL);
    if (order.error)
        g_propagate_error(error, order.error);
    return order.picture;
}

static cairo_status_t append(void *bytes, const unsigned char *data, unsigned int length) {
    g_byte_array_append(bytes, data, length);
    return CAIRO_STATUS_SUCCESS;
}

gboolean nw_picture_save(cairo_surface_t *picture, const char *path, GError **error) {
    GByteArray *bytes = g_byte_array_new();
    GError *failure = NULL;
    cairo_status_t status = cairo_surface_write_to_png_stream(picture, append, bytes);
    gboolean saved =
        status == CAIRO_STATUS_SUCCESS && nw_replace_file(path, bytes->data, bytes->len, &failure);
    g_byte_array_unref(bytes);
    if (saved)
        return TRUE;
    g_set_error(
        error, NW_VIEW_ERROR, NW_VIEW_ERROR_FAILED,
        _("Could not save “%s” (%s): check that the folder exists, is writable and has room."),
        path, failure ? failure->message : cairo_status_to_string(status));
    g_clear_error(&failure);
    return FALSE;
}
