/* Trials in words: how one ended, when it was, and the other way round what a person writes. Times
 * are local. Strings returned are the caller's (g_free). */
#ifndef NW_TEXT_TRIAL_WORDS_H
#define NW_TEXT_TRIAL_WORDS_H

#include "store/trials.h"

/* "12.5 min", "gave up, 40 min", "gave up". */
char *nw_trial_words_result(const NwStoredTrial *trial);

/* "2026-03-01 14:30". */
char *nw_trial_words_time(gint64 tried);

/* "2026-03-01 14:30", "2026-03-01T14:30", or "2026-03-01", which is noon. A time still to come is
 * as good as another. FALSE with an error (G_OPTION_ERROR) that says how to write one. */
gboolean nw_trial_words_read_time(const char *text, gint64 *tried, GError **error);

#endif
