#include "view/depth_peel.h"

void nw_depth_peel_clear(NwDepthPeel *peel) {
    for (int i = 0; i < 2; i++)
        nw_framebuffer_clear(&peel->layers[i]);
    nw_framebuffer_clear(&peel->sum);
    if (peel->query) {
        glDeleteQueries(1, &peel->query);
        glDeleteVertexArrays(1, &peel->array);
    }
    *peel = (NwDepthPeel){0};
}

static gboolean make(NwDepthPeel *peel, int width, int height, GError **error) {
    if (!peel->query) {
        glGenQueries(1, &peel->query);
        glGenVertexArrays(1, &peel->array);
    }
    return nw_framebuffer_bind(&peel->layers[0], width, height, 0, TRUE, error) &&
           nw_framebuffer_bind(&peel->layers[1], width, height, 0, TRUE, error) &&
           nw_framebuffer_bind(&peel->sum, width, height, 0, TRUE, error);
}

static void wipe(const NwFramebuffer *target, float depth) {
    const float clear[4] = {0, 0, 0, 0};
    glBindFramebuffer(GL_FRAMEBUFFER, target->frame);
    glClearBufferfv(GL_COLOR, 0, clear);
    glClearBufferfv(GL_DEPTH, 0, &depth);
}

/* The nearest faces behind the layer before. FALSE if there are none. */
static gboolean draw_layer(NwDepthPeel *peel, int current, const NwFaces *faces, GLuint program) {
    GLuint any = 0;
    wipe(&peel->layers[current], 1);
    glUseProgram(program);
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, peel->layers[1 - current].depth);
    glUniform1i(glGetUniformLocation(program, "before"), 0);
    glEnable(GL_DEPTH_TEST);
    glDepthFunc(GL_LESS);
    glDepthMask(GL_TRUE);
    glDisable(GL_BLEND);
    glBeginQuery(GL_ANY_SAMPLES_PASSED, peel->query);
    nw_faces_draw(faces, program);
    glEndQuery(GL_ANY_SAMPLES_PASSED);
    glGetQueryObjectuiv(peel->query, GL_QUERY_RESULT, &any);
    return any != 0;
}

/* Lays one target's colours under, or over, those of the framebuffer. */
static void lay(const NwDepthPeel *peel, GLuint program, GLuint frame, GLuint colours,
                gboolean over) {
    glBindFramebuffer(GL_FRAMEBUFFER, frame);
    glUseProgram(program);
    glBindTexture(GL_TEXTURE_2D, colours);
    glUniform1i(glGetUniformLocation(program, "layer"), 0);
    glDisable(GL_DEPTH_TEST);
    glEnable(GL_BLEND);
    if (over)
        glBlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
    else
        glBlendFunc(GL_ONE_MINUS_DST_ALPHA, GL_ONE);
    glBindVertexArray(peel->array);
    glDrawArrays(GL_TRIANGLES, 0, 3);
    glBindVertexArray(0);
}

gboolean nw_depth_peel_draw(NwDepthPeel *peel, const NwFaces *faces, GLuint faces_program,
                            GLuint layer_program, GLuint frame, int width, int height,
                            GError **error) {
    if (!make(peel, width, height, error))
        return FALSE;
    wipe(&peel->sum, 1);
    wipe(&peel->layers[1], 0);
    for (int i = 0; i < NW_DEPTH_PEEL_LAYERS_MAX; i++) {
        int current = i & 1;
        if (!draw_layer(peel, current, faces, faces_program))
            break;
        lay(peel, layer_program, peel->sum.frame, peel->layers[current].colour, FALSE);
    }
    lay(peel, layer_program, frame, peel->sum.colour, TRUE);
    glBindTexture(GL_TEXTURE_2D, 0);
    return TRUE;
}
