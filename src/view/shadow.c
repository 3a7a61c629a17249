#include "view/shadow.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { SIDE = NW_SHADOW_SIDE };

static const double blur_share = 0.035;     /* of the scene's size */
static const double lean[2] = {0.28, 0.22}; /* how far the light leans from upright */

/* The ground: two directions in it, and upwards. */
typedef struct Ground {
    double a[3], b[3], up[3];
    double floor;
} Ground;

/* A point of the shadow, in the ground's two directions. */
typedef struct Spot {
    double x, y;
} Spot;

static double dot(const double a[3], const double b[3]) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

static Ground ground_of(const NwScene *scene) {
    Ground ground = {0};
    double length = sqrt(dot(scene->up, scene->up));
    for (int k = 0; k < 3; k++)
        ground.up[k] = scene->up[k] / length;
    double start[3] = {1, 0, 0};
    if (fabs(ground.up[0]) > 0.9)
        start[0] = 0, start[1] = 1;
    double along = dot(start, ground.up);
    for (int k = 0; k < 3; k++)
        ground.a[k] = start[k] - along * ground.up[k];
    length = sqrt(dot(ground.a, ground.a));
    for (int k = 0; k < 3; k++)
        ground.a[k] /= length;
    for (int k = 0; k < 3; k++)
        ground.b[k] = ground.up[(k + 1) % 3] * ground.a[(k + 2) % 3] -
                      ground.up[(k + 2) % 3] * ground.a[(k + 1) % 3];
    if (scene->has_floor)
        ground.floor = scene->floor;
    return ground;
}

static bool casts(const NwSceneBody *body) {
    return !(body->flags & (NW_BODY_HIDDEN | NW_BODY_GHOST));
}

static void place(const NwSceneBody *body, size_t vertex, double at[3]) {
    for (int k = 0; k < 3; k++)
        at[k] = (double)body->mesh->vertices[vertex].at[k] + body->offset[k];
}

/* All vertices of what casts, three for each triangle, carried to the ground. */
static size_t carry(const NwScene *scene, Ground *ground, Spot **spots) {
    size_t total = 0, count = 0;
    double lowest = INFINITY;
    for (size_t i = 0; i < scene->body_count; i++)
        total += casts(&scene->bodies[i]) ? 3 * scene->bodies[i].mesh->triangle_count : 0;
    *spots = nw_alloc(total, sizeof **spots);
    for (int pass = 0; pass < 2; pass++) {
        if (pass == 1 && !scene->has_floor)
            ground->floor = lowest;
        for (size_t i = 0; i < scene->body_count; i++) {
            const NwSceneBody *body = &scene->bodies[i];
            for (size_t v = 0; casts(body) && v < 3 * body->mesh->triangle_count; v++) {
                double at[3];
                place(body, v, at);
                double height = dot(at, ground->up);
                if (pass == 0) {
                    lowest = fmin(lowest, height);
                    continue;
                }
                height -= ground->floor;
                (*spots)[count++] = (Spot){dot(at, ground->a) + lean[0] * height,
                                           dot(at, ground->b) + lean[1] * height};
            }
        }
    }
    return count;
}

/* Fills a triangle, given in squares of the picture. */
static void fill(unsigned char *grey, Spot a, Spot b, Spot c) {
    double area = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    if (area < 0) {
        Spot swap = b;
        b = c;
        c = swap;
    }
    int y0 = (int)fmax(0, floor(fmin(a.y, fmin(b.y, c.y))));
    int y1 = (int)fmin(SIDE - 1, floor(fmax(a.y, fmax(b.y, c.y))));
    int x0 = (int)fmax(0, floor(fmin(a.x, fmin(b.x, c.x))));
    int x1 = (int)fmin(SIDE - 1, floor(fmax(a.x, fmax(b.x, c.x))));
    for (int y = y0; y <= y1; y++)
        for (int x = x0; x <= x1; x++) {
            double px = x + 0.5, py = y + 0.5;
            if ((b.x - a.x) * (py - a.y) >= (b.y - a.y) * (px - a.x) &&
                (c.x - b.x) * (py - b.y) >= (c.y - b.y) * (px - b.x) &&
                (a.x - c.x) * (py - c.y) >= (a.y - c.y) * (px - c.x))
                grey[y * SIDE + x] = 255;
        }
}

/* One box blur of a row or column; outside is no shadow. */
static void blur_line(unsigned char *grey, int stride, int radius) {
    unsigned char line[SIDE];
    int sum = 0;
    for (int i = 0; i < SIDE; i++)
        line[i] = grey[i * stride];
    for (int i = 0; i < radius && i < SIDE; i++)
        sum += line[i];
    for (int i = 0; i < SIDE; i++) {
        sum += i + radius < SIDE ? line[i + radius] : 0;
        grey[i * stride] = (unsigned char)(sum / (2 * radius + 1));
        sum -= i - radius >= 0 ? line[i - radius] : 0;
    }
}

static void blur(unsigned char *grey, int radius) {
    for (int pass = 0; pass < 3; pass++)
        for (int i = 0; i < SIDE; i++) {
            blur_line(grey + i * SIDE, 1, radius);
            blur_line(grey + i, SIDE, radius);
        }
}

bool nw_shadow_cast(const NwScene *scene, NwShadow *shadow) {
    Ground ground = ground_of(scene);
    Spot *spots, low = {INFINITY, INFINITY}, high = {-INFINITY, -INFINITY};
    size_t count = carry(scene, &ground, &spots);
    for (size_t i = 0; i < count; i++) {
        low = (Spot){fmin(low.x, spots[i].x), fmin(low.y, spots[i].y)};
        high = (Spot){fmax(high.x, spots[i].x), fmax(high.y, spots[i].y)};
    }
    memset(shadow->grey, 0, sizeof shadow->grey);
    double size = fmax(high.x - low.x, high.y - low.y);
    /* The blur has its place within the picture: three boxes reach three radii. */
    double side = size / (1 - 6 * blur_share - 4.0 / SIDE), square = side / SIDE;
    double x0 = (low.x + high.x - side) / 2, y0 = (low.y + high.y - side) / 2;
    for (size_t i = 0; i < count; i++)
        spots[i] = (Spot){(spots[i].x - x0) / square, (spots[i].y - y0) / square};
    for (size_t i = 0; i + 2 < count; i += 3)
        fill(shadow->grey, spots[i], spots[i + 1], spots[i + 2]);
    free(spots);
    if (!count)
        return false;
    blur(shadow->grey, (int)lrint(blur_share * SIDE));
    for (int k = 0; k < 3; k++) {
        shadow->corner[k] = (float)(x0 * ground.a[k] + y0 * ground.b[k] +
                                    (ground.floor - 0.004 * size) * ground.up[k]);
        shadow->across[k] = (float)(side * ground.a[k]);
        shadow->upwards[k] = (float)(side * ground.b[k]);
    }
    return true;
}
