/* How far the block session is, in sentences. Strings are the caller's (g_free). Thread: the main
 * one. */
#ifndef NW_SESSION_BLOCK_WORDS_H
#define NW_SESSION_BLOCK_WORDS_H

#include "session/block_session.h"

/* "Being checked: single changes, 12 of 40 settled", or how it ended. */
char *nw_block_words_status(NwBlockSession *session);

/* "3 break a piece into lumps, 2 lock the intended assembly", or NULL if none missed. */
char *nw_block_words_missed(NwBlockSession *session);

/* The near misses one by one, up to `most` of them, a line each: what was changed, what broke. */
char *nw_block_words_misses(NwBlockSession *session, const NwDesign *design, int axis, guint most);

#endif
