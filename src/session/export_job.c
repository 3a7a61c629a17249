#include "session/export_job.h"

#include <gio/gio.h>

#include "job/background.h"

struct _NwExportJob {
    GObject parent;
    NwExportState state;
    NwExportRequest *request; /* the thread's while it works */
    NwProgress *progress;
    gboolean stopping;
    NwBackground background; /* begun while it works */

    /* The thread's until that is over. */
    NwExportReport *report;
    GError *error;
};

G_DEFINE_FINAL_TYPE(NwExportJob, nw_export_job, G_TYPE_OBJECT)

enum { CHANGED, SIGNALS };
static guint signals[SIGNALS];

static void make(gpointer data) {
    NwExportJob *self = data;
    self->report = nw_export_request_make(self->request, self->progress, &self->error);
}

static void on_moved(gpointer data) {
    NwExportJob *self = data;
    NW_BACKGROUND_HOLD(&self->background);
    nw_background_wake_soon(&self->background);
}

static NwExportState outcome(NwExportJob *self) {
    if (self->report)
        return NW_EXPORT_JOB_DONE;
    return g_error_matches(self->error, G_IO_ERROR, G_IO_ERROR_CANCELLED) ? NW_EXPORT_JOB_STOPPED
                                                                          : NW_EXPORT_JOB_FAILED;
}

static void on_news(gpointer data) {
    NwExportJob *self = data;
    if (nw_background_is_over(&self->background)) {
        nw_background_end(&self->background);
        g_clear_pointer(&self->progress, nw_progress_free);
        self->state = outcome(self);
    }
    g_signal_emit(self, signals[CHANGED], 0);
}

static void clear(NwExportJob *self) {
    g_clear_pointer(&self->request, nw_export_request_free);
    g_clear_pointer(&self->report, nw_export_report_free);
    g_clear_error(&self->error);
    self->stopping = FALSE;
    self->state = NW_EXPORT_JOB_IDLE;
}

void nw_export_job_start(NwExportJob *self, NwExportRequest *request) {
    g_return_if_fail(self->state != NW_EXPORT_JOB_WORKING);
    clear(self);
    self->request = request;
    self->progress = nw_progress_new();
    self->state = NW_EXPORT_JOB_WORKING;
    nw_progress_watch(self->progress, on_moved, self);
    nw_background_begin(&self->background, "export", make, self, on_news, self);
    g_signal_emit(self, signals[CHANGED], 0);
}

void nw_export_job_stop(NwExportJob *self) {
    if (self->state != NW_EXPORT_JOB_WORKING || self->stopping)
        return;
    self->stopping = TRUE;
    nw_progress_stop(self->progress);
    g_signal_emit(self, signals[CHANGED], 0);
}

void nw_export_job_forget(NwExportJob *self) {
    g_return_if_fail(self->state != NW_EXPORT_JOB_WORKING);
    clear(self);
    g_signal_emit(self, signals[CHANGED], 0);
}

NwExportState nw_export_job_get_state(NwExportJob *self) {
    return self->state;
}

gboolean nw_export_job_is_stopping(NwExportJob *self) {
    return self->stopping;
}

double nw_export_job_get_progress(NwExportJob *self, char **what) {
    return nw_progress_get(self->progress, what);
}

const NwExportRequest *nw_export_job_get_request(NwExportJob *self) {
    return self->request;
}

const NwExportReport *nw_export_job_get_report(NwExportJob *self) {
    return self->state == NW_EXPORT_JOB_DONE ? self->report : NULL;
}

const char *nw_export_job_get_message(NwExportJob *self) {
    return self->state == NW_EXPORT_JOB_FAILED ? self->error->message : NULL;
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_export_job_dispose(GObject *object) {
    NwExportJob *self = NW_EXPORT_JOB(object);
    if (self->progress)
        nw_progress_stop(self->progress);
    nw_background_end(&self->background);
    g_clear_pointer(&self->progress, nw_progress_free);
    clear(self);
    G_OBJECT_CLASS(nw_export_job_parent_class)->dispose(object);
}

static void nw_export_job_class_init(NwExportJobClass *class) {
    G_OBJECT_CLASS(class)->dispose = nw_export_job_dispose;
    signals[CHANGED] = g_signal_new("changed", NW_TYPE_EXPORT_JOB, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 0);
}

static void nw_export_job_init(NwExportJob *self) {
    (void)self;
}

NwExportJob *nw_export_job_new(void) {
    return g_object_new(NW_TYPE_EXPORT_JOB, NULL);
}
