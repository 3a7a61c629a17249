/* The eye of a picture: it circles a target at a distance and looks at it.
 *
 * Its place is told by two angles in a frame of three perpendicular unit vectors, "front", "side"
 * and "up": yaw turns about up, from front to side, pitch lifts towards up. So nothing drifts, and
 * the horizon stays level; to stand a solid on an edge is to choose another "up". Perspective and
 * parallel pictures of one camera have the same scale at the target. The whole picture can be
 * shifted, as by the lens of a view camera, so that the target, and with it the point that all
 * turns about, is seen beside the middle: in the middle of what nothing covers, say.
 *
 * Coordinates: cells. Pixels: from the upper left corner of the picture, x to the right, y down;
 * the middle of the first pixel is at 0.5, 0.5. Angles in radians. Thread: any; nothing to own. */
#ifndef NW_VIEW_CAMERA_H
#define NW_VIEW_CAMERA_H

#include <cglm/types.h>
#include <stdbool.h>
#include <stddef.h>

#include "lattice/vec.h"

typedef struct NwCamera {
    double target[3];
    double frame[3][3]; /* front, side, up */
    double yaw, pitch;
    double distance; /* from the eye to the target */
    double angle;    /* the picture's height as seen in perspective */
    double aside[2]; /* where the target is seen: right of and below the middle, in heights */
    bool parallel;
} NwCamera;

/* A picture, and how much of it is covered along each side, all in one unit. */
typedef struct NwCameraRoom {
    double width, height;
    double left, top, right, bottom; /* covered */
} NwCameraRoom;

/* Origin and direction, in cells. The direction has length 1. */
typedef struct NwRay {
    double origin[3], way[3];
} NwRay;

typedef struct NwCameraAxes {
    double right[3], up[3], back[3]; /* as seen in the picture; back leads from target to eye */
    double eye[3];                   /* in a parallel picture a point on the line of sight */
} NwCameraAxes;

/* Looks at the origin from the home direction, some cells away. */
NwCamera nw_camera_home(void);

NwCameraAxes nw_camera_axes(const NwCamera *camera);

void nw_camera_orbit(NwCamera *camera, double dx, double dy);
void nw_camera_pan(NwCamera *camera, double dx, double dy, int height);

/* Turns about the upright, clockwise as seen from the side of it that the eye is on. */
void nw_camera_spin(NwCamera *camera, double angle);

/* Looks at this point: it is seen where the target was, as large as before. */
void nw_camera_look_at(NwCamera *camera, const double point[3]);

/* Moves the target along the line of sight, as deep as this point lies, so that what comes next
 * turns about that depth or draws near to it. The picture stays as it is. Nothing is done for a
 * point behind the eye or all but at it. */
void nw_camera_deepen(NwCamera *camera, const double point[3]);

/* Scales the picture by `factor` (above 1: nearer) and keeps what lies under the pixel, in the
 * plane of the target, where it is. */
void nw_camera_zoom(NwCamera *camera, double factor, double x, double y, int width, int height);

/* Looks from the side that `from` points to, with z upwards; looking along z, y is upwards. */
void nw_camera_look_from(NwCamera *camera, NwVec from);

/* Stands the scene so that `up` points upwards, and looks a little from above. */
void nw_camera_stand(NwCamera *camera, NwVec up);

/* Moves target and distance so that all points are in view with a margin (a share of the picture
 * on each side, 0 to 0.4); the target becomes the middle of their box. */
void nw_camera_fit(NwCamera *camera, const double (*points)[3], size_t count, double aspect,
                   double margin);

/* The same in what is not covered of the picture: the target is seen in its middle. */
void nw_camera_fit_room(NwCamera *camera, const double (*points)[3], size_t count,
                        const NwCameraRoom *room, double margin);

/* The same for a still picture: the target becomes what puts the points in the middle of the
 * picture, and the picture as large as it can be. */
void nw_camera_fit_tight(NwCamera *camera, const double (*points)[3], size_t count, double aspect,
                         double margin);

/* The matrix to clip space. Depths are spread over a ball round `middle` that holds the scene. */
void nw_camera_matrix(const NwCamera *camera, double aspect, const double middle[3], double radius,
                      mat4 clip);

/* The line of sight through a pixel. */
NwRay nw_camera_ray(const NwCamera *camera, double x, double y, int width, int height);

/* Where a point is seen; false if it lies behind the eye. */
bool nw_camera_pixel(const NwCamera *camera, const double point[3], int width, int height,
                     double pixel[2]);

#endif
