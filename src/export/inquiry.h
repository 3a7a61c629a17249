/* A search that a product or a measure asks for: run to its end in the calling thread, or until it
 * is not wanted any more. It finds its run in the store, where the design is kept in one, over a
 * connection of its own; a search that was complete there is not repeated, one that was not goes
 * on, and what it finds stays in the store even if it is stopped. */
#ifndef NW_EXPORT_INQUIRY_H
#define NW_EXPORT_INQUIRY_H

#include "job/search_results.h"
#include "make/progress.h"
#include "measure/measures.h"

typedef struct NwInquiry {
    const NwDesign *design;
    const char *store; /* its file, or NULL: not kept */
    gint64 version;    /* of the design there; below 0: it could not be saved, and is not kept */
    NwSearchOptions options;
    double seconds; /* stop after so long; 0: no limit. What was found until then is kept */
} NwInquiry;

/* Tells how far it is in the stage that `progress` is in. After TRUE the caller clears `results`,
 * whose findings are in the order of lists. FALSE with an error and nothing to clear: it cannot be
 * searched, may not be believed, or was stopped (G_IO_ERROR_CANCELLED). */
gboolean nw_inquire(const NwInquiry *inquiry, NwProgress *progress, NwSearchResults *results,
                    GError **error);

/* What a search has come to so far, as measures and sheets tell it. */
NwTally nw_tally_of_search(const NwSearchProgress *progress);

#endif
