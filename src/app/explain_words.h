/* What a part does, in sentences. Thread: the main one. */
#ifndef NW_APP_EXPLAIN_WORDS_H
#define NW_APP_EXPLAIN_WORDS_H

#include "app/explainer.h"
#include "app/hunt.h"

/* A few lines; the caller frees. */
char *nw_explain_words(const NwDesign *design, NwHunt *hunt, const NwPartRole *role);

#endif
