#include "fit/estimate.h"

#include <stdlib.h>

#include "base/bits.h"
#include "base/memory.h"

struct NwEstimator {
    NwNaiveSearch *blind;
    uint64_t random; /* SplitMix64: a counter, and nw_mix of it */
    NwEstimate figures;
    double squares; /* sum of the squares of what differs from the mean (Welford, 1962) */
};

NwEstimator *nw_estimator_new(const NwFit *fit, uint64_t seed) {
    NwEstimator *estimator = nw_alloc(1, sizeof *estimator);
    estimator->blind = nw_naive_search_new(fit);
    estimator->random = seed;
    return estimator;
}

void nw_estimator_free(NwEstimator *estimator) {
    if (!estimator)
        return;
    nw_naive_search_free(estimator->blind);
    free(estimator);
}

/* 0 to bound - 1, all alike likely: numbers of the last, incomplete round are drawn again. */
static int draw(NwEstimator *estimator, int bound) {
    uint64_t range = (uint64_t)bound, limit = UINT64_MAX - UINT64_MAX % range, word;
    do {
        estimator->random += UINT64_C(0x9e3779b97f4a7c15);
        word = nw_mix(estimator->random);
    } while (word >= limit);
    return (int)(word % range);
}

static double dive(NwEstimator *estimator) {
    NwNaiveSearch *blind = estimator->blind;
    double product = 1, sum = 0;
    nw_naive_search_restart(blind);
    for (int width; (width = nw_naive_search_width(blind)) > 0;) {
        product *= width;
        sum += product;
        nw_naive_search_choose(blind, draw(estimator, width));
    }
    estimator->figures.full += nw_naive_search_depth(blind) == nw_naive_search_total(blind);
    return sum;
}

void nw_estimator_step(NwEstimator *estimator, unsigned long dives) {
    NwEstimate *figures = &estimator->figures;
    for (; dives > 0; dives--) {
        double nodes = dive(estimator), before = nodes - figures->nodes;
        double count = (double)++figures->dives;
        figures->nodes += before / count;
        estimator->squares += before * (nodes - figures->nodes);
        figures->variance = count > 1 ? estimator->squares / (count * (count - 1)) : 0;
    }
}

NwEstimate nw_estimator_result(const NwEstimator *estimator) {
    return estimator->figures;
}
