#include "make/progress.h"

#include <gio/gio.h>
#include <glib/gi18n.h>
#include <pthread.h>

struct NwProgress {
    NwProgressWatch *watch; /* NULL: nobody watches */
    gpointer watch_data;
    pthread_mutex_t lock;
    double from, to;           /* of the stage */
    double part_from, part_to; /* of the part of it that is told of */
    double share;
    gboolean stopped;
    char *what;
};

NwProgress *nw_progress_new(void) {
    NwProgress *progress = g_new0(NwProgress, 1);
    pthread_mutex_init(&progress->lock, NULL);
    progress->what = g_strdup("");
    return progress;
}

void nw_progress_free(NwProgress *progress) {
    if (!progress)
        return;
    pthread_mutex_destroy(&progress->lock);
    g_free(progress->what);
    g_free(progress);
}

void nw_progress_watch(NwProgress *progress, NwProgressWatch *watch, gpointer data) {
    progress->watch = watch;
    progress->watch_data = data;
}

/* Takes the lock off. Returns whether to go on. */
static gboolean tell(NwProgress *progress, gboolean moved) {
    gboolean go_on = !progress->stopped;
    pthread_mutex_unlock(&progress->lock);
    if (moved && progress->watch)
        progress->watch(progress->watch_data);
    return go_on;
}

gboolean nw_progress_stage(NwProgress *progress, const char *what, double from, double to) {
    if (!progress)
        return TRUE;
    pthread_mutex_lock(&progress->lock);
    g_free(progress->what);
    progress->what = g_strdup(what);
    progress->from = progress->part_from = progress->share = from;
    progress->to = progress->part_to = to;
    return tell(progress, TRUE);
}

gboolean nw_progress_part(NwProgress *progress, double from, double to) {
    if (!progress)
        return TRUE;
    pthread_mutex_lock(&progress->lock);
    double length = progress->to - progress->from;
    progress->part_from = progress->share = progress->from + from * length;
    progress->part_to = progress->from + to * length;
    return tell(progress, TRUE);
}

gboolean nw_progress_tell(NwProgress *progress, double share) {
    if (!progress)
        return TRUE;
    pthread_mutex_lock(&progress->lock);
    double before = progress->share;
    progress->share =
        progress->part_from + CLAMP(share, 0, 1) * (progress->part_to - progress->part_from);
    return tell(progress, progress->share > before || progress->share < before);
}

gboolean nw_progress_is_stopped(NwProgress *progress) {
    if (!progress)
        return FALSE;
    pthread_mutex_lock(&progress->lock);
    gboolean stopped = progress->stopped;
    pthread_mutex_unlock(&progress->lock);
    return stopped;
}

gboolean nw_progress_set_error(GError **error) {
    g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_CANCELLED, _("stopped; nothing was written"));
    return FALSE;
}

double nw_progress_get(NwProgress *progress, char **what) {
    pthread_mutex_lock(&progress->lock);
    double share = progress->share;
    if (what)
        *what = g_strdup(progress->what);
    pthread_mutex_unlock(&progress->lock);
    return share;
}

void nw_progress_stop(NwProgress *progress) {
    pthread_mutex_lock(&progress->lock);
    progress->stopped = TRUE;
    pthread_mutex_unlock(&progress->lock);
}
