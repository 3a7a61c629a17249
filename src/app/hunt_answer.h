/* What a complete search of the window came to, in the words of measures. Thread: the main one. */
#ifndef NW_APP_HUNT_ANSWER_H
#define NW_APP_HUNT_ANSWER_H

#include "app/hunt.h"
#include "make/measures.h"

/* FALSE if the search of the design as it is now is not complete. `answer` is the assembly that is
 * measured (job/harvest.h), a reference for the caller, or NULL if none opens. */
gboolean nw_hunt_answer(NwHunt *hunt, NwTally *tally, NwFindingItem **answer);

/* The same question without the answer. */
gboolean nw_hunt_has_answer(NwHunt *hunt);

#endif
