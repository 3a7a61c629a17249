/* What a search brought in: its progress, its findings in the order of lists, and which of them is
 * the answer. Ownership: `init` makes it empty, `clear` frees what it holds. Thread: one. */
#ifndef NW_JOB_HARVEST_H
#define NW_JOB_HARVEST_H

#include "job/search.h"

/* Findings beyond these are printed or stored, but not kept in memory. */
enum { NW_HARVEST_KEEP = 200000 };

typedef struct NwHarvest {
    NwSearch *search; /* owned; NULL before there is one */
    NwSearchProgress progress;
    GPtrArray *findings; /* NwFinding, owned */
    gboolean from_store; /* the search was complete before: nothing had to be searched */
    gboolean
        was_older; /* it began anew: its position is one of an earlier version of this program */
} NwHarvest;

void nw_harvest_init(NwHarvest *harvest);
void nw_harvest_clear(NwHarvest *harvest);

/* Moves findings out of a batch while there is room. */
void nw_harvest_keep(NwHarvest *harvest, GPtrArray *batch);

/* Puts the findings in the order of lists (nw_words_compare), once there are no more. */
void nw_harvest_sort(NwHarvest *harvest);

/* Whether it may be believed: FALSE with NW_SEARCH_ERROR_CONTRADICTED where a check contradicts
 * the search. */
gboolean nw_harvest_check(const NwSearchProgress *progress, GError **error);

/* The finding that is the answer, once they are sorted: the intended assembly if it opens, or
 * where none is intended the first that opens; else NULL. Borrowed. */
const NwFinding *nw_harvest_answer(const NwHarvest *harvest);

/* The same of any findings in the order of lists. */
const NwFinding *nw_findings_answer(const GPtrArray *findings, gboolean has_intended);

#endif
