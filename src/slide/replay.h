/* The checker of a way out. It shares no code with any search: it carries the solids slide by
 * slide and tests them against each other from the vertices of their parts.
 *
 * Tested positions of every step: for a cube direction the half and the whole, for a face diagonal
 * every eighth. A way out starts with all solids in one group. An out slide must be free until the
 * set has passed everything left of its group; from then on the set and the rest are two groups,
 * which never meet again. At the end every solid must be alone in its group.
 * Returns NULL if all is well, else the first reason (a static text). Thread: any. */
#ifndef NW_SLIDE_REPLAY_H
#define NW_SLIDE_REPLAY_H

#include "lattice/solid.h"

enum { NW_REPLAY_SOLIDS_MAX = 32, NW_REPLAY_OUT = -1 };

typedef struct NwReplaySlide {
    uint32_t set;    /* bit i: solid i travels */
    NwVec direction; /* a cube direction or a face diagonal */
    int cells;       /* how many steps; below 0: out, and away for ever */
} NwReplaySlide;

/* `solids` are the pieces at their places in the assembly. */
const char *nw_replay(const NwSolid *const *solids, size_t count, const NwReplaySlide *slides,
                      size_t slide_count);

#endif
