/* What stops each body in each direction, from where the bodies stand.
 *
 * For one body and one cube direction three things are told:
 *
 *     run      how many cells it goes alone before anything stops it
 *     stops    which bodies stop it there
 *     pushed   which bodies must travel along if it is to go one cell from where it stands
 *
 *        +---+---+---+        B in direction +x: run 0, stopped by C; with it go C and then D,
 *        | B | C | D |        which C pushes in turn. In direction -x: nothing stops it, and
 *        +---+---+---+        nothing is pushed.
 *
 * If `pushed` is the whole group, the body is held in that direction: only all of the group
 * together could go, which is no slide. A group whose every body is held in every direction is
 * locked where it stands; a group that can still slide to and fro is not, though nothing may ever
 * come free of it. Bodies of other groups have parted and stop nothing.
 *
 * Which parts do the stopping is read off the vertices of the parts (lattice/overlap.h), at the
 * midpoint of the step that is blocked. Cost: a clearance table for each pair, so ask it about one
 * position that somebody looks at, not in a search. Thread: any. */
#ifndef NW_SLIDE_OBSTACLES_H
#define NW_SLIDE_OBSTACLES_H

#include "slide/group_positions.h"

typedef struct NwObstacle {
    int run;         /* cells; NW_RUN_FOREVER if nothing ever stops it */
    uint32_t stops;  /* 0 if nothing ever does */
    uint32_t pushed; /* itself included */
} NwObstacle;

typedef struct NwObstacles {
    int count;
    NwObstacle of[NW_BODIES_MAX][NW_CUBE_DIRECTIONS];
} NwObstacles;

/* `bodies` are standing->count bodies at their places; they are borrowed for the call. */
void nw_obstacles_find(const NwBody *bodies, const NwGroupPositions *standing,
                       NwObstacles *obstacles);

/* Whether the body cannot go that way unless its whole group does. */
bool nw_obstacles_holds(const NwObstacles *obstacles, const NwGroupPositions *standing, int body,
                        int direction);

/* A part that stops another body. It is named as it lies in the assembly, before any slide, since
 * after an odd one it is no part of the lattice. */
typedef struct NwStoppingPart {
    int body;
    NwPart part;
} NwStoppingPart;

/* The parts of other bodies that stop `body`, by body, cell and bit. Returns how many; *parts is
 * the caller's to free, NULL for none. A body that stands off the lattice, which no assembly has,
 * is left out. */
size_t nw_obstacles_parts(const NwBody *bodies, const NwGroupPositions *standing,
                          const NwObstacles *obstacles, int body, int direction,
                          NwStoppingPart **parts);

#endif
