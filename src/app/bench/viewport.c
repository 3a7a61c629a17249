#include <glib/gi18n.h>
#include <stdlib.h>

#include "app/bench/viewport_private.h"
#include "view/picture.h"

G_DEFINE_FINAL_TYPE(NwViewport, nw_viewport, GTK_TYPE_WIDGET)

enum { PICTURE_SCALE = 2, REFINE_MILLISECONDS = 180 };

/* ---- drawing ----------------------------------------------------------------------------- */

static gboolean on_refine(gpointer data) {
    NwViewport *self = data;
    self->refine = 0;
    self->fine = TRUE;
    self->stale_camera = TRUE; /* the buttons may be in other rows by now */
    gtk_gl_area_queue_render(GTK_GL_AREA(self->area));
    return G_SOURCE_REMOVE;
}

/* Smooth edges take three times as long, which shows while things turn. So a picture in motion is
 * drawn plainly, and once more, finely, when it has come to rest. */
static void draw_again(NwViewport *self) {
    self->fine = FALSE;
    g_clear_handle_id(&self->refine, g_source_remove);
    self->refine = g_timeout_add(REFINE_MILLISECONDS, on_refine, self);
    gtk_gl_area_queue_render(GTK_GL_AREA(self->area));
}

void nw_viewport_draw(NwViewport *self) {
    self->stale_camera = TRUE;
    draw_again(self);
}

void nw_viewport_draw_marks(NwViewport *self) {
    self->stale_marks = TRUE;
    draw_again(self);
}

/* A theme is dark when its text is light. */
static gboolean is_dark(GtkWidget *widget) {
    GdkRGBA text;
    gtk_style_context_get_color(gtk_widget_get_style_context(widget), &text);
    return 0.3 * text.red + 0.59 * text.green + 0.11 * text.blue > 0.5;
}

/* Brings the scene up to date with the view state, as deep as it must. */
static void renew(NwViewport *self) {
    gboolean dark = is_dark(GTK_WIDGET(self));
    if (!self->view_state)
        return;
    if (self->stale_scene || dark != self->scene.scene->dark)
        nw_viewport_scene_rebuild(&self->scene, self->view_state, dark);
    else if (self->stale_place)
        nw_viewport_scene_place(&self->scene, self->view_state);
    if (self->stale_marks && !self->stale_scene)
        nw_viewport_scene_mark(&self->scene, self->view_state);
    if (self->stale_camera) {
        self->camera.parallel = nw_view_state_get_parallel(self->view_state);
        nw_viewport_follow(self);
    }
    self->stale_scene = self->stale_place = self->stale_marks = self->stale_camera = FALSE;
}

static void show_trouble(NwViewport *self, const char *message) {
    char *text =
        g_strdup_printf(_("The view cannot be drawn: %s. Everything else still works."), message);
    gtk_label_set_text(GTK_LABEL(self->trouble), text);
    gtk_widget_set_visible(self->trouble, TRUE);
    g_free(text);
}

static void on_realize(NwViewport *self) {
    GtkGLArea *area = GTK_GL_AREA(self->area);
    gtk_gl_area_make_current(area);
    GError *problem = gtk_gl_area_get_error(area), *error = NULL;
    if (problem) {
        show_trouble(self, problem->message);
        return;
    }
    self->painter = nw_painter_new(&error);
    if (!self->painter) {
        show_trouble(self, error->message);
        g_error_free(error);
    }
}

static void on_unrealize(NwViewport *self) {
    GtkGLArea *area = GTK_GL_AREA(self->area);
    gtk_gl_area_make_current(area);
    if (!gtk_gl_area_get_error(area))
        nw_painter_free(self->painter);
    self->painter = NULL;
}

static gboolean on_render(NwViewport *self) {
    if (!self->painter)
        return TRUE;
    renew(self);
    int scale = gtk_widget_get_scale_factor(self->area);
    NwPaintOptions options = {.width = scale * gtk_widget_get_width(self->area),
                              .height = scale * gtk_widget_get_height(self->area),
                              .samples = self->fine ? NW_PAINTER_SAMPLES : 0,
                              .pixel_scale = (float)scale};
    GError *error = NULL;
    if (!nw_painter_draw(self->painter, self->scene.scene, &self->camera, &options, &error)) {
        show_trouble(self, error->message);
        g_error_free(error);
    }
    return TRUE;
}

