/* The counsel: a thread between an advisor (cook/advisor.h) and the main loop.
 *
 * It makes the advisor, steps it, and lays proposals in a tray as rows; however many arrive, one
 * wake-up is pending at most. After `NW_COUNSEL_BATCH` proposals it pauses by itself until it is
 * told to go on, so a list of pairs does not grow without end.
 *
 * Where it stands is kept in the store (job/advice_record.h), through a connection of its own:
 * every few seconds, and when it pauses or ends. What an earlier session found for the same
 * question comes first into the tray, all at once, and it goes on from there.
 *
 *     preparing  ->  working <-> paused  ->  done
 *              \->  failed
 *
 * Ownership: `free` stops and joins; one that still prepares is left to end by itself. Thread:
 * called from the main one. */
#ifndef NW_APP_COUNSEL_H
#define NW_APP_COUNSEL_H

#include <glib.h>

#include "app/advice.h"

enum { NW_COUNSEL_BATCH = 60 };

typedef struct NwCounsel NwCounsel;

typedef enum NwCounselState {
    NW_COUNSEL_PREPARING,
    NW_COUNSEL_WORKING,
    NW_COUNSEL_PAUSED,
    NW_COUNSEL_DONE, /* nothing within the bounds was left out */
    NW_COUNSEL_FAILED,
} NwCounselState;

/* Called in the main loop when there is something to take or another state. */
typedef void NwCounselCall(gpointer data);

/* Begins at once. The design is version `version` in the store at `path`. `founds` is taken over
 * and emptied: what a complete search knows, or nothing. */
NwCounsel *nw_counsel_new(const NwDesign *design, const char *path, gint64 version,
                          const NwAdvisorOptions *options, NwFounds *founds, NwCounselCall *call,
                          gpointer data);

/* Keeps where it stands first. NULL is allowed. */
void nw_counsel_free(NwCounsel *counsel);

void nw_counsel_go(NwCounsel *counsel);
void nw_counsel_pause(NwCounsel *counsel);

NwCounselState nw_counsel_get_state(NwCounsel *counsel);
NwStatus nw_counsel_get_status(NwCounsel *counsel); /* why it failed */
void nw_counsel_progress(NwCounsel *counsel, NwAdvisorProgress *progress);

/* Why it cannot be kept, or NULL; the caller frees. */
char *nw_counsel_dup_trouble(NwCounsel *counsel);

/* The candidate that is looked into; FALSE if none is. */
gboolean nw_counsel_get_front(NwCounsel *counsel, NwFront *front);

/* Takes the rows from the tray: NwAdvice, an array that unrefs them. */
GPtrArray *nw_counsel_take(NwCounsel *counsel);

/* NwMiss, those met so far; the caller unrefs. */
GArray *nw_counsel_dup_misses(NwCounsel *counsel);

#endif
