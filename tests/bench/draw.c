/* How fast pictures of a six-piece design are drawn while it turns. Prints milliseconds a frame:
 * as the clock has it, and of all processors together, which a busy machine disturbs less. */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "plain/random_design.h"
#include "view/picture.h"
#include "view/pose.h"

enum { FRAMES = 60 };

/* A cube of 3 x 3 x 3 cells, 135 parts, divided at random. */
static NwScene *six_pieces(void) {
    NwScene *scene = nw_scene_new();
    NwSolid *box = nw_solid_new(), *pieces[6];
    NwRandom random = {7};
    for (int i = 0; i < 27; i++)
        nw_solid_add(box, nw_vec(i % 3, i / 3 % 3, i / 9), NW_WHOLE);
    size_t count = nw_random_divide(&random, box, false, pieces, 6);
    for (size_t i = 0; i < count; i++) {
        nw_scene_add(scene, pieces[i], nw_palette_piece((int)i), 0);
        nw_solid_free(pieces[i]);
    }
    nw_solid_free(box);
    return scene;
}

static gboolean measure(NwStudio *studio, NwScene *scene, int samples, bool moving,
                        double *clock_ms, double *work_ms) {
    double(*points)[3];
    NwCamera camera = nw_camera_home();
    size_t count = nw_scene_points(scene, &points);
    nw_camera_fit_tight(&camera, (const double(*)[3])points, count, 1.25, 0.1);
    free(points);
    NwPaintOptions options = {.width = 1000, .height = 800, .samples = samples};
    gint64 start = 0;
    clock_t work = 0;
    for (int i = -3; i < FRAMES; i++) {
        if (i == 0) {
            start = g_get_monotonic_time();
            work = clock();
        }
        nw_camera_orbit(&camera, 6, 0);
        if (moving)
            for (size_t b = 0; b < scene->body_count; b++)
                nw_scene_move(scene, b, (double[3]){0.01 * (double)(b * (size_t)(i + 9)), 0, 0});
        if (!nw_studio_paint(studio, scene, &camera, &options, NULL))
            return FALSE;
    }
    *clock_ms = (double)(g_get_monotonic_time() - start) / 1000 / FRAMES;
    *work_ms = 1000.0 * (double)(clock() - work) / CLOCKS_PER_SEC / FRAMES;
    return TRUE;
}

int main(void) {
    static const char *const looks[] = {"solid", "see-through", "lines"};
    GError *error = NULL;
    NwStudio *studio = nw_studio_new(&error);
    if (!studio) {
        fprintf(stderr, "%s\n", error->message);
        return 77;
    }
    printf("Pictures of 1000 x 800 pixels:\n");
    for (int moving = 0; moving < 2; moving++)
        for (int look = 0; look < 3; look++)
            for (int samples = 0; samples <= NW_PAINTER_SAMPLES; samples += NW_PAINTER_SAMPLES) {
                NwScene *scene = six_pieces();
                scene->look = (NwLook)look;
                double clock_ms, work_ms;
                if (measure(studio, scene, samples, moving, &clock_ms, &work_ms))
                    printf("  %-12s %-7s %d samples: %5.1f ms a frame, %5.1f of work\n",
                           looks[look], moving ? "moving" : "turning", samples, clock_ms, work_ms);
                nw_scene_free(scene);
            }
    nw_studio_free(studio);
    return 0;
}
