/* Looks out for changes that others make to the store: another window, or the command.
 *
 * The folder is watched, since SQLite writes into a file beside the store first. Changes that come
 * together are told once; one's own are told too. Thread: the main one. */
#ifndef NW_SESSION_STORE_WATCH_H
#define NW_SESSION_STORE_WATCH_H

#include <gio/gio.h>

typedef struct NwStoreWatch NwStoreWatch;

typedef void NwStoreWatchCall(gpointer data);

/* Where nothing can be watched (a strange file system, say), nothing is ever told. */
NwStoreWatch *nw_store_watch_new(const char *path, NwStoreWatchCall *call, gpointer data);
void nw_store_watch_free(NwStoreWatch *watch); /* NULL is allowed */

#endif
