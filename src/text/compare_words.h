/* What has changed between two versions of a design, in sentences. Thread: any. */
#ifndef NW_TEXT_COMPARE_WORDS_H
#define NW_TEXT_COMPARE_WORDS_H

#include <glib.h>

#include "design/design.h"

/* One line for each change, from `before` to `after`; the caller frees. */
char *nw_compare_words(const NwDesign *before, const NwDesign *after);

#endif
