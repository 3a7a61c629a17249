/* A slow, plain second search for a way out, to judge the real one by.
 *
 * A position is the displacement of every piece from its place, relative to the first piece of
 * its group. From each position every slide is tried: every set of pieces that leaves the first
 * one still, along each direction, by every whole distance. Sets with the first piece need no
 * trying: to slide S by d is, up to a common shift, to slide all the others by -d. Each step is
 * tested from the vertices (overlap.h) at its half and whole, or along a face diagonal at every
 * eighth; there are no tables. A set is free for ever when it is past each other piece along an
 * axis that it travels on, or beside it on one that it does not.
 *
 * Breadth first, so the first free set found gives the level. Then both groups go on, each from
 * where it stands, until every piece is alone, or a group is locked (which no other choice could
 * have avoided, design notes section 4). */
#ifndef NW_TESTS_PLAIN_SLIDE_H
#define NW_TESTS_PLAIN_SLIDE_H

#include "slide/replay.h"

enum { NW_PLAIN_SLIDE_PIECES_MAX = 12 };

typedef struct NwPlainWayOut {
    NwStatus status;  /* of the first separation: NW_OK, NW_NONE (proved unreachable), NW_LIMIT */
    int level;        /* slides till the first set is free; 0 without one, or for a single piece */
    NwStatus apart;   /* NW_OK: everything comes apart; NW_NONE: proved not; NW_LIMIT: undecided */
    size_t positions; /* reached in all */
    NwReplaySlide *slides; /* as far as they were found, ready for nw_replay; free() it */
    size_t slide_count, slide_capacity;
} NwPlainWayOut;

/* `limit` is the most positions of one group. Takes 1 to NW_PLAIN_SLIDE_PIECES_MAX solids. */
NwPlainWayOut nw_plain_slide(const NwSolid *const *solids, size_t count, bool diagonals,
                             size_t limit);

#endif
