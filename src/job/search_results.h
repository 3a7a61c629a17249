/* What a search brought in: its progress, its findings in the order of lists, and which of them is
 * the answer. Ownership: `init` makes it empty, `clear` frees what it holds. Thread: one. */
#ifndef NW_JOB_SEARCH_RESULTS_H
#define NW_JOB_SEARCH_RESULTS_H

#include "job/search.h"

/* Findings beyond these are printed or stored, but not kept in memory. */
enum { NW_SEARCH_RESULTS_KEEP = 200000 };

typedef struct NwSearchResults {
    NwSearch *search; /* owned; NULL before there is one */
    NwSearchProgress progress;
    GPtrArray *findings; /* NwFoundAssembly, owned */
    gboolean from_store; /* the search was complete before: nothing had to be searched */
    gboolean
        was_older; /* it began anew: its position is one of an earlier version of this program */
} NwSearchResults;

void nw_search_results_init(NwSearchResults *results);
void nw_search_results_clear(NwSearchResults *results);

/* Moves findings out of a batch while there is room. */
void nw_search_results_keep(NwSearchResults *results, GPtrArray *batch);

/* Puts the findings in the order of lists (nw_words_compare), once there are no more. */
void nw_search_results_sort(NwSearchResults *results);

/* Whether it may be believed: FALSE with NW_SEARCH_ERROR_CONTRADICTED where a check contradicts
 * the search. */
gboolean nw_search_results_check(const NwSearchProgress *progress, GError **error);

/* The finding that is the answer, once they are sorted: the intended assembly if it opens, or
 * where none is intended the first that opens; else NULL. Borrowed. */
const NwFoundAssembly *nw_search_results_answer(const NwSearchResults *results);

/* The same of any findings in the order of lists. */
const NwFoundAssembly *nw_search_results_answer_of(const GPtrArray *findings,
                                                   gboolean has_intended);

#endif
