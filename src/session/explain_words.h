/* What a part does, in sentences. Thread: the main one. */
#ifndef NW_SESSION_EXPLAIN_WORDS_H
#define NW_SESSION_EXPLAIN_WORDS_H

#include "session/explain_job.h"
#include "session/search_session.h"

/* A few lines; the caller frees. */
char *nw_explain_words(const NwDesign *design, NwSearchSession *session, const NwPartRole *role);

#endif
