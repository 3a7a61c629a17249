/* Tips: the convex vertices of a solid, and how sharp they are.
 *
 * The parts of a solid that meet at a vertex fall into groups that hold together by faces there;
 * each group fills one cone. Where the cone is convex and holds no straight line, the surface has a
 * tip. (Groups that touch only in an edge or at the vertex itself are tips of their own.)
 *
 * Solid angles are exact. At an odd vertex only corners meet, each with a right-angled tip that
 * fills an eighth of all directions: pi/2. At an even vertex meet tips of cores, regular
 * tetrahedra with 3 alpha - pi each, where alpha = arccos(1/3) is their dihedral angle; and thin
 * tips of corners: three of them and one core fill an eighth, so each has
 * (pi/2 - (3 alpha - pi)) / 3 = pi/2 - alpha. So every solid angle is
 *
 *     alphas * alpha + quarters * pi/2      with whole numbers
 *
 * and since alpha/pi is irrational, two are equal exactly when both numbers are. In steradians:
 *
 *     thin tip of a corner      -alpha +   pi/2     0.340     sharp
 *     tip of a core            3 alpha - 2 pi/2     0.551     sharp
 *     two thin tips           -2 alpha + 2 pi/2     0.680
 *     corner of a cube                     pi/2     1.571
 *
 * The rule: a tip is *sharp*, a spike that pricks and breaks, when its solid angle is at most that
 * of a regular tetrahedron's tip. All other tips are at least two thin ones wide, so these are
 * exactly the tips of a single part at an even vertex.
 *
 * A tip is *hidden* when, wherever the design places the piece, its vertex lies inside the envelope
 * and not on its surface: then no hand that holds the assembled puzzle can touch it. Parts that are
 * left empty are not looked into.
 *
 * Coordinates: of the solid. Thread: any. Cost: sorting the vertices. */
#ifndef NW_DESIGN_SHARP_VERTICES_H
#define NW_DESIGN_SHARP_VERTICES_H

#include "design/design.h"

typedef struct NwTip {
    NwVec vertex;
    int alphas, quarters; /* the solid angle */
    bool sharp;
    bool hidden; /* false where no design is known */
} NwTip;

/* All tips, by vertex, then by angle: the caller frees *tips. Returns how many. */
size_t nw_solid_tips(const NwSolid *solid, NwTip **tips);

/* The tips of a piece, in its own frame, with `hidden` told. */
size_t nw_piece_tips(const NwDesign *design, int piece, NwTip **tips);

/* The solid angle for reports, in steradians. */
double nw_tip_steradians(const NwTip *tip);

#endif
