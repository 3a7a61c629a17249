/* The symmetries of an envelope, and what to call them in a menu.
 *
 * A turn fixes a direction, up to sign, and is told by it and by how far it goes round:
 *
 *     rotation                       reflection: the same, each point then sent to its opposite
 *     identity                       point reflection
 *     half turn                      mirror across a plane
 *     third of a turn                sixth of a turn and mirror
 *     quarter turn                   quarter turn and mirror
 *
 * Thread: any; nothing to own. */
#ifndef NW_DESIGN_SYMMETRY_NAME_H
#define NW_DESIGN_SYMMETRY_NAME_H

#include "design/design.h"

typedef enum NwSymmetryKind {
    NW_SYMMETRY_IDENTITY,
    NW_SYMMETRY_TURN,        /* about `axis`, 1/order of a full turn */
    NW_SYMMETRY_MIRROR,      /* across the plane whose normal is `axis` */
    NW_SYMMETRY_POINT,       /* through a point */
    NW_SYMMETRY_TURN_MIRROR, /* 1/order of a full turn about `axis`, and mirror across it */
} NwSymmetryKind;

typedef struct NwSymmetryName {
    NwSymmetryKind kind;
    int order;  /* how often until all is back */
    NwVec axis; /* (1,0,0), (1,1,0) or (1,1,1) with any signs and in any order; 0 for no axis. The
                   turn is counter-clockwise seen from where the axis points; where that makes no
                   difference the first number that is not 0 is positive. */
} NwSymmetryName;

NwSymmetryName nw_symmetry_name(NwTurn turn);

enum { NW_SYMMETRY_TEXT_SIZE = 80 };

/* English, such as "half turn about x" or "third of a turn about the corner axis +x+y-z". */
void nw_symmetry_text(NwTurn turn, char text[NW_SYMMETRY_TEXT_SIZE]);

/* The symmetries of the envelope, identity first; those that carry parts to parts, so shifts are
 * even unless the envelope and all pieces are of whole cells. Returns how many. */
int nw_design_symmetries(const NwDesign *design, bool reflections, NwMotion symmetries[NW_TURNS]);

#endif
