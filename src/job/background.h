/* Work on a thread of its own, and who owns it in the main loop.
 *
 *     begin   the thread starts
 *     wake    asked for by the work: the owner is called in the main loop. However often it is
 *             asked for, one call is pending at most. The end of the work asks for one too
 *     end     asks the work to leave and waits until it has; the owner is not called any more
 *
 * The work looks some times a second, between two of its steps, whether it is to leave: so `end`
 * takes no longer than a step. Its time is told by the monotonic clock.
 *
 * A job has one inside, and shares one lock with it, which guards whatever both threads touch.
 * It is one of pthread, since ThreadSanitizer does not understand those of GLib. Ownership: all
 * zero before `begin` and after `end`. Thread: `begin` and `end` are called from the main one. */
#ifndef NW_JOB_BACKGROUND_H
#define NW_JOB_BACKGROUND_H

#include <glib.h>
#include <pthread.h>

typedef void NwBackgroundWork(gpointer job);
typedef void NwBackgroundCall(gpointer owner);

/* Read and written by the functions below alone. */
typedef struct NwBackground {
    NwBackgroundWork *work;
    gpointer job;
    NwBackgroundCall *call;
    gpointer owner;
    GThread *thread; /* NULL: not begun */

    pthread_mutex_t lock; /* guards everything below, and what the job shares */
    pthread_cond_t changed;
    gboolean leaving, over;
    guint source; /* the pending call, or 0 */
} NwBackground;

/* Runs work(job) on a thread of that name; call(owner) is what wakes. It may end the work, and free
 * the job. NULL: nobody is called, as where there is no main loop. */
void nw_background_begin(NwBackground *background, const char *name, NwBackgroundWork *work,
                         gpointer job, NwBackgroundCall *call, gpointer owner);

/* Nothing if it was not begun. */
void nw_background_end(NwBackground *background);

/* The first half of `end`, for whoever has to stop something that the work waits for. */
void nw_background_ask_to_leave(NwBackground *background);

/* Waits up to so many milliseconds for the work to be over, and returns whether it is. */
gboolean nw_background_await(NwBackground *background, int milliseconds);
gboolean nw_background_is_over(NwBackground *background);

/* For the work: whether it is to leave. */
gboolean nw_background_is_leaving(NwBackground *background);

/* ---- the lock ---------------------------------------------------------------------------- */

void nw_background_lock(NwBackground *background);
void nw_background_unlock(NwBackground *background);

typedef NwBackground NwBackgroundLock;
NwBackgroundLock *nw_background_hold(NwBackground *background);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(NwBackgroundLock, nw_background_unlock)

/* Takes the lock to the end of the block that this stands in. */
#define NW_BACKGROUND_HOLD(background)                                                             \
    g_autoptr(NwBackgroundLock) nw_held G_GNUC_UNUSED = nw_background_hold(background)

/* Under the lock: asks for a call, at once or some time soon, for what comes many times a second.
 */
void nw_background_wake(NwBackground *background);
void nw_background_wake_soon(NwBackground *background);

/* Under the lock: whether the work is to go on. */
gboolean nw_background_is_wanted(const NwBackground *background);

/* Under the lock: waits until the other side tells a change, or the work is to leave; then the
 * same. */
gboolean nw_background_wait(NwBackground *background);
void nw_background_tell_change(NwBackground *background);

#endif
