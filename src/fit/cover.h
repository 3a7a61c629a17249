/* Exact cover by filtering: a pull iterator over every cover of a matrix.
 *
 * At each level the search keeps the list of rows that are still free, side by side in memory. To
 * choose a row is to copy the list without the rows that clash with it:
 *
 *     level 0   [r0 r1 r2 r3 r4 r5 r6 r7 r8]      choose r2
 *     level 1   [r0 r4 r5 r8]                     choose r4
 *     level 2   [r8]                              ...
 *
 * While copying it counts, for all items at once, how many of the rows that stay cover each item.
 * The counters are bit-sliced: word k of a counter holds bit k of 64 counts, so one row is added
 * to 64 counts with a handful of logic operations. An item that must still be covered and has no
 * row left refutes the level at once; otherwise the search branches on an item with the fewest
 * rows (the rule of Knuth, "Dancing links", arXiv cs/0011047, 2000).
 *
 * A row belongs to one piece. When the last copy of a piece is placed, its other rows clash too.
 * A piece with several copies left is branched on only when no part is left to cover; then the
 * rows already tried are left out for the later ones, so that no set of rows is met twice.
 *
 * A position in the tree is a path: the number of the choice made at each level. It can be saved
 * and entered again, and a search can be confined to the subtree below a path, which is how the
 * work is shared among threads. Thread: each NwCover belongs to one; the matrix is shared and must
 * outlive it. Effort is counted in nodes: one row chosen, one list filtered. */
#ifndef NW_FIT_COVER_H
#define NW_FIT_COVER_H

#include "fit/matrix.h"

typedef struct NwCover NwCover;

/* The path of a position; `length` is at most the number of copies of all pieces. */
typedef struct NwPath {
    int length;
    int choice[NW_COPIES_MAX + 1];
} NwPath;

NwCover *nw_cover_new(const NwMatrix *matrix);
void nw_cover_free(NwCover *cover); /* NULL is allowed */

/* Goes on for at most `nodes` nodes. NW_OK: a cover was found, read it with nw_cover_rows;
 * NW_NONE: there are no more; NW_STOPPED: the nodes are used up. */
NwStatus nw_cover_step(NwCover *cover, long nodes);

/* The rows of the cover just found (borrowed, until the next step) and how many they are. */
const int *nw_cover_rows(const NwCover *cover, int *count);

/* Stop also at every unrefuted node of this depth, as if it were a cover: to list subtrees.
 * Ask for it before the first step. nw_cover_path tells where the search stands. */
void nw_cover_stop_at(NwCover *cover, int depth);

/* The path of the result just found. */
void nw_cover_path(const NwCover *cover, NwPath *path);

/* Confines a new search to the subtree below a path. NW_BAD_RESUME if there is no such path. */
NwStatus nw_cover_confine(NwCover *cover, const NwPath *path);

/* Where a search stands, and how to set a new (perhaps confined) search there, so that it goes on
 * with what the saved one had not yet tried. NW_BAD_RESUME if there is no such position. */
void nw_cover_save(const NwCover *cover, NwPath *position);
NwStatus nw_cover_restore(NwCover *cover, const NwPath *position);

/* The share of the tree that is done, 0 to 1: every choice of a level counts alike. */
double nw_cover_share(const NwCover *cover);

/* Nodes so far. */
unsigned long long nw_cover_nodes(const NwCover *cover);

#endif