/* ---- following the view state -----------------------------------------------------------------
 */

static void on_scene(NwViewport *self) {
    self->stale_scene = TRUE;
    nw_viewport_draw(self);
}

static void on_place(NwViewport *self) {
    self->stale_place = TRUE;
    nw_viewport_draw(self);
}

static void on_design(NwViewport *self) {
    gint64 design = nw_document_get_design_id(nw_view_state_get_document(self->view_state));
    on_scene(self);
    if (design == self->fitted_design)
        return;
    self->fitted_design = design;
    nw_viewport_reset(self);
}

/* What each change asks for; and for those who do not see it, what is shown in words. */
static const struct {
    const char *of_view, *of_document;
    void (*follow)(NwViewport *self);
    gboolean described;
} followed[] = {
    {NULL, "design", on_design, FALSE},
    {NULL, "shown", on_scene, FALSE},
    {NULL, "selection", nw_viewport_draw_marks, FALSE},
    {NULL, "brush", nw_viewport_draw_marks, FALSE},
    {"item", NULL, on_scene, TRUE},
    {"beside", NULL, on_scene, FALSE},
    {"proposal", NULL, on_scene, TRUE},
    {"look", NULL, on_scene, FALSE},
    {"one-colour", NULL, on_scene, FALSE},
    {"tips", NULL, on_scene, FALSE},
    {"cut", NULL, on_scene, FALSE},
    {"position", NULL, on_place, TRUE},
    {"explode", NULL, on_place, FALSE},
    {"parallel", NULL, nw_viewport_draw, FALSE},
    {"stops", NULL, nw_viewport_draw_marks, TRUE},
    {"hover", NULL, nw_viewport_draw_marks, FALSE},
    {"board-axis", NULL, nw_viewport_draw_marks, FALSE},
};

static void follow(gpointer object, const char *property, GCallback callback, NwViewport *self) {
    g_autofree char *signal = g_strconcat("notify::", property, NULL);
    g_signal_connect_object(object, signal, callback, self, G_CONNECT_SWAPPED);
}

void nw_viewport_set_view_state(NwViewport *self, NwViewState *view_state) {
    self->view_state = g_object_ref(view_state);
    for (gsize i = 0; i < G_N_ELEMENTS(followed); i++) {
        gpointer object =
            followed[i].of_view ? (gpointer)view_state : nw_view_state_get_document(view_state);
        const char *property = followed[i].of_view ? followed[i].of_view : followed[i].of_document;
        follow(object, property, G_CALLBACK(followed[i].follow), self);
        if (followed[i].described)
            follow(object, property, G_CALLBACK(nw_viewport_describe), self);
    }
    g_signal_connect_object(nw_view_state_get_search_session(view_state), "numbered",
                            G_CALLBACK(nw_viewport_describe), self, G_CONNECT_SWAPPED);
    on_design(self);
    nw_viewport_describe(self);
}

/* ---- pictures ---------------------------------------------------------------------------- */

static cairo_surface_t *draw_picture(NwViewport *self, GError **error) {
    renew(self);
    NwPaintOptions options = {.width = PICTURE_SCALE * MAX(400, gtk_widget_get_width(self->area)),
                              .height = PICTURE_SCALE * MAX(300, gtk_widget_get_height(self->area)),
                              .best = TRUE,
                              .pixel_scale = PICTURE_SCALE};
    NwCamera camera = nw_viewport_picture_camera(self, (double)options.width / options.height);
    return nw_picture_draw(self->scene.scene, &camera, &options, error);
}

gboolean nw_viewport_save_picture(NwViewport *self, const char *path, GError **error) {
    cairo_surface_t *picture = draw_picture(self, error);
    if (!picture)
        return FALSE;
    gboolean saved = nw_picture_save(picture, path, error);
    cairo_surface_destroy(picture);
    return saved;
}

