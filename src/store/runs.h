/* Runs: one search over one version of a design with one set of options, and how far it came.
 *
 * The options are the caller's canonical text (equal options, equal text); the state to resume
 * from is the caller's bytes. A version has at most one run for the same options. Each save is
 * one transaction with all that was found since the one before, so a killed search goes on from
 * its last save, with the assemblies that belong to it.
 * Ownership: what is returned is the caller's. Thread: that of the library; a search in the
 * background opens the store for itself. Failures: library.h. */
#ifndef NW_STORE_RUNS_H
#define NW_STORE_RUNS_H

#include "store/assemblies.h"
#include "store/library.h"

typedef enum NwRunState {
    NW_RUN_OPEN,     /* can go on */
    NW_RUN_COMPLETE, /* all assemblies are found and examined */
    NW_RUN_LIMITED,  /* over, at a limit that was asked for */
} NwRunState;

const char *nw_run_state_name(NwRunState state);
NwRunState nw_run_state_of_name(const char *name); /* NW_RUN_OPEN for any other name */

typedef struct NwRun {
    gint64 id, version;
    char *options;
    NwRunState state;
    double share;          /* how much is done, 0 to 1 */
    gint64 started, saved; /* seconds since 1970 */
    GBytes *resume;        /* NULL for none */
    gint64 found;          /* assemblies in all, and by status: */
    gint64 by_status[NW_STORED_STATUS_COUNT];
} NwRun;

void nw_run_free(NwRun *run);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(NwRun, nw_run_free)

/* A new run, open and with nothing done. ERROR_TAKEN if that version has one with these options:
 * find it and resume it, or remove it first. */
gboolean nw_library_begin_run(NwLibrary *library, gint64 version_id, const char *options,
                              gint64 *run_id, GError **error);

/* What a search has come to since its last save. */
typedef struct NwRunSave {
    NwRunState state;
    double share;
    GBytes *resume;        /* borrowed; NULL: nothing to resume from */
    GPtrArray *assemblies; /* borrowed; NwStoredAssembly, new or known better; NULL for none */
} NwRunSave;

/* An assembly with a known key replaces what was stored, but never an examined one by an
 * unexamined one. Where two search the same run the last to save says where it stands; but a run
 * that is complete stays so, with its position. */
gboolean nw_library_save_run(NwLibrary *library, gint64 run_id, const NwRunSave *save,
                             GError **error);

/* The run, or NULL with no error set if there is none. */
NwRun *nw_library_find_run(NwLibrary *library, gint64 version_id, const char *options,
                           GError **error);

/* Whether the version has a run, by whatever options; FALSE if that cannot be read. Cheap. */
gboolean nw_library_has_run(NwLibrary *library, gint64 version_id);

/* All runs of a version (NwRun, without their bytes to resume from), last saved first. */
GPtrArray *nw_library_list_runs(NwLibrary *library, gint64 version_id, GError **error);

/* Removes a run and its assemblies. */
gboolean nw_library_remove_run(NwLibrary *library, gint64 run_id, GError **error);

#endif
