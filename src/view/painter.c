#include "view/painter.h"

#include <cglm/types.h>
#include <glib/gi18n.h>
#include <math.h>

#include "view/depth_peel.h"
#include "view/faces.h"
#include "view/framebuffer.h"
#include "view/order.h"
#include "view/shadow.h"
#include "view/strokes.h"

static const float clear_opaque = 0.40f; /* how opaque a see-through body is */
static const float half_line = 0.85f;    /* pixels of ink on each side of an edge */
static const float half_rim = 1.6f;      /* the same round a mark */

struct NwPainter {
    GLuint face, peel_face, layer, line, ground; /* programs */
    NwFaces faces, mark_faces;
    NwStrokes strokes;
    NwDepthPeel peel;
    NwFramebuffer target;
    NwOrder *order;
    NwScene *marks; /* each mark a body */
    NwShadow *shadow;
    gboolean has_shadow;
    GLuint grey, ground_array;
    unsigned long serial; /* of the scene that was sent last; 0: none was */
    unsigned long built, moved, marked;
    NwLook look;
    float scale;
};

/* One picture in work. */
typedef struct Job {
    NwPainter *painter;
    const NwScene *scene;
    const NwCamera *camera;
    NwCameraAxes axes;
    const NwPaper *paper;
    int width, height;
    float scale;
    mat4 clip;
    double middle[3], radius;
} Job;

static gboolean make_programs(NwPainter *painter, GError **error) {
    char *plain = g_strdup_printf("#define BODIES %d\n", NW_SCENE_BODIES_MAX);
    char *peel = g_strconcat(plain, "#define PEEL\n", NULL);
    gboolean made = (painter->face = nw_program_new("face", plain, error)) &&
                    (painter->peel_face = nw_program_new("face", peel, error)) &&
                    (painter->layer = nw_program_new("layer", "", error)) &&
                    (painter->line = nw_program_new("line", "", error)) &&
                    (painter->ground = nw_program_new("ground", "", error));
    g_free(plain);
    g_free(peel);
    return made;
}

NwPainter *nw_painter_new(GError **error) {
    if (!nw_program_check_driver(error))
        return NULL;
    NwPainter *painter = g_new0(NwPainter, 1);
    painter->order = nw_order_new();
    painter->marks = nw_scene_new();
    painter->shadow = g_new0(NwShadow, 1);
    if (make_programs(painter, error))
        return painter;
    nw_painter_free(painter);
    return NULL;
}

void nw_painter_free(NwPainter *painter) {
    if (!painter)
        return;
    const GLuint programs[] = {painter->face, painter->peel_face, painter->layer, painter->line,
                               painter->ground};
    for (gsize i = 0; i < G_N_ELEMENTS(programs); i++)
        if (programs[i])
            glDeleteProgram(programs[i]);
    if (painter->grey) {
        glDeleteTextures(1, &painter->grey);
        glDeleteVertexArrays(1, &painter->ground_array);
    }
    nw_faces_clear(&painter->faces);
    nw_faces_clear(&painter->mark_faces);
    nw_strokes_clear(&painter->strokes);
    nw_depth_peel_clear(&painter->peel);
    nw_framebuffer_clear(&painter->target);
    nw_order_free(painter->order);
    nw_scene_free(painter->marks);
    g_free(painter->shadow);
    g_free(painter);
}

static void send_shadow(NwPainter *painter, const NwScene *scene) {
    painter->has_shadow =
        scene->shadow && scene->look != NW_LOOK_LINES && nw_shadow_cast(scene, painter->shadow);
    if (!painter->has_shadow)
        return;
    if (!painter->grey) {
        glGenTextures(1, &painter->grey);
        glGenVertexArrays(1, &painter->ground_array);
    }
    glBindTexture(GL_TEXTURE_2D, painter->grey);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_R8, NW_SHADOW_SIDE, NW_SHADOW_SIDE, 0, GL_RED,
                 GL_UNSIGNED_BYTE, painter->shadow->grey);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    glBindTexture(GL_TEXTURE_2D, 0);
}

static void send_marks(NwPainter *painter, const NwScene *scene) {
    nw_scene_clear(painter->marks);
    for (size_t i = 0; i < scene->mark_count; i++) {
        const NwSceneMark *mark = &scene->marks[i];
        size_t at = nw_scene_add(painter->marks, mark->solid, mark->colour,
                                 mark->look == NW_MARK_RIM ? NW_BODY_RIM : 0);
        if (at == NW_SCENE_BODIES_MAX)
            break;
        if (mark->body < scene->body_count) {
            const float *offset = scene->bodies[mark->body].offset;
            nw_scene_move(painter->marks, at, (double[3]){offset[0], offset[1], offset[2]});
        }
    }
    nw_faces_load(&painter->mark_faces, painter->marks);
    nw_faces_place(&painter->mark_faces, painter->marks, 0.72f);
}

