/* Small pictures of designs, for cards and dialogs: flat-shaded, without OpenGL.
 *
 * The bodies of the design stand in the envelope in the colours of their pieces; what no piece
 * takes is shown pale, and lets the pieces be seen through it. Where the bodies of a half-done
 * design get into one another only the envelope is drawn.
 *
 * Parallel light from the front, parallel projection, painter's order. All parts are convex and
 * lie in cells, so the order is exact: cells by their depth (equal cubes of a lattice never hide
 * each other in a ring), and within a cell parts by the depth of their centres, for any two of
 * them mirror each other across a plane between them or share a face.
 *
 * Coordinates: cells, z up. Thread: the main one. Cost: sorting the outer faces. */
#ifndef NW_APP_START_THUMBNAIL_H
#define NW_APP_START_THUMBNAIL_H

#include <gtk/gtk.h>

#include "design/design.h"

/* A picture of `width` by `height` device pixels on a clear ground; the caller unrefs. */
GdkTexture *nw_thumbnail_new(const NwDesign *design, int width, int height, gboolean dark);

/* The same for a widget, in its pixels, as light or dark as its surroundings and as fine as its
 * screen. The caller unrefs. */
GdkPaintable *nw_thumbnail_for(GtkWidget *widget, const NwDesign *design, int width, int height);

#endif
