/* Exact cover by filtering: a pull iterator over every cover of a matrix.
 *
 * At each level the search keeps the list of rows that are still free, side by side in memory. To
 * choose a row is to copy the list without the rows that conflict with it:
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
 * A row belongs to one piece. When the last copy of a piece is placed, its other rows conflict too.
 * A piece with several copies left is branched on only when no part is left to cover; then the
 * rows already tried are left out for the later ones, so that no set of rows is met twice.
 *
 * A position tells what is left to do: at each level the choice in work, and the last one to make.
 * It can be saved and entered again. A search can also give a part of what it has left away, from
 * the shallowest level that has some:
 *
 *     before   level 0   [c0 c1 c2 c3 c4 c5 c6]   c1 in work, c6 the last
 *     after    level 0   [c0 c1 c2 c3 c4]         c4 the last; c5 and c6 are another position
 *
 * The positions that come of one search make up its tree, none of them meets what another one
 * meets, and each can be searched anywhere: this is how the work is shared among threads.
 * (Splitting on demand at the shallowest level: Finkel, Manber, "DIB - a distributed implementation
 * of backtracking", ACM TOPLAS 9, 1987.)
 *
 * Thread: each NwCover belongs to one; the matrix is shared and must outlive it. Effort is counted
 * in looks: one for each node (a row chosen, a list filtered) and one for each 128 words of the
 * list, so that equal efforts take about equal times, however large the matrix is. */
#ifndef NW_FIT_COVER_H
#define NW_FIT_COVER_H

#include <limits.h>

#include "fit/matrix.h"

typedef struct NwCover NwCover;

/* In place of the number of the last choice: whichever is the last of the level. */
enum { NW_ITEM_SELECTION_ALL = INT_MAX };

/* The levels of a position are at most the copies of all pieces; none: nothing is left. The choice
 * of the deepest one is done (-1: none is yet), those of the others are in work. */
typedef struct NwPosition {
    int length;
    int choice[NW_COPIES_MAX + 1];
    int last[NW_COPIES_MAX + 1];
} NwPosition;

NwCover *nw_cover_new(const NwMatrix *matrix);
void nw_cover_free(NwCover *cover); /* NULL is allowed */

/* Goes on until `effort` is spent, by one node at least. NW_OK: a cover was found, read it with
 * nw_cover_rows; NW_NONE: there are no more; NW_STOPPED: the effort is spent. */
NwStatus nw_cover_step(NwCover *cover, long effort);

/* The rows of the cover just found (borrowed, until the next step) and how many they are. */
const int *nw_cover_rows(const NwCover *cover, int *count);

/* Where a search stands, and how to set another one there, wherever that stands: it goes on with
 * what the saved one had not yet tried. NW_BAD_RESUME if there is no such position. */
void nw_cover_save(const NwCover *cover, NwPosition *position);
NwStatus nw_cover_restore(NwCover *cover, const NwPosition *position);

/* Gives half of the choices away that are left at the shallowest level that has any; *left is their
 * share of the whole tree. False if there is not enough to give. */
bool nw_cover_give(NwCover *cover, NwPosition *position, double *left);

/* The share of the whole tree that this search has left, 0 to 1: every choice of a level counts
 * alike. */
double nw_cover_left(const NwCover *cover);

/* The effort so far. */
unsigned long long nw_cover_effort(const NwCover *cover);

#endif
