#include "view/camera.h"

#include <cglm/cglm.h>
#include <math.h>
#include <string.h>

static const double pi = 3.14159265358979323846;
static const double radians_per_pixel = 0.008;
static const double distance_min = 0.5; /* cells */

static double dot(const double a[3], const double b[3]) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

static void cross(const double a[3], const double b[3], double c[3]) {
    for (int k = 0; k < 3; k++)
        c[k] = a[(k + 1) % 3] * b[(k + 2) % 3] - a[(k + 2) % 3] * b[(k + 1) % 3];
}

static void normalise(double a[3]) {
    double length = sqrt(dot(a, a));
    for (int k = 0; k < 3; k++)
        a[k] /= length;
}

/* A frame with this "up", whose front is as near to -y as it can be. */
static void set_frame(NwCamera *camera, NwVec up) {
    double *f = camera->frame[0], *s = camera->frame[1], *u = camera->frame[2];
    u[0] = up.x, u[1] = up.y, u[2] = up.z;
    normalise(u);
    double side[3] = {1, 0, 0};
    if (up.y == 0 && up.z == 0)
        side[0] = 0, side[1] = 1;
    cross(side, u, f);
    normalise(f);
    cross(u, f, s);
}

/* A front of -y and a side of +x, in which a yaw of 0 looks in the direction of y. */
static void set_home_frame(NwCamera *camera) {
    set_frame(camera, nw_vec(0, 0, 1));
}

NwCamera nw_camera_home(void) {
    NwCamera camera = {.yaw = 0.61, .pitch = 0.44, .distance = 12, .angle = 30 * pi / 180};
    set_home_frame(&camera);
    return camera;
}

NwCameraAxes nw_camera_axes(const NwCamera *camera) {
    const double *f = camera->frame[0], *s = camera->frame[1], *u = camera->frame[2];
    double cy = cos(camera->yaw), sy = sin(camera->yaw);
    double cp = cos(camera->pitch), sp = sin(camera->pitch);
    NwCameraAxes axes;
    for (int k = 0; k < 3; k++) {
        axes.back[k] = cp * (cy * f[k] + sy * s[k]) + sp * u[k];
        axes.right[k] = cy * s[k] - sy * f[k];
        axes.eye[k] = camera->target[k] + camera->distance * axes.back[k];
    }
    cross(axes.back, axes.right, axes.up);
    return axes;
}

void nw_camera_orbit(NwCamera *camera, double dx, double dy) {
    camera->yaw = remainder(camera->yaw - dx * radians_per_pixel, 2 * pi);
    camera->pitch = fmax(-pi / 2, fmin(pi / 2, camera->pitch + dy * radians_per_pixel));
}

void nw_camera_spin(NwCamera *camera, double angle) {
    camera->yaw = remainder(camera->yaw + (camera->pitch < 0 ? -angle : angle), 2 * pi);
}

/* Half the height of what is seen in the plane of the target, in cells. */
static double half_height(const NwCamera *camera) {
    return camera->distance * tan(camera->angle / 2);
}

/* The pixel that the target is seen at. */
static void middle_of(const NwCamera *camera, int width, int height, double middle[2]) {
    middle[0] = width / 2.0 + camera->aside[0] * height;
    middle[1] = height / 2.0 + camera->aside[1] * height;
}

void nw_camera_pan(NwCamera *camera, double dx, double dy, int height) {
    NwCameraAxes axes = nw_camera_axes(camera);
    double scale = 2 * half_height(camera) / height;
    for (int k = 0; k < 3; k++)
        camera->target[k] += scale * (dy * axes.up[k] - dx * axes.right[k]);
}

void nw_camera_zoom(NwCamera *camera, double factor, double x, double y, int width, int height) {
    double before = camera->distance;
    camera->distance = fmax(distance_min, fmin(20000, before / factor));
    double kept = camera->distance / before;
    double middle[2];
    middle_of(camera, width, height, middle);
    /* A point seen at p now lies at p * kept, in cells from the target: move by the difference. */
    double dx = (x - middle[0]) * (kept - 1) / kept, dy = (y - middle[1]) * (kept - 1) / kept;
    nw_camera_pan(camera, dx, dy, height);
}

