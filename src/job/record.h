/* A search that is kept: the tie between a search and its run in the store.
 *
 * A run belongs to one version of a design and one set of options that bear on the result. What it
 * found before is loaded, what it finds is saved together with the position it has reached, each
 * time in one transaction; so a killed search goes on from its last save. Two searches may have
 * the same run, in two windows, say: each saves all that it finds, and the last one to save tells
 * where the run stands, but for a complete one. Nothing is lost by that, only found twice.
 * Ownership: a record borrows the library, which must outlive it. Thread: that of the library. */
#ifndef NW_JOB_RECORD_H
#define NW_JOB_RECORD_H

#include "job/search.h"
#include "store/runs.h"

typedef struct NwRecord NwRecord;

/* Finds the run of this version and these options. A library that can be written to gets a new run
 * where there is none; otherwise NULL without an error says that there is none. */
NwRecord *nw_record_open(NwLibrary *library, gint64 version, const NwSearchOptions *options,
                         GError **error);

/* The same, but a run that is not there is not begun: NULL without an error. */
NwRecord *nw_record_find(NwLibrary *library, gint64 version, const NwSearchOptions *options,
                         GError **error);
void nw_record_free(NwRecord *record); /* NULL is allowed */

/* Forgets all that the run found, to begin it anew. */
gboolean nw_record_restart(NwRecord *record, GError **error);

/* The run as it was when the record was opened; borrowed. */
const NwRun *nw_record_run(const NwRecord *record);

/* The earlier findings, by key: an array of NwFinding that frees them. The intended one is told by
 * its key in `search`. */
GPtrArray *nw_record_load(NwRecord *record, const NwSearch *search, GError **error);

/* Saves where the search stands, and takes its next batch, saved too, without what was loaded; the
 * caller unrefs *batch, which is set in any case. What could not be saved is saved with the next
 * batch. A library that can only be read is left as it is. */
gboolean nw_record_save(NwRecord *record, NwSearch *search, GPtrArray **batch, GError **error);

#endif