/* Sends what is not up to date. */
static void send_scene(NwPainter *painter, const NwScene *scene, float scale) {
    gboolean built = painter->serial != scene->serial || painter->built != scene->built;
    gboolean moved = built || painter->moved != scene->moved || painter->look != scene->look ||
                     painter->scale != scale;
    if (built)
        nw_faces_load(&painter->faces, scene);
    if (moved) {
        nw_faces_place(&painter->faces, scene,
                       scene->look == NW_LOOK_SOLID   ? 1
                       : scene->look == NW_LOOK_CLEAR ? clear_opaque
                                                      : 0);
        nw_strokes_load(&painter->strokes, scene, 1.4f * scale);
        send_shadow(painter, scene);
    }
    if (moved || painter->marked != scene->marked)
        send_marks(painter, scene); /* they go with their bodies */
    painter->serial = scene->serial;
    painter->built = scene->built;
    painter->moved = scene->moved;
    painter->marked = scene->marked;
    painter->look = scene->look;
    painter->scale = scale;
}

static void set_colour(GLuint program, const char *name, NwColour c) {
    glUniform3f(glGetUniformLocation(program, name), c.r, c.g, c.b);
}

static void set_vector(GLuint program, const char *name, const double v[3]) {
    glUniform3f(glGetUniformLocation(program, name), (float)v[0], (float)v[1], (float)v[2]);
}

/* Puts the face program to use; edges as strong as said, on fronts and on backs. */
static void use_faces(const Job *job, GLuint program, float front_lines, float back_lines) {
    const double *eye = job->camera->parallel ? job->axes.back : job->axes.eye;
    double nearest = -job->radius;
    for (int k = 0; k < 3; k++)
        nearest +=
            job->axes.back[k] * ((job->camera->parallel ? 0 : job->axes.eye[k]) - job->middle[k]);
    glUseProgram(program);
    glUniformMatrix4fv(glGetUniformLocation(program, "clip"), 1, GL_FALSE, job->clip[0]);
    glUniform4f(glGetUniformLocation(program, "eye"), (float)eye[0], (float)eye[1], (float)eye[2],
                job->camera->parallel ? 0 : 1);
    set_vector(program, "right", job->axes.right);
    set_vector(program, "upwards", job->axes.up);
    set_vector(program, "back", job->axes.back);
    set_colour(program, "paper", job->paper->ground);
    set_colour(program, "ink_colour", job->paper->ink);
    glUniform3f(glGetUniformLocation(program, "mist"), (float)nearest,
                (float)(1 / (2 * job->radius)), 0.30f);
    glUniform2f(glGetUniformLocation(program, "lines"), front_lines, back_lines);
    glUniform1f(glGetUniformLocation(program, "half_width"), half_line * job->scale);
}

static void blend_over(void) {
    glEnable(GL_BLEND);
    glBlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
    glDepthMask(GL_FALSE);
}

static void draw_ground(const Job *job) {
    const NwShadow *shadow = job->painter->shadow;
    GLuint program = job->painter->ground;
    double above = 0, length = 0;
    for (int k = 0; k < 3; k++) {
        above += job->scene->up[k] *
                 (job->camera->parallel ? job->axes.back[k] : job->axes.eye[k] - shadow->corner[k]);
        length += job->scene->up[k] * job->scene->up[k];
    }
    above /= sqrt(length) * (job->camera->parallel ? 1 : job->camera->distance);
    if (!job->painter->has_shadow || above <= 0)
        return;
    float dark = job->scene->look == NW_LOOK_SOLID ? 0.42f : 0.30f;
    blend_over();
    glDisable(GL_DEPTH_TEST);
    glUseProgram(program);
    glUniformMatrix4fv(glGetUniformLocation(program, "clip"), 1, GL_FALSE, job->clip[0]);
    glUniform3fv(glGetUniformLocation(program, "corner"), 1, shadow->corner);
    glUniform3fv(glGetUniformLocation(program, "side_x"), 1, shadow->across);
    glUniform3fv(glGetUniformLocation(program, "side_y"), 1, shadow->upwards);
    NwColour shade = job->paper->shade;
    glUniform4f(glGetUniformLocation(program, "shade"), shade.r, shade.g, shade.b,
                dark * (float)fmin(1, above * 8));
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, job->painter->grey);
    glUniform1i(glGetUniformLocation(program, "grey"), 0);
    glBindVertexArray(job->painter->ground_array);
    glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);
    glBindVertexArray(0);
    glBindTexture(GL_TEXTURE_2D, 0);
}

