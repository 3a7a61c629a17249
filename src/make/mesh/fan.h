/* Moving the faces round a vertex inwards: where the corners go.
 *
 * Push every face of a fan (manifold.h) a unit inwards. Where three faces meet, the new vertex is
 * the point that their three planes share. Where more meet, the planes have as a rule no common
 * point, and the vertex opens into several, joined by new small edges:
 *
 *        |                  |       Draw the faces as corners of a polygon, and the edges between
 *     ---*---     ->     ---*       neighbours as its sides. A way to open the vertex is then a
 *        |                   \      triangulation of that polygon: each triangle is a new vertex,
 *                             *---  on three planes, and each diagonal a new edge, of two.
 *                             |     (The vertex events of straight skeletons: O. Aichholzer,
 *                                   F. Aurenhammer, COCOON 1996, in the plane; T. Auer, S. Walzl,
 *                                   "Straight skeletons and mitered offsets of nonconvex
 *                                   polytopes", Discrete Comput. Geom. 56, 2016, in space; both
 *                                   from memory.)
 *
 * Two faces of the fan may lie in one plane and touch only in the vertex. Moved, they may grow
 * together into one face: a *pinch*. The two corners of the polygon become one and divide it, and
 * the vertex with it, into two that have nothing more to do with each other.
 *
 * Two fans at one place may do so as well, or break through to each other: two pits that touched
 * in the vertex open a hole between them. Their polygons are then the two rims of a ring, which is
 * triangulated after a cut along a *seam* from a face of one to a face of the other. The second rim
 * may be a mere point: a face without edges, which the tip of a pit breaks through.
 *
 * A way is right when every new vertex is one that a solid can have: with none or three reflex
 * edges its normals turn counter-clockwise, with one or two clockwise. Which kind a new edge is
 * follows from its ends: running as a convex edge of its two planes would, or against it. A new
 * edge of no length at all may be either; its ends are one vertex. (Four planes of an octahedron's
 * tip still meet in one point.) These signs are exact: the points have coordinates a + b sqrt(3)
 * with fractions a, b, since normals have length 1 or sqrt(3). Last, the moved faces must not
 * cross, nor come closer to the old ones than 1, which is measured. Of several ways that pass, that
 * one is taken whose farthest new vertex stays nearest, so that congruent vertices open alike.
 *
 * Thread: any. Cost: grows as the Catalan numbers with the faces, so the search has an effort that
 * bounds it, and a number of ways that it may keep. */
#ifndef NW_MAKE_MESH_FAN_H
#define NW_MAKE_MESH_FAN_H

#include "lattice/vec.h"
#include "make/effort.h"

#include <stddef.h>
#include <stdint.h>

enum {
    NW_FAN_FACES_MAX = 48,       /* as many faces as a vertex of the lattice can have round it: 32
                                  * parts meet there, of three faces each that two share */
    NW_FAN_OPEN_MAX = 18,        /* faces of a fan that is opened */
    NW_FAN_JOIN_MAX = 8,         /* faces of two fans that are opened together */
    NW_FAN_TRIES_MAX = 3000,     /* right ways that are measured before a fan is given up, */
    NW_FAN_JOIN_TRIES_MAX = 200, /* and two fans together */
    NW_FAN_WAYS_MAX = 20000,     /* right ways that are kept to be measured */
};

/* The faces of one fan, or of two at the same place, one list after the other. */
typedef struct NwSpot {
    NwVec normals[NW_FAN_FACES_MAX];
    bool reflex[NW_FAN_FACES_MAX];
    size_t first_count; /* faces of the first fan, three at least or two of a straight edge */
    size_t count;       /* of both */
} NwSpot;

/* What a rim does at one corner of the spot. It comes in on face `place`, along the edge that this
 * shares with the next face of its fan, passes some new vertices, and goes out along an edge of
 * face `leaves`: the same face, or one that it has grown together with. */
typedef struct NwFanCorner {
    uint8_t leaves;
    uint8_t
        points[NW_FAN_FACES_MAX]; /* indices of new vertices, each once; of a point, all round */
    uint8_t count;                /* 0 where the rim goes straight on, or there is none */
} NwFanCorner;

typedef struct NwFanWay {
    double points[NW_FAN_FACES_MAX][3]; /* from the old vertex, for faces that move by 1 */
    size_t point_count;
    NwFanCorner corners[NW_FAN_FACES_MAX];
} NwFanWay;

/* Whether the second fan is a point within a face: one face, and no edge. */
bool nw_spot_has_point(const NwSpot *spot);

/* The face before and after one in its own fan. Edge i is between face i and the one before. */
size_t nw_spot_previous(const NwSpot *spot, size_t at);
size_t nw_spot_next(const NwSpot *spot, size_t at);

/* The direction of edge `at`, away from the vertex; not of unit length. */
NwVec nw_spot_ray(const NwSpot *spot, size_t at);

/* Opens a spot: a single fan, or two that are to grow together or break through to each other (of
 * at most NW_FAN_JOIN_MAX faces). False for a fan of more than NW_FAN_OPEN_MAX faces, if no way is
 * right, or if none was found with that effort, of which then nothing is left. */
bool nw_spot_open(const NwSpot *spot, NwEffort *effort, NwFanWay *way);

/* Whether the moved faces cross nowhere and keep their distance from the old ones, each continued
 * far along its edges. False where no effort is left to see it. */
bool nw_spot_is_plain(const NwSpot *spot, NwEffort *effort, const NwFanWay *way);

#endif
