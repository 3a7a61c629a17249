/* How far a product has come, and whether it is still wanted: the one thing that a thread which
 * makes something and a thread which waits for it share.
 *
 * Whoever makes goes through stages, each a share of the whole, and tells at good moments how much
 * of the stage is done; the answer is whether to go on. Told some thousand times a second at most,
 * it costs nothing that matters. Everywhere NULL stands for one that nobody watches.
 * Thread: any. */
#ifndef NW_MAKE_PROGRESS_H
#define NW_MAKE_PROGRESS_H

#include <glib.h>

typedef struct NwProgress NwProgress;

NwProgress *nw_progress_new(void);
void nw_progress_free(NwProgress *progress); /* NULL is allowed */

/* ---- for the maker ----------------------------------------------------------------------- */

/* Begins the stage that goes from one share of the whole to another, 0 to 1. `what` says in the
 * language of the user what is done, a few words that are copied. FALSE: stop. */
gboolean nw_progress_stage(NwProgress *progress, const char *what, double from, double to);

/* What is told from here on is of a part of the stage, from one share of it to another; until the
 * next part or stage. FALSE: stop. */
gboolean nw_progress_part(NwProgress *progress, double from, double to);

/* How much of the stage, or of its part, is done, 0 to 1. FALSE: stop. */
gboolean nw_progress_tell(NwProgress *progress, double share);

/* Whether to stop. */
gboolean nw_progress_is_stopped(NwProgress *progress);

/* Sets G_IO_ERROR_CANCELLED, for a maker that gives up since it was stopped. Returns FALSE. */
gboolean nw_progress_set_error(GError **error);

/* ---- for who waits ----------------------------------------------------------------------- */

/* The share of the whole, and what is being done ("" before the first stage; the caller frees). */
double nw_progress_get(NwProgress *progress, char **what);

void nw_progress_stop(NwProgress *progress);

/* Called in the thread of the maker whenever either is another. Set before that begins. */
typedef void NwProgressWatch(gpointer data);
void nw_progress_watch(NwProgress *progress, NwProgressWatch *watch, gpointer data);

#endif
