/* A search in the background: every assembly of a design, each with its verdict.
 *
 * First it is set up (fit/setup.h), in the client's thread and in short steps, so that the client
 * can stop, wait or tell how far it is between two of them. Then one worker thread begins with the
 * whole tree; whenever another one has nothing to do, a busy one gives a part of what it has left
 * away (nw_cover_give). An assembly that turns up is put in a queue and examined by whichever
 * worker is free next, examinations before the tree, so the queue stays short. Findings wait in a
 * batch until the client takes them; however many arrive, at most one wake-up is pending, and when
 * some thousands wait the workers wait too, so memory does not grow with the number of results.
 *
 * The client sees: set up, start, take (batches and progress), pause, go on, stop, save, free.
 * Everything the workers read is a frozen copy of the design. Thread: one client thread; the
 * wake-up is called from a worker and must not call back into the search. */
#ifndef NW_JOB_SEARCH_H
#define NW_JOB_SEARCH_H

#include <glib.h>

#include "assembly/found_assembly.h"
#include "fit/setup.h"

typedef struct NwSearchOptions {
    int threads;        /* 0: one for each processor */
    gboolean fit_only;  /* do not examine */
    gboolean diagonals; /* slides along face diagonals too */
    guint32 max_states; /* for each group of each assembly; 0: NW_STATES_DEFAULT */
    gboolean fewest;    /* look for the fewest slides in all */
    guint64 max_tries;  /* for that, of each assembly; 0: NW_FEWEST_TRIES_DEFAULT */
    guint64 limit;      /* stop after so many assemblies; 0: no limit */
} NwSearchOptions;

typedef enum NwSearchState {
    NW_SEARCH_READY, /* not started, and perhaps not set up */
    NW_SEARCH_RUNNING,
    NW_SEARCH_PAUSED,
    NW_SEARCH_STOPPED,  /* by the client or by `limit`; it can be saved and resumed */
    NW_SEARCH_COMPLETE, /* everything was found and examined */
    NW_SEARCH_FAILED,   /* a check contradicted the search: a fault of this program */
} NwSearchState;

typedef struct NwSearchProgress {
    NwSearchState state;
    NwSetupProgress setup;
    double share;        /* of the search tree, 0 to 1 */
    double seconds;      /* spent, setting up and earlier sessions of a resumed search included */
    double seconds_left; /* below 0 while that means nothing yet */
    guint64 found;       /* assemblies */
    guint64 verdicts[NW_VERDICT_COUNT];
    guint64 cooks; /* open, and not the intended one of a design that has one */
    gboolean intended_opens;
} NwSearchProgress;

typedef struct NwSearch NwSearch;

typedef enum NwSearchError {
    NW_SEARCH_ERROR_DESIGN, /* the design cannot be searched */
    NW_SEARCH_ERROR_RESUME, /* the saved position does not belong to this design */
    NW_SEARCH_ERROR_OLDER,  /* the saved position is one of an earlier version of this program */
    NW_SEARCH_ERROR_CONTRADICTED, /* a check contradicts it: a fault of this program */
} NwSearchError;

#define NW_SEARCH_ERROR (nw_search_error_quark())
GQuark nw_search_error_quark(void);

/* A search that is to be set up; `saved` is NULL or what nw_search_save gave for the same design.
 */
NwSearch *nw_search_begin(const NwDesign *design, const NwSearchOptions *options, GBytes *saved,
                          GError **error);

/* Goes on with setting it up, for some hundredths of a second. NW_STOPPED: call again. NW_OK: it is
 * ready to be started. NW_BAD_RESUME with an error: so it is, but at its beginning, since `saved`
 * cannot be used. Else it cannot be searched, with an error. */
NwStatus nw_search_set_up(NwSearch *search, GError **error);

/* Both at once; NULL with an error also if `saved` cannot be used. */
NwSearch *nw_search_new(const NwDesign *design, const NwSearchOptions *options, GBytes *saved,
                        GError **error);

/* A new one without `saved`, unless `stop`, asked every few hundredths of a second, says so first
 * (NULL: never): then NULL without an error. */
NwSearch *nw_search_new_unless(const NwDesign *design, const NwSearchOptions *options,
                               gboolean (*stop)(void), GError **error);

/* Stops and joins the workers, then frees. NULL is allowed. */
void nw_search_free(NwSearch *search);

/* The fit problem, for its figures; borrowed, read-only; NULL until it is set up. */
const NwFit *nw_search_fit(const NwSearch *search);
int nw_search_threads(const NwSearch *search);

/* Whether the design has an intended assembly that fits; not known until it is set up. */
gboolean nw_search_has_intended(const NwSearch *search);
gboolean nw_search_is_intended(const NwSearch *search, guint64 key);

/* Whether the design intends none, and this is the assembly of its pieces as they are drawn. */
gboolean nw_search_is_drawn(const NwSearch *search, guint64 key);

typedef void NwSearchWake(gpointer data);
void nw_search_set_wake(NwSearch *search, NwSearchWake *wake, gpointer data);

void nw_search_start(NwSearch *search);
void nw_search_pause(NwSearch *search);
void nw_search_go_on(NwSearch *search);

/* Stops; the workers have left when it returns. */
void nw_search_stop(NwSearch *search);

/* An empty array of NwFoundAssembly that frees them. */
GPtrArray *nw_findings_new(void);

/* Waits up to `milliseconds` for findings or for the end, then hands over what there is: an array
 * of NwFoundAssembly that frees them, perhaps empty. The caller unrefs it. */
GPtrArray *nw_search_take(NwSearch *search, int milliseconds);

/* Waits up to `milliseconds` for the end of a search that was started; whether it has ended, or was
 * stopped. */
gboolean nw_search_await(NwSearch *search, int milliseconds);

void nw_search_progress(NwSearch *search, NwSearchProgress *progress);

/* Where the search stands, to be resumed by nw_search_new. Whatever was found before that point
 * has been handed over or is in the next batch, so save first, take then, and store both together.
 * Assemblies not yet examined are inside. Until it is set up, that is where it was begun. The
 * caller unrefs. */
GBytes *nw_search_save(NwSearch *search);

/* The time spent by then, whatever design it was of; 0 if that cannot be read. */
double nw_search_saved_seconds(GBytes *saved);

#endif
