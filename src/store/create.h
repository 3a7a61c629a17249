/* A new store, born complete.
 *
 * The whole file is made in memory, written under a passing name, synced, and only then given its
 * real name, which replaces nothing. So there is no moment at which a killed process leaves an
 * empty or a half-made store. (It may leave a file NAME.XXXXXX, which nobody reads.)
 * Thread: any. */
#ifndef NW_STORE_CREATE_H
#define NW_STORE_CREATE_H

#include <glib.h>

/* Makes an empty store at `path`. TRUE also when somebody else has just put a file there. A side
 * file that an earlier store of that name left behind would be taken for the new store's, so it
 * is refused. */
gboolean nw_store_create(const char *path, GError **error);

#endif
