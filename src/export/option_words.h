/* Refusals name an option as the command line does, "--cell-mm"; the window has no such thing.
 *
 * Whoever makes a product writes its sentences once, for both: with the name. The command line
 * shows them as they are, and the window puts the label of the option there. Cost: one pass over
 * the sentence. Thread: any. */
#ifndef NW_EXPORT_OPTION_WORDS_H
#define NW_EXPORT_OPTION_WORDS_H

#include "export/product.h"

/* The sentence with the label, in quotes, in place of each "--name" that is an option of the
 * product; other words stay. The caller frees. */
char *nw_option_words_dup_for_window(const NwProduct *product, const char *sentence);

#endif
