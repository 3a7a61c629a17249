/* The 48 ways to carry the cube lattice to itself about the origin vertex.
 *
 * A turn is a number: 0 to 23 are the rotations (0 is the identity), 24 to 47 the reflections;
 * t and t + 24 differ by the sign of their last new axis. Its name says, for each new axis in
 * order, which old axis it takes and with what sign: "+y-x+z" has new x = old y, new y = -old x,
 * new z = old z. A turn keeps the parity of every vertex. Thread: any; nothing to own. */
#ifndef NW_LATTICE_TURN_H
#define NW_LATTICE_TURN_H

#include "base/status.h"
#include "lattice/vec.h"

enum { NW_ROTATIONS = 24, NW_TURNS = 48, NW_TURN_NAME_SIZE = 7 };

typedef int NwTurn;

/* New axis k takes old axis axis[k] times sign[k]. */
typedef struct NwTurnMap {
    int axis[3];
    int sign[3];
} NwTurnMap;

NwTurnMap nw_turn_map(NwTurn turn);

/* The turn of a map; a map that is no signed permutation gives NW_UNKNOWN_NAME. */
NwStatus nw_turn_of_map(NwTurnMap map, NwTurn *turn);

NwVec nw_turn_vec(NwTurn turn, NwVec v);

/* The lowest corner of the turned cell whose lowest corner was `cell`. */
NwVec nw_turn_cell(NwTurn turn, NwVec cell);

/* First `first`, then `second`. */
NwTurn nw_turn_then(NwTurn first, NwTurn second);

NwTurn nw_turn_inverse(NwTurn turn);

static inline bool nw_turn_is_rotation(NwTurn turn) {
    return turn < NW_ROTATIONS;
}

/* Writes the six-letter name and a final zero. */
void nw_turn_name(NwTurn turn, char name[NW_TURN_NAME_SIZE]);

/* Reads a name; NW_UNKNOWN_NAME if it is none of the 48. */
NwStatus nw_turn_parse(const char *name, NwTurn *turn);

#endif