/* The surface has no alpha of its own; the clipboard wants one. */
static GdkTexture *texture_of(cairo_surface_t *picture) {
    int width = cairo_image_surface_get_width(picture);
    int height = cairo_image_surface_get_height(picture);
    gsize stride = (gsize)cairo_image_surface_get_stride(picture);
    cairo_surface_flush(picture);
    guint32 *pixels = g_memdup2(cairo_image_surface_get_data(picture), stride * (gsize)height);
    for (gsize i = 0; i < stride / 4 * (gsize)height; i++)
        pixels[i] |= 0xff000000;
    GBytes *bytes = g_bytes_new_take(pixels, stride * (gsize)height);
    GdkTexture *texture = gdk_memory_texture_new(width, height, GDK_MEMORY_DEFAULT, bytes, stride);
    g_bytes_unref(bytes);
    return texture;
}

gboolean nw_viewport_copy_picture(NwViewport *self, GError **error) {
    cairo_surface_t *picture = draw_picture(self, error);
    if (!picture)
        return FALSE;
    GdkTexture *texture = texture_of(picture);
    gdk_clipboard_set_texture(gtk_widget_get_clipboard(GTK_WIDGET(self)), texture);
    g_object_unref(texture);
    cairo_surface_destroy(picture);
    return TRUE;
}

/* ---- actions ----------------------------------------------------------------------------- */

static void on_view(GtkWidget *widget, const char *action, GVariant *parameter) {
    (void)action;
    nw_viewport_set_view(NW_VIEWPORT(widget), g_variant_get_string(parameter, NULL));
}

static void on_show_all(GtkWidget *widget, const char *action, GVariant *parameter) {
    (void)action;
    (void)parameter;
    nw_viewport_show_all(NW_VIEWPORT(widget));
}

/* ---- the widget -------------------------------------------------------------------------- */

static void nw_viewport_dispose(GObject *object) {
    NwViewport *self = NW_VIEWPORT(object);
    g_clear_handle_id(&self->refine, g_source_remove);
    g_clear_object(&self->view_state);
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_VIEWPORT);
    G_OBJECT_CLASS(nw_viewport_parent_class)->dispose(object);
}

static void nw_viewport_finalize(GObject *object) {
    nw_viewport_scene_clear(&NW_VIEWPORT(object)->scene);
    G_OBJECT_CLASS(nw_viewport_parent_class)->finalize(object);
}

static void on_explode(NwViewport *self, GtkRange *range) {
    if (self->view_state)
        nw_view_state_set_explode(self->view_state, gtk_range_get_value(range));
}

static gboolean nw_viewport_grab_focus(GtkWidget *widget) {
    return gtk_widget_grab_focus(NW_VIEWPORT(widget)->area);
}

static void nw_viewport_class_init(NwViewportClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    widget->grab_focus = nw_viewport_grab_focus;
    G_OBJECT_CLASS(class)->dispose = nw_viewport_dispose;
    G_OBJECT_CLASS(class)->finalize = nw_viewport_finalize;
    gtk_widget_class_set_template_from_resource(widget,
                                                "/net/notchwright/Notchwright/ui/viewport.ui");
    gtk_widget_class_bind_template_child(widget, NwViewport, overlay);
    gtk_widget_class_bind_template_child(widget, NwViewport, area);
    gtk_widget_class_bind_template_child(widget, NwViewport, trouble);
    gtk_widget_class_bind_template_child(widget, NwViewport, tools);
    gtk_widget_class_bind_template_callback(widget, on_explode);
    gtk_widget_class_install_action(widget, "viewport.view", "s", on_view);
    gtk_widget_class_install_action(widget, "viewport.show-all", NULL, on_show_all);
    gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
    gtk_widget_class_set_css_name(widget, "viewport3d");
}

static void nw_viewport_init(NwViewport *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
    self->camera = nw_camera_home();
    self->follow = TRUE;
    self->slack = 1;
    nw_viewport_scene_init(&self->scene);
    gtk_gl_area_set_auto_render(GTK_GL_AREA(self->area), FALSE);
    gtk_gl_area_set_has_depth_buffer(GTK_GL_AREA(self->area), TRUE);
    gtk_gl_area_set_required_version(GTK_GL_AREA(self->area), 3, 3);
    g_signal_connect_swapped(self->area, "realize", G_CALLBACK(on_realize), self);
    g_signal_connect_swapped(self->area, "unrealize", G_CALLBACK(on_unrealize), self);
    g_signal_connect_swapped(self->area, "render", G_CALLBACK(on_render), self);
    g_signal_connect_swapped(self->area, "resize", G_CALLBACK(nw_viewport_draw), self);
    nw_viewport_add_input(self);
}
