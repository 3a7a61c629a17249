/* Congruent pieces (design/congruent.h) in words for a person. */
#ifndef NW_TEXT_CONGRUENT_WORDS_H
#define NW_TEXT_CONGRUENT_WORDS_H

#include <glib.h>

#include "design/design.h"

/* "A, C and F are the same shape." for each set of congruent pieces, a sentence a line; NULL if
 * there are none. The caller frees with g_free. */
char *nw_congruent_words(const NwDesign *design);

#endif