static void draw_ordered(const Job *job, gboolean ghosts_only) {
    NwPainter *painter = job->painter;
    size_t count;
    const NwOrderItem *items =
        nw_order_sort(painter->order, job->scene, job->camera, ghosts_only, &count);
    if (!count)
        return;
    nw_faces_list(&painter->faces, job->scene, job->camera, items, count, FALSE);
    use_faces(job, painter->face, 0.92f, 0.34f);
    blend_over();
    nw_faces_draw(&painter->faces, painter->face);
}

static void draw_solid(const Job *job) {
    NwPainter *painter = job->painter;
    nw_faces_list_fronts(&painter->faces, job->scene, job->camera);
    use_faces(job, painter->face, 0.92f, 0);
    glEnable(GL_DEPTH_TEST);
    nw_faces_draw(&painter->faces, painter->face);
    draw_ordered(job, TRUE);
}

/* Depths; then edges that lie behind them, faint; then those that do not. The same program draws
 * all three, so that the depths of one face are the same. */
static void draw_lines(const Job *job) {
    NwPainter *painter = job->painter;
    nw_faces_list_fronts(&painter->faces, job->scene, job->camera);
    glEnable(GL_DEPTH_TEST);
    glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
    use_faces(job, painter->face, 0, 0);
    nw_faces_draw(&painter->faces, painter->face);
    glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
    size_t count;
    const NwOrderItem *items =
        nw_order_sort(painter->order, job->scene, job->camera, FALSE, &count);
    nw_faces_list(&painter->faces, job->scene, job->camera, items, count, FALSE);
    blend_over();
    glDepthFunc(GL_GREATER);
    use_faces(job, painter->face, 0.16f, 0.16f);
    nw_faces_draw(&painter->faces, painter->face);
    glDepthFunc(GL_LEQUAL);
    use_faces(job, painter->face, 0.95f, 0.16f);
    nw_faces_draw(&painter->faces, painter->face);
}

static gboolean draw_layers(const Job *job, GLuint frame, GError **error) {
    NwPainter *painter = job->painter;
    size_t count;
    const NwOrderItem *items =
        nw_order_sort(painter->order, job->scene, job->camera, FALSE, &count);
    nw_faces_list(&painter->faces, job->scene, job->camera, items, count, FALSE);
    use_faces(job, painter->peel_face, 0.92f, 0.34f);
    return nw_depth_peel_draw(&painter->peel, &painter->faces, painter->peel_face, painter->layer,
                              frame, job->width, job->height, error);
}

/* Draws what is to be found even where something hides it: faint there, strong where nothing
 * does. */
static void draw_twice(const Job *job, void (*draw_once)(const Job *job)) {
    blend_over();
    glEnable(GL_DEPTH_TEST);
    glDepthFunc(GL_GREATER);
    glBlendColor(0.35f, 0.35f, 0.35f, 0.35f);
    glBlendFunc(GL_CONSTANT_ALPHA, GL_ONE_MINUS_CONSTANT_ALPHA);
    draw_once(job);
    glDepthFunc(GL_LEQUAL);
    blend_over();
    draw_once(job);
}

static void draw_points(const Job *job) {
    nw_strokes_draw_points(&job->painter->strokes);
}

static void draw_strokes(const Job *job) {
    GLuint program = job->painter->line;
    glUseProgram(program);
    glUniformMatrix4fv(glGetUniformLocation(program, "clip"), 1, GL_FALSE, job->clip[0]);
    glUniform2f(glGetUniformLocation(program, "size"), (float)job->width, (float)job->height);
    blend_over();
    glEnable(GL_DEPTH_TEST);
    glDepthFunc(GL_LEQUAL);
    nw_strokes_draw_wire(&job->painter->strokes);
    glDisable(GL_DEPTH_TEST);
    nw_strokes_draw_paths(&job->painter->strokes);
    glEnable(GL_DEPTH_TEST);
    draw_twice(job, draw_points);
}

static void draw_mark_faces(const Job *job) {
    nw_faces_draw(&job->painter->mark_faces, job->painter->face);
}