void nw_camera_look_at(NwCamera *camera, const double point[3]) {
    memcpy(camera->target, point, sizeof camera->target);
}

void nw_camera_deepen(NwCamera *camera, const double point[3]) {
    NwCameraAxes axes = nw_camera_axes(camera);
    double nearer = 0;
    for (int k = 0; k < 3; k++)
        nearer += (point[k] - camera->target[k]) * axes.back[k];
    if (!camera->parallel && camera->distance - nearer < distance_min)
        return;
    for (int k = 0; k < 3; k++)
        camera->target[k] += nearer * axes.back[k];
    if (!camera->parallel)
        camera->distance -= nearer;
}

void nw_camera_look_from(NwCamera *camera, NwVec from) {
    set_home_frame(camera);
    double flat = hypot(from.x, from.y);
    camera->pitch = atan2(from.z, flat);
    camera->yaw = flat > 0 ? atan2(from.x, -from.y) : 0;
}

void nw_camera_stand(NwCamera *camera, NwVec up) {
    NwCamera home = nw_camera_home();
    set_frame(camera, up);
    camera->yaw = home.yaw;
    camera->pitch = home.pitch;
}

void nw_camera_fit_room(NwCamera *camera, const double (*points)[3], size_t count,
                        const NwCameraRoom *room, double margin) {
    double low[3], high[3], farthest = 0.1;
    if (!count)
        return;
    memcpy(low, points[0], sizeof low);
    memcpy(high, points[0], sizeof high);
    for (size_t i = 1; i < count; i++)
        for (int k = 0; k < 3; k++) {
            low[k] = fmin(low[k], points[i][k]);
            high[k] = fmax(high[k], points[i][k]);
        }
    for (int k = 0; k < 3; k++)
        camera->target[k] = (low[k] + high[k]) / 2;
    NwCameraAxes axes = nw_camera_axes(camera);
    double share = 1 - 2 * fmax(0, fmin(0.4, margin));
    double slope = tan(camera->angle / 2) * share / room->height;
    double tall = slope * (room->height - room->top - room->bottom);
    double wide = slope * (room->width - room->left - room->right);
    camera->aside[0] = (room->left - room->right) / 2 / room->height;
    camera->aside[1] = (room->top - room->bottom) / 2 / room->height;
    for (size_t i = 0; i < count; i++) {
        double p[3];
        for (int k = 0; k < 3; k++)
            p[k] = points[i][k] - camera->target[k];
        double need = fmax(fabs(dot(p, axes.right)) / wide, fabs(dot(p, axes.up)) / tall);
        /* In perspective what stands nearer to the eye is seen larger. */
        farthest = fmax(farthest, need + (camera->parallel ? 0 : dot(p, axes.back)));
    }
    camera->distance = farthest;
}

void nw_camera_fit(NwCamera *camera, const double (*points)[3], size_t count, double aspect,
                   double margin) {
    NwCameraRoom whole = {.width = aspect, .height = 1};
    nw_camera_fit_room(camera, points, count, &whole, margin);
}

/* Seen along `across`, the points must lie between two slanting planes through the eye (or, of a
 * parallel picture, two upright ones). The eye's best place is where both touch: it halves the
 * difference of their farthest reaches, at a height that takes half their sum. */
static double reach(const NwCamera *camera, const NwCameraAxes *axes, const double across[3],
                    double slope, const double (*points)[3], size_t count, double *middle) {
    double most[2] = {-INFINITY, -INFINITY};
    for (size_t i = 0; i < count; i++) {
        double x = dot(points[i], across);
        double z = camera->parallel ? 0 : slope * dot(points[i], axes->back);
        most[0] = fmax(most[0], z + x);
        most[1] = fmax(most[1], z - x);
    }
    *middle = (most[0] - most[1]) / 2;
    return (most[0] + most[1]) / (2 * slope);
}

