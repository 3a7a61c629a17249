/* Messages of the lower tiers as whole sentences, as the window shows them: they begin small and
 * end without a stop, since the command line puts "notch: " before them. */
#ifndef NW_TEXT_SENTENCE_H
#define NW_TEXT_SENTENCE_H

#include <glib.h>

/* With a capital and a full stop; the caller frees it (g_free). NULL gives NULL. */
char *nw_sentence_of(const char *message);

#endif
