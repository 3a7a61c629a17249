/* The fewest slides in all that take an assembly apart, exactly: over all choices of what leaves
 * first, and over all orders and ways.
 *
 * A slide is one whatever its length, and a set that slides clear of what it stood with has left
 * it for ever, wherever it is put down (that is how nw_replay sees it, too). So a group of n bodies
 * needs n - 1 separations whatever is done, and what differs is the number of slides between. Let
 * V(G, p) be the fewest slides that take the group G apart from the position p:
 *
 *     V(G, p) = min over all positions q that slides lead to from p, g of them, none a separation,
 *               and over all sets S that can leave G \ S at q
 *               of  g + 1 + V(S, q) + V(G \ S, q),          V of a single body being 0.
 *
 *         p --- q1 --- q2        g = 2; at q2 the set {A, B} can leave {C, D}: two groups that
 *               |      |         never meet again, so their costs add up
 *               q3     {A,B} | {C,D}
 *
 * The first set that comes free is not always the one to take, which is why way_out.h finds no
 * minimum: it may pay to slide on although something could leave already, and such a slide may end
 * anywhere short of where its set is clear.
 *
 * The search asks, of one group at one position, "at most T slides?", for T from a bound below that
 * is proved, and rising. To answer, it lists positions breadth first; since at least n - 1 slides
 * are still to come at any of them, none deeper than T - (n - 1) matters, so the list is finite.
 * At each, every set that can leave makes two smaller questions with what is left of T. What
 * has been answered is kept by group and position: the value where it is known, else the bound
 * below. It begins from a way out that is known: if its total is the first bound below (the level
 * and one slide for each separation after the first), nothing need be searched.
 *
 * A pull iterator with frames of its own instead of recursion. Effort is counted in tries: a set of
 * bodies looked at in one direction, a position listed; an answer that is kept counts four, so that
 * the limit is one of memory too (some 35 bytes for each try at most). It shares the free-slide
 * tables with separation.c and graph.c, and nothing else. Ownership: bodies are copied, solids
 * borrowed. Thread: each belongs to one. */
#ifndef NW_SLIDE_FEWEST_H
#define NW_SLIDE_FEWEST_H

#include "slide/way_out.h"

#define NW_FEWEST_TRIES_DEFAULT 5000000UL

typedef struct NwFewest NwFewest;

NwFewest *nw_fewest_new(bool diagonals);
void nw_fewest_free(NwFewest *fewest); /* NULL is allowed */

/* Begins with `count` bodies (1 to NW_BODIES_MAX) and a way out of them that is known, its level
 * the least; it is copied. NW_TOO_MANY past NW_BODIES_MAX. */
NwStatus nw_fewest_start(NwFewest *fewest, const NwBody *bodies, int count, const NwWayOut *known,
                         unsigned long max_tries);

/* Goes on for about `tries` tries. NW_OK: the result is proved to have the fewest slides; NW_LIMIT:
 * max_tries were made, and its total is an upper bound; NW_STOPPED: call again. */
NwStatus nw_fewest_step(NwFewest *fewest, unsigned long tries);

/* The best way out so far (borrowed until the next start), in the order of way_out.h; `states` and
 * `stuck` are 0. */
const NwWayOut *nw_fewest_result(const NwFewest *fewest);

/* It is proved that fewer slides than that do not do. */
int nw_fewest_at_least(const NwFewest *fewest);

unsigned long nw_fewest_tries(const NwFewest *fewest);

#endif
