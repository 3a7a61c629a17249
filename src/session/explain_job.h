/* Finding out in the background what a part does (cook/explain.h). It can be given up at any time.
 * Ownership: `free` stops and joins. Thread: called from the main one. */
#ifndef NW_SESSION_EXPLAIN_JOB_H
#define NW_SESSION_EXPLAIN_JOB_H

#include <glib.h>

#include "cook/explain.h"

typedef struct NwExplainJob NwExplainJob;

/* What was found out. */
typedef struct NwPartRole {
    NwStatus status; /* NW_NONE: all below is known; else why it could not be found out */
    NwPart part;
    int piece;
    gboolean may_be_empty, holds, idle;
    gboolean opened, opens; /* the intended assembly, with the part and without */
    int level_before, level, total;
    gsize new_cooks, undecided;
    GArray *revived; /* guint64: keys of known assemblies that would come apart */
} NwPartRole;

/* Called once in the main loop, when it is known. */
typedef void NwExplainCall(const NwPartRole *role, gpointer data);

/* `founds` is taken over and emptied: what a complete search knows, or nothing. */
NwExplainJob *nw_explain_job_new(const NwDesign *design, NwBaselineOptions options,
                                 NwFounds *founds, NwPart part, NwExplainCall *call, gpointer data);
void nw_explain_job_free(NwExplainJob *job); /* NULL is allowed */

#endif
