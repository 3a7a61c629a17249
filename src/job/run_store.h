/* A search that is kept: the tie between a search and its run in the store.
 *
 * A run belongs to one version of a design and one set of options that bear on the result. What it
 * found before is loaded, what it finds is saved together with the position it has reached, each
 * time in one transaction; so a killed search goes on from its last save. Two searches may have
 * the same run, in two windows, say: each saves all that it finds, and the last one to save tells
 * where the run stands, but for a complete one. Nothing is lost by that, only found twice.
 * Ownership: a record borrows the library, which must outlive it. Thread: that of the library. */
#ifndef NW_JOB_RUN_STORE_H
#define NW_JOB_RUN_STORE_H

#include "job/search.h"
#include "store/runs.h"

typedef struct NwRunStore NwRunStore;

/* Finds the run of this version and these options. A library that can be written to gets a new run
 * where there is none; otherwise NULL without an error says that there is none. */
NwRunStore *nw_run_store_open(NwLibrary *library, gint64 version, const NwSearchOptions *options,
                              GError **error);

/* The same, but a run that is not there is not begun: NULL without an error. */
NwRunStore *nw_run_store_find(NwLibrary *library, gint64 version, const NwSearchOptions *options,
                              GError **error);
void nw_run_store_free(NwRunStore *record); /* NULL is allowed */

/* Forgets all that the run found, to begin it anew. */
gboolean nw_run_store_restart(NwRunStore *record, GError **error);

/* The run as it was when the record was opened; borrowed. */
const NwRun *nw_run_store_run(const NwRunStore *record);

/* A search of the version's design as the store loads it, to be set up by nw_run_store_set_up. It
 * goes on where the run stands, or begins anew where the position is of no use: one of a complete
 * run (nw_run_store_recall knows more), of the design in other frames, or of an earlier version of
 * this program. Nothing is lost by that, for what is read is not handed over twice. */
NwSearch *nw_run_store_begin_search(const NwRunStore *record, const NwDesign *design,
                                    const NwSearchOptions *options, GError **error);

/* As nw_search_set_up, but a position that is of no use is no error. */
NwStatus nw_run_store_set_up(NwRunStore *record, NwSearch *search, GError **error);

/* Both at once; NULL with an error. */
NwSearch *nw_run_store_new_search(NwRunStore *record, const NwDesign *design,
                                  const NwSearchOptions *options, GError **error);

/* Once it is set up: whether it began anew because an earlier version of this program had saved its
 * position, which is to be told. */
gboolean nw_run_store_was_older(const NwRunStore *record);

/* The next of the earlier findings, some thousand at most: an array of NwFoundAssembly that frees
 * them, and that is empty when there are no more. The intended one is told by its key in `search`.
 * What was found of a design that the store holds unsettled is brought into the frames of the
 * design as it is settled, whichever it was kept in. */
GPtrArray *nw_run_store_read(NwRunStore *record, const NwSearch *search, GError **error);

/* All of them, by key. */
GPtrArray *nw_run_store_load(NwRunStore *record, const NwSearch *search, GError **error);

/* Once all are read: if the run is complete, and all that it found is here, then so is the search,
 * which was not begun yet. */
gboolean nw_run_store_recall(NwRunStore *record, NwSearch *search);

/* Saves where the search stands, and takes its next batch, saved too, without what was read; the
 * caller unrefs *batch, which is set in any case. What could not be saved is saved with the next
 * batch. A library that can only be read is left as it is. */
gboolean nw_run_store_save(NwRunStore *record, NwSearch *search, GPtrArray **batch, GError **error);

/* Keeps a shorter way out of an assembly that the run has found already. */
gboolean nw_run_store_improve(NwRunStore *record, const NwFoundAssembly *finding, GError **error);

#endif
