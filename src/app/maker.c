#include "app/maker.h"

#include <gio/gio.h>

enum { LOOK_MILLISECONDS = 60 };

struct _NwMaker {
    GObject parent;
    NwMakerState state;
    NwCommission *commission; /* the thread's while it works */
    NwProgress *progress;
    gboolean stopping;
    guint looking; /* the source of the main loop while it works */

    /* The thread's until `ended` is set. */
    GThread *thread;
    int ended;
    NwMade *made;
    GError *error;
};

G_DEFINE_FINAL_TYPE(NwMaker, nw_maker, G_TYPE_OBJECT)

enum { CHANGED, SIGNALS };
static guint signals[SIGNALS];

static gpointer run(gpointer data) {
    NwMaker *self = data;
    self->made = nw_commission_make(self->commission, self->progress, &self->error);
    g_atomic_int_set(&self->ended, TRUE);
    return NULL;
}

static NwMakerState outcome(NwMaker *self) {
    if (self->made)
        return NW_MAKER_DONE;
    return g_error_matches(self->error, G_IO_ERROR, G_IO_ERROR_CANCELLED) ? NW_MAKER_STOPPED
                                                                          : NW_MAKER_FAILED;
}

static gboolean look(gpointer data) {
    NwMaker *self = data;
    gboolean works = !g_atomic_int_get(&self->ended);
    if (!works) {
        g_clear_pointer(&self->thread, g_thread_join);
        g_clear_pointer(&self->progress, nw_progress_free);
        self->state = outcome(self);
        self->looking = 0;
    }
    g_signal_emit(self, signals[CHANGED], 0);
    return works ? G_SOURCE_CONTINUE : G_SOURCE_REMOVE;
}

static void clear(NwMaker *self) {
    g_clear_pointer(&self->commission, nw_commission_free);
    g_clear_pointer(&self->made, nw_made_free);
    g_clear_error(&self->error);
    self->stopping = FALSE;
    self->state = NW_MAKER_IDLE;
}

void nw_maker_start(NwMaker *self, NwCommission *commission) {
    g_return_if_fail(self->state != NW_MAKER_WORKING);
    clear(self);
    self->commission = commission;
    self->progress = nw_progress_new();
    self->state = NW_MAKER_WORKING;
    self->ended = FALSE;
    self->thread = g_thread_new("maker", run, self);
    self->looking = g_timeout_add(LOOK_MILLISECONDS, look, self);
    g_signal_emit(self, signals[CHANGED], 0);
}

void nw_maker_stop(NwMaker *self) {
    if (self->state != NW_MAKER_WORKING || self->stopping)
        return;
    self->stopping = TRUE;
    nw_progress_stop(self->progress);
    g_signal_emit(self, signals[CHANGED], 0);
}

void nw_maker_forget(NwMaker *self) {
    g_return_if_fail(self->state != NW_MAKER_WORKING);
    clear(self);
    g_signal_emit(self, signals[CHANGED], 0);
}

NwMakerState nw_maker_get_state(NwMaker *self) {
    return self->state;
}

gboolean nw_maker_is_stopping(NwMaker *self) {
    return self->stopping;
}

double nw_maker_get_progress(NwMaker *self, char **what) {
    return nw_progress_get(self->progress, what);
}

const NwCommission *nw_maker_get_commission(NwMaker *self) {
    return self->commission;
}

const NwMade *nw_maker_get_made(NwMaker *self) {
    return self->state == NW_MAKER_DONE ? self->made : NULL;
}

const char *nw_maker_get_message(NwMaker *self) {
    return self->state == NW_MAKER_FAILED ? self->error->message : NULL;
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_maker_dispose(GObject *object) {
    NwMaker *self = NW_MAKER(object);
    g_clear_handle_id(&self->looking, g_source_remove);
    if (self->thread)
        nw_progress_stop(self->progress);
    g_clear_pointer(&self->thread, g_thread_join);
    g_clear_pointer(&self->progress, nw_progress_free);
    clear(self);
    G_OBJECT_CLASS(nw_maker_parent_class)->dispose(object);
}

static void nw_maker_class_init(NwMakerClass *class) {
    G_OBJECT_CLASS(class)->dispose = nw_maker_dispose;
    signals[CHANGED] = g_signal_new("changed", NW_TYPE_MAKER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 0);
}

static void nw_maker_init(NwMaker *self) {
    (void)self;
}

NwMaker *nw_maker_new(void) {
    return g_object_new(NW_TYPE_MAKER, NULL);
}
