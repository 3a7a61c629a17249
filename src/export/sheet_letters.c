#include "export/sheet_letters.h"

#include <math.h>

#include "base/bits.h"

enum { SAMPLES = 96 }; /* across a picture */

/* The bodies of a picture in a grid of samples. */
typedef struct Grid {
    int wide, high;
    int *seen;   /* the body at each sample, -1: none */
    bool *arrow; /* whether the arrow runs there */
} Grid;

/* How far, in shares of the width, a letter keeps from the middle of the arrow. */
static const double beside_arrow = 0.05;

static bool is_on_arrow(const NwSheetPicture *picture, double x, double y, double aspect) {
    const double(*ends)[2] = picture->arrow;
    double along[2] = {ends[1][0] - ends[0][0], (ends[1][1] - ends[0][1]) / aspect};
    double from[2] = {x - ends[0][0], (y - ends[0][1]) / aspect};
    double square = along[0] * along[0] + along[1] * along[1];
    double t = square > 0 ? (from[0] * along[0] + from[1] * along[1]) / square : 0;
    t = CLAMP(t, 0, 1);
    return hypot(from[0] - t * along[0], from[1] - t * along[1]) < beside_arrow;
}

static void look(Grid *grid, const NwSheetPicture *picture, const NwScene *scene,
                 const NwCamera *camera, const NwPaintOptions *options) {
    double aspect = (double)options->width / options->height;
    for (int i = 0; i < grid->wide * grid->high; i++) {
        NwScenePick pick;
        double x = (i % grid->wide + 0.5) / grid->wide;
        double y = ((double)(i / grid->wide) + 0.5) / grid->high;
        NwRay ray = nw_camera_ray(camera, x * options->width, y * options->height, options->width,
                                  options->height);
        grid->seen[i] = nw_scene_pick(scene, &ray, &pick) ? (int)pick.body : -1;
        grid->arrow[i] = picture->has_arrow && is_on_arrow(picture, x, y, aspect);
    }
}

/* Whether the circle about sample (x, y) shows nothing but the body. */
static bool is_clear(const Grid *grid, int body, int x, int y, int radius) {
    for (int dy = -radius; dy <= radius; dy++)
        for (int dx = -radius; dx <= radius; dx++) {
            if (dx * dx + dy * dy > radius * radius)
                continue;
            if (x + dx < 0 || x + dx >= grid->wide || y + dy < 0 || y + dy >= grid->high)
                return false;
            if (grid->seen[(y + dy) * grid->wide + x + dx] != body)
                return false;
        }
    return true;
}

/* The sample of the body that is farthest from any other thing; -1: none. */
static int roomiest(const Grid *grid, int body, bool off_arrow) {
    int best = -1, most = -1;
    for (int i = 0; i < grid->wide * grid->high; i++)
        while (!(off_arrow && grid->arrow[i]) &&
               is_clear(grid, body, i % grid->wide, i / grid->wide, most + 1)) {
            most++;
            best = i;
        }
    return best;
}

/* A letter on each body that is seen, on the arrow only if there is no other room. */
static GArray *place_labels(const Grid *grid, guint32 bodies, const char *const *names) {
    GArray *labels = g_array_new(FALSE, TRUE, sizeof(NwSheetLabel));
    for (guint32 rest = bodies; rest; rest &= rest - 1) {
        int body = nw_lowest(rest), best = roomiest(grid, body, true);
        if (best < 0)
            best = roomiest(grid, body, false);
        if (best < 0)
            continue;
        NwSheetLabel label = {(best % grid->wide + 0.5) / grid->wide,
                              ((double)(best / grid->wide) + 0.5) / grid->high,
                              g_strdup(names[body])};
        g_array_append_val(labels, label);
    }
    return labels;
}

void nw_sheet_letters_place(NwSheetPicture *picture, const NwScene *scene, const NwCamera *camera,
                            const NwPaintOptions *options, guint32 bodies,
                            const char *const *names) {
    Grid grid = {.wide = SAMPLES, .high = SAMPLES * options->height / options->width};
    grid.seen = g_new(int, grid.wide *grid.high);
    grid.arrow = g_new(bool, grid.wide *grid.high);
    look(&grid, picture, scene, camera, options);
    picture->labels = place_labels(&grid, bodies, names);
    g_free(grid.seen);
    g_free(grid.arrow);
}
