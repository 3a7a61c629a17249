/* How large the blind tree is (fit/naive_search.h), by random dives.
 *
 * D. E. Knuth, "Estimating the efficiency of backtrack programs", Math. Comp. 29 (1975), 121-136:
 * go down from the root, each time to a child drawn at random, all alike likely, until there is
 * none. If the nodes on the way had d1, d2, ... children, then
 *
 *     d1 + d1 d2 + d1 d2 d3 + ...
 *
 * has the number of nodes below the root as its mean over all dives: a node is met with
 * probability 1 / (d1 ... dk), and then counts d1 ... dk. The mean of many dives comes near to it
 * as 1 / sqrt(dives); how near, the dives themselves tell by their spread. Trees of puzzles are
 * lopsided, few dives come to the bulk of them, so a spread as large as the mean is not rare: then
 * the figure is no more than an order of magnitude, and is to be shown with its spread.
 *
 * A pull iterator; effort is counted in dives. The same seed gives the same figures on every
 * machine. The figures are floating point, since they are only reported. Thread: each belongs to
 * one. */
#ifndef NW_FIT_ESTIMATE_H
#define NW_FIT_ESTIMATE_H

#include "fit/naive_search.h"

typedef struct NwEstimate {
    unsigned long dives;
    unsigned long full; /* dives that came to a full envelope */
    double nodes;       /* the mean: pieces put in by a blind search of everything */
    double variance;    /* of that mean: its standard error squared; 0 until two dives are made */
} NwEstimate;

typedef struct NwEstimator NwEstimator;

NwEstimator *nw_estimator_new(const NwFit *fit, uint64_t seed);
void nw_estimator_free(NwEstimator *estimator); /* NULL is allowed */

/* Makes some more dives; the figures are of all so far. */
void nw_estimator_step(NwEstimator *estimator, unsigned long dives);
NwEstimate nw_estimator_result(const NwEstimator *estimator);

#endif
