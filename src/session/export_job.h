/* The maker: makes one product at a time on a thread of its own.
 *
 *     idle -> working -> done      files are written
 *                    \-> stopped   as asked; nothing is written
 *                    \-> failed    with a sentence; nothing is written
 *
 * The request holds a copy of the design, so the bench is free while the thread works. Disposing
 * of the maker stops the thread and waits for it.
 *
 * Signals:
 *   "changed"  state or progress is another; of progress some times a second at most
 * Thread: called from the main one. */
#ifndef NW_SESSION_EXPORT_JOB_H
#define NW_SESSION_EXPORT_JOB_H

#include <glib-object.h>

#include "export/export_request.h"

G_BEGIN_DECLS

#define NW_TYPE_EXPORT_JOB (nw_export_job_get_type())
G_DECLARE_FINAL_TYPE(NwExportJob, nw_export_job, NW, EXPORT_JOB, GObject)

typedef enum NwExportState {
    NW_EXPORT_JOB_IDLE,
    NW_EXPORT_JOB_WORKING,
    NW_EXPORT_JOB_DONE,
    NW_EXPORT_JOB_STOPPED,
    NW_EXPORT_JOB_FAILED,
} NwExportState;

NwExportJob *nw_export_job_new(void);

/* Begins; the request is taken over. Not while it works. */
void nw_export_job_start(NwExportJob *self, NwExportRequest *request);

/* Asks the thread to end; it does so at its next look. */
void nw_export_job_stop(NwExportJob *self);

/* Forgets what came of the last request. Not while it works. */
void nw_export_job_forget(NwExportJob *self);

NwExportState nw_export_job_get_state(NwExportJob *self);
gboolean nw_export_job_is_stopping(NwExportJob *self);

/* The share that is done, 0 to 1, and what is being done, which the caller frees. While it works.
 */
double nw_export_job_get_progress(NwExportJob *self, char **what);

/* What it works at or worked at last; borrowed, NULL while idle. */
const NwExportRequest *nw_export_job_get_request(NwExportJob *self);

const NwExportReport *nw_export_job_get_report(NwExportJob *self); /* once it is done; borrowed */
const char *nw_export_job_get_message(NwExportJob *self);          /* why it failed; borrowed */

G_END_DECLS

#endif
