#include "job/background.h"

#include "job/condition.h"

enum { SOON_MILLISECONDS = 100 };

/* ---- the lock ---------------------------------------------------------------------------- */

void nw_background_lock(NwBackground *background) {
    pthread_mutex_lock(&background->lock);
}

void nw_background_unlock(NwBackground *background) {
    pthread_mutex_unlock(&background->lock);
}

NwBackgroundLock *nw_background_hold(NwBackground *background) {
    nw_background_lock(background);
    return background;
}

gboolean nw_background_is_wanted(const NwBackground *background) {
    return !background->leaving;
}

gboolean nw_background_wait(NwBackground *background) {
    if (!background->leaving)
        pthread_cond_wait(&background->changed, &background->lock);
    return !background->leaving;
}

void nw_background_tell_change(NwBackground *background) {
    pthread_cond_broadcast(&background->changed);
}

/* ---- waking the owner -------------------------------------------------------------------- */

static gboolean call_owner(gpointer data) {
    NwBackground *background = data;
    nw_background_lock(background);
    background->source = 0;
    nw_background_unlock(background);
    background->call(background->owner); /* which may free it */
    return G_SOURCE_REMOVE;
}

static void wake_within(NwBackground *background, guint milliseconds) {
    if (!background->call || background->source || background->leaving)
        return;
    background->source =
        milliseconds ? g_timeout_add_full(G_PRIORITY_DEFAULT_IDLE, milliseconds, call_owner,
                                          background, NULL)
                     : g_idle_add_full(G_PRIORITY_DEFAULT_IDLE, call_owner, background, NULL);
}

void nw_background_wake(NwBackground *background) {
    wake_within(background, 0);
}

void nw_background_wake_soon(NwBackground *background) {
    wake_within(background, SOON_MILLISECONDS);
}

/* ---- the thread -------------------------------------------------------------------------- */

gboolean nw_background_is_leaving(NwBackground *background) {
    NW_BACKGROUND_HOLD(background);
    return background->leaving;
}

gboolean nw_background_is_over(NwBackground *background) {
    NW_BACKGROUND_HOLD(background);
    return background->over;
}

static gpointer run(gpointer data) {
    NwBackground *background = data;
    background->work(background->job);
    NW_BACKGROUND_HOLD(background);
    background->over = TRUE;
    nw_background_wake(background);
    nw_background_tell_change(background);
    return NULL;
}

void nw_background_begin(NwBackground *background, const char *name, NwBackgroundWork *work,
                         gpointer job, NwBackgroundCall *call, gpointer owner) {
    *background = (NwBackground){.work = work, .job = job, .call = call, .owner = owner};
    pthread_mutex_init(&background->lock, NULL);
    nw_condition_init(&background->changed);
    background->thread = g_thread_new(name, run, background);
}

gboolean nw_background_await(NwBackground *background, int milliseconds) {
    struct timespec until = nw_condition_deadline(milliseconds);
    NW_BACKGROUND_HOLD(background);
    while (!background->over &&
           pthread_cond_timedwait(&background->changed, &background->lock, &until) == 0)
        continue;
    return background->over;
}

void nw_background_ask_to_leave(NwBackground *background) {
    if (!background->thread)
        return;
    NW_BACKGROUND_HOLD(background);
    background->leaving = TRUE;
    g_clear_handle_id(&background->source, g_source_remove);
    nw_background_tell_change(background);
}

void nw_background_end(NwBackground *background) {
    if (!background->thread)
        return;
    nw_background_ask_to_leave(background);
    g_thread_join(background->thread);
    pthread_cond_destroy(&background->changed);
    pthread_mutex_destroy(&background->lock);
    *background = (NwBackground){NULL};
}
