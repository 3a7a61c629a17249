/* The named views, for menus and the command line.
 *
 * "home"      from the right and a little above
 * "edge"      standing on an edge: a face diagonal is upright
 * "+x-y+z"    seen from there: along an axis, a face diagonal or a body diagonal
 * "on+x+y+z"  standing so that this direction is up, seen a little from above
 * Thread: any. */
#ifndef NW_VIEW_VIEWPOINT_H
#define NW_VIEW_VIEWPOINT_H

#include "view/camera.h"

/* Turns the camera; its target and distance stay. False, and nothing done, for no such name. */
bool nw_viewpoint_set(NwCamera *camera, const char *name);

/* Reads "+x", "-y+z" or "+x+y-z": signed axes in order, each at most once. */
bool nw_viewpoint_parse(const char *text, NwVec *direction);

#endif