/* Where the eye, at this height, sees the points reach as far to one side as to the other. */
static double middle_at(const NwCameraAxes *axes, const double across[3], double height,
                        const double (*points)[3], size_t count, double middle) {
    double low = middle - height, high = middle + height;
    for (int step = 0; step < 60; step++) {
        double most = -INFINITY, least = INFINITY;
        middle = (low + high) / 2;
        for (size_t i = 0; i < count; i++) {
            double seen = (dot(points[i], across) - middle) / (height - dot(points[i], axes->back));
            most = fmax(most, seen);
            least = fmin(least, seen);
        }
        if (most + least > 0)
            low = middle;
        else
            high = middle;
    }
    return middle;
}

void nw_camera_fit_tight(NwCamera *camera, const double (*points)[3], size_t count, double aspect,
                         double margin) {
    if (!count)
        return;
    nw_camera_fit(camera, points, count, aspect, margin);
    NwCameraAxes axes = nw_camera_axes(camera);
    double tall = tan(camera->angle / 2) * (1 - 2 * fmax(0, fmin(0.4, margin)));
    double x, y, depth = dot(camera->target, axes.back);
    double height = fmax(reach(camera, &axes, axes.right, tall * aspect, points, count, &x),
                         reach(camera, &axes, axes.up, tall, points, count, &y));
    camera->distance = fmax(0.1, camera->parallel ? height : height - depth);
    if (!camera->parallel) {
        x = middle_at(&axes, axes.right, height, points, count, x);
        y = middle_at(&axes, axes.up, height, points, count, y);
    }
    for (int k = 0; k < 3; k++)
        camera->target[k] = x * axes.right[k] + y * axes.up[k] + depth * axes.back[k];
}

void nw_camera_matrix(const NwCamera *camera, double aspect, const double middle[3], double radius,
                      mat4 clip) {
    NwCameraAxes axes = nw_camera_axes(camera);
    vec3 eye, target, up;
    double depth = 0;
    for (int k = 0; k < 3; k++) {
        eye[k] = (float)axes.eye[k];
        target[k] = (float)camera->target[k];
        up[k] = (float)axes.up[k];
        depth += (axes.eye[k] - middle[k]) * axes.back[k];
    }
    mat4 view, projection;
    glm_lookat(eye, target, up, view);
    float far_z = (float)fmax(depth + radius, 0.02), near_z = (float)(depth - radius);
    if (camera->parallel) {
        float tall = (float)half_height(camera), wide = tall * (float)aspect;
        glm_ortho(-wide, wide, -tall, tall, near_z, far_z, projection);
    } else {
        near_z = fmaxf(near_z, far_z / 2000);
        glm_perspective((float)camera->angle, (float)aspect, near_z, far_z, projection);
    }
    mat4 shift = GLM_MAT4_IDENTITY_INIT;
    shift[3][0] = (float)(2 * camera->aside[0] / aspect);
    shift[3][1] = (float)(-2 * camera->aside[1]);
    glm_mat4_mul(shift, projection, projection);
    glm_mat4_mul(projection, view, clip);
}

NwRay nw_camera_ray(const NwCamera *camera, double x, double y, int width, int height) {
    NwCameraAxes axes = nw_camera_axes(camera);
    double scale = 2 * half_height(camera) / height, middle[2];
    middle_of(camera, width, height, middle);
    double across = (x - middle[0]) * scale, upwards = (middle[1] - y) * scale;
    NwRay ray;
    for (int k = 0; k < 3; k++) {
        double aside = across * axes.right[k] + upwards * axes.up[k];
        ray.origin[k] = axes.eye[k] + (camera->parallel ? aside : 0);
        ray.way[k] = camera->parallel ? -axes.back[k] : aside - camera->distance * axes.back[k];
    }
    normalise(ray.way);
    return ray;
}

bool nw_camera_pixel(const NwCamera *camera, const double point[3], int width, int height,
                     double pixel[2]) {
    NwCameraAxes axes = nw_camera_axes(camera);
    double p[3];
    for (int k = 0; k < 3; k++)
        p[k] = point[k] - camera->target[k];
    double away = camera->distance - dot(p, axes.back);
    double scale = height / (2 * half_height(camera));
    if (!camera->parallel) {
        if (away <= 1e-9)
            return false;
        scale *= camera->distance / away;
    }
    middle_of(camera, width, height, pixel);
    pixel[0] += dot(p, axes.right) * scale;
    pixel[1] -= dot(p, axes.up) * scale;
    return true;
}