static void draw_marks(const Job *job) {
    NwPainter *painter = job->painter;
    if (!painter->marks->body_count)
        return;
    size_t count;
    const NwOrderItem *items =
        nw_order_sort(painter->order, painter->marks, job->camera, FALSE, &count);
    nw_faces_list(&painter->mark_faces, painter->marks, job->camera, items, count, TRUE);
    glEnable(GL_POLYGON_OFFSET_FILL);
    glPolygonOffset(-1, -2);
    use_faces(job, painter->face, 1, 0);
    glUniform1f(glGetUniformLocation(painter->face, "half_width"), half_rim * job->scale);
    draw_twice(job, draw_mark_faces);
    glDisable(GL_POLYGON_OFFSET_FILL);
}

static void reset_state(GLuint outer) {
    glBindFramebuffer(GL_FRAMEBUFFER, outer);
    glUseProgram(0);
    glDisable(GL_BLEND);
    glDisable(GL_DEPTH_TEST);
    glDepthFunc(GL_LESS);
    glDepthMask(GL_TRUE);
}

static gboolean draw(const Job *job, GLuint frame, gboolean best, GError **error) {
    NwColour ground = job->paper->ground;
    gboolean drawn = TRUE;
    glViewport(0, 0, job->width, job->height);
    glDisable(GL_SCISSOR_TEST);
    glDisable(GL_CULL_FACE);
    glDepthMask(GL_TRUE);
    glDepthFunc(GL_LESS);
    glClearColor(ground.r, ground.g, ground.b, 1);
    glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
    draw_ground(job);
    glDisable(GL_BLEND);
    glDepthMask(GL_TRUE);
    if (job->scene->look == NW_LOOK_SOLID)
        draw_solid(job);
    else if (job->scene->look == NW_LOOK_LINES)
        draw_lines(job);
    else if (best)
        drawn = draw_layers(job, frame, error);
    else
        draw_ordered(job, FALSE);
    if (drawn) {
        draw_marks(job);
        draw_strokes(job);
    }
    return drawn;
}

static gboolean check_driver_errors(GError **error) {
    GLenum code = glGetError();
    if (code == GL_NO_ERROR)
        return TRUE;
    while (glGetError() != GL_NO_ERROR)
        ;
    g_set_error(error, NW_VIEW_ERROR, NW_VIEW_ERROR_FAILED,
                code == GL_OUT_OF_MEMORY
                    ? _("the graphics driver has no memory left (0x%x): make the picture smaller")
                    : _("the graphics driver failed with error 0x%x"),
                code);
    return FALSE;
}

gboolean nw_painter_draw(NwPainter *painter, const NwScene *scene, const NwCamera *camera,
                         const NwPaintOptions *options, GError **error) {
    GLint outer = 0, largest = 0;
    glGetIntegerv(GL_DRAW_FRAMEBUFFER_BINDING, &outer);
    glGetIntegerv(GL_MAX_RENDERBUFFER_SIZE, &largest);
    while (glGetError() != GL_NO_ERROR) /* of whoever drew before */
        ;
    int times = options->best ? 2 : 1;
    Job job = {.painter = painter,
               .scene = scene,
               .camera = camera,
               .axes = nw_camera_axes(camera),
               .paper = nw_palette_paper(scene->dark),
               .width = options->width * times,
               .height = options->height * times};
    if (job.width < 1 || job.height < 1 || job.width > largest || job.height > largest) {
        g_set_error(error, NW_VIEW_ERROR, NW_VIEW_ERROR_SIZE,
                    _("a picture of %d × %d pixels cannot be made here: keep each side from 1 to "
                      "%d"),
                    options->width, options->height, largest / times);
        return FALSE;
    }
    job.scale = (options->pixel_scale > 0 ? options->pixel_scale : 1) * (float)times;
    nw_scene_ball(scene, job.middle, &job.radius);
    nw_camera_matrix(camera, (double)job.width / job.height, job.middle, 1.5 * job.radius,
                     job.clip);
    GLuint frame = (GLuint)outer;
    gboolean own = options->samples > 0 || options->best;
    if (own && !nw_framebuffer_bind(&painter->target, job.width, job.height,
                                    options->best ? 0 : options->samples, options->best, error)) {
        reset_state((GLuint)outer);
        return FALSE;
    }
    if (own)
        frame = painter->target.frame;
    send_scene(painter, scene, job.scale);
    glBindFramebuffer(GL_FRAMEBUFFER, frame);
    gboolean drawn = draw(&job, frame, options->best, error);
    if (drawn && own)
        nw_framebuffer_copy(&painter->target, (GLuint)outer, options->width, options->height);
    reset_state((GLuint)outer);
    return check_driver_errors(drawn ? error : NULL) && drawn;
}
