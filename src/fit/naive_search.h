/* The tree of somebody who tries pieces without looking ahead.
 *
 * Pieces are put in one by one, the largest volume first, each in every place inside the envelope
 * where it overlaps none that is there. Nothing else is asked: not whether a gap can still be
 * filled, nor whether the piece could get there by slides. A node is a partial filling, its
 * children are the ways to put in the next piece:
 *
 *     (nothing) -- A here -- B here -- C here   full
 *               |         `- B there            stuck: C overlaps wherever it is put
 *               `- A there - B here ...
 *
 * What is not told apart is not counted twice: copies of one piece are put in in the order of
 * their places, and of the places of the first piece that a symmetry of the envelope makes equal
 * only one is tried. So there is one node at least for each kind of partial filling.
 *
 * This walks down the tree one choice at a time; fit/estimate.h measures it. Thread: each
 * NwNaiveSearch belongs to one; the fit is shared and must outlive it. Cost of a step: one look at
 * every place of the next piece. */
#ifndef NW_FIT_NAIVE_SEARCH_H
#define NW_FIT_NAIVE_SEARCH_H

#include "fit/fit.h"

typedef struct NwNaiveSearch NwNaiveSearch;

NwNaiveSearch *nw_naive_search_new(const NwFit *fit);
void nw_naive_search_free(NwNaiveSearch *blind); /* NULL is allowed */

/* Goes back to the empty envelope. */
void nw_naive_search_restart(NwNaiveSearch *blind);

/* How many children the node has; 0 where it is stuck or full. */
int nw_naive_search_width(const NwNaiveSearch *blind);

/* Goes down to child `choice`, 0 to width - 1. */
void nw_naive_search_choose(NwNaiveSearch *blind, int choice);

/* How many pieces are in, and how many there are, copies counted. */
int nw_naive_search_depth(const NwNaiveSearch *blind);
int nw_naive_search_total(const NwNaiveSearch *blind);

#endif
