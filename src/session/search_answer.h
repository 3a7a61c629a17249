/* What a complete search of the window came to, in the words of measures. Thread: the main one. */
#ifndef NW_SESSION_SEARCH_ANSWER_H
#define NW_SESSION_SEARCH_ANSWER_H

#include "measure/measures.h"
#include "session/search_session.h"

/* FALSE if the search of the design as it is now is not complete. `answer` is the assembly that is
 * measured (job/search_results.h), a reference for the caller, or NULL if none opens. */
gboolean nw_search_session_answer(NwSearchSession *session, NwTally *tally,
                                  NwAssemblyItem **answer);

/* The same question without the answer. */
gboolean nw_search_session_has_answer(NwSearchSession *session);

#endif
