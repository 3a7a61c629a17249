/* The graph of all positions of an assembly before anything comes free.
 *
 * A position is where the bodies stand relative to each other. Two positions are neighbours when
 * one slide leads from one to the other (and another one back); a slide may end at every cell that
 * it passes. A position from which some set can slide away for ever is an *exit*: there the walk
 * ends, and it is not looked beyond. So the graph is finite, as in slide/separation.h.
 *
 *                  d - d          s  the assembly, as it stands put together
 *                  |              E  an exit
 *         s - o - o - o - E       o  on a way from s to an exit
 *         |       |   |           d  a dead end
 *         d       o - o
 *
 * A *dead end* is a position that lies on no way from s to an exit which passes each position only
 * once: whoever comes there must turn back through a position passed before. Every other position
 * lies on such a way, a detour perhaps. If there is no exit, all positions are dead ends.
 *
 * To find them, take all exits as one vertex t and add an edge from s to t. By a theorem of
 * Whitney (1932), a vertex lies on a simple path from s to t exactly when it lies in the
 * biconnected component of that edge; R. Tarjan's depth-first search ("Depth-first search and
 * linear graph algorithms", SIAM J. Comput. 1, 1972) finds that in linear time.
 *
 * The search shares the free-slide tables with separation.c and nothing else, so the level that
 * both find is a check of either. A pull iterator; effort is counted in expansions. Memory: 4 bytes
 * for each neighbour of each position, and some 40 for a position. Thread: each belongs to one. */
#ifndef NW_SLIDE_GRAPH_H
#define NW_SLIDE_GRAPH_H

#include "slide/separation.h"

enum { NW_GRAPH_POSITIONS_DEFAULT = 1000000 };

typedef struct NwGraphFigures {
    uint32_t positions; /* all of them, exits too */
    uint32_t exits;
    uint32_t dead_ends;
    uint64_t slides; /* pairs of neighbours */
    int level;       /* slides until the first set is free, the last one counted; 0 if no exit */
} NwGraphFigures;

typedef struct NwGraph NwGraph;

/* The bodies (2 to NW_BODIES_MAX) stand at their places; they are copied, their solids borrowed.
 * NW_TOO_MANY for another number of bodies; *graph is then NULL. */
NwStatus nw_graph_new(const NwBody *bodies, int count, bool diagonals, uint32_t max_positions,
                      NwGraph **graph);
void nw_graph_free(NwGraph *graph); /* NULL is allowed */

/* Goes on for at most `expansions` positions. NW_OK: the figures are complete; NW_LIMIT: there are
 * more than max_positions, or 64 times as many pairs of neighbours; NW_STOPPED: call again. */
NwStatus nw_graph_step(NwGraph *graph, long expansions);

/* After NW_OK. While it runs, and after NW_LIMIT: what has been met so far, dead ends 0. */
NwGraphFigures nw_graph_figures(const NwGraph *graph);

#endif
