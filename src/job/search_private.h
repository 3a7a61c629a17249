/* What the workers of a search share, under one lock. Private to src/job. */
#ifndef NW_JOB_SEARCH_PRIVATE_H
#define NW_JOB_SEARCH_PRIVATE_H

#include <pthread.h>

#include "job/search.h"

enum {
    NW_THREADS_MAX = 64,
    NW_BATCH_MAX = 10000, /* findings that wait to be taken before the workers wait too */
};

/* A part of the tree that is not searched yet: where to go on, and its share of the whole. */
typedef struct NwOpen {
    NwPosition position;
    double left;
} NwOpen;

/* One worker, and what it has in hand. */
typedef struct NwWorker {
    NwSearch *search;
    pthread_t thread;
    NwOpen *open;               /* as far as it got by its last slice; NULL: none */
    NwFoundAssembly *examining; /* NULL: none */
} NwWorker;

struct NwSearch {
    /* The client's until the search is started, and fixed from then on. */
    NwSearchOptions options;
    NwFitSetup *setup; /* NULL once it is through */
    GBytes *saved;     /* where to go on after that; NULL: at the beginning */
    NwFit *fit;        /* NULL until then */
    uint64_t fingerprint;
    bool has_intended;
    uint64_t intended_key;
    bool has_first, first_is_drawn; /* the design shows an assembly by itself */
    uint64_t first_key;
    int thread_count;
    NwSearchWake *wake;
    gpointer wake_data;

    pthread_mutex_t lock; /* guards everything below */
    pthread_cond_t changed;
    NwSearchState state;
    bool stopping, wake_pending;
    GQueue open;            /* NwOpen: parts of the tree that no worker has in hand */
    int idle;               /* workers that wait for one */
    GQueue waiting;         /* NwFoundAssembly, to be examined */
    NwFoundAssembly *first; /* the same, of the first look (job/first_look.h); NULL: none */
    bool first_counted, first_turn;
    int first_slices;
    const NwWorker *looker; /* the worker that has it; NULL: none yet */
    GPtrArray *batch;       /* NwFoundAssembly, to be taken */
    NwSearchProgress progress;
    double share_before;   /* at the last start */
    double seconds_before; /* spent in earlier sessions */
    gint64 started;        /* monotonic time of the last start or go-on, 0 while paused */
    NwWorker workers[NW_THREADS_MAX];
    int working; /* workers that have not left */
};

/* The body of a worker thread. */
void *nw_worker_run(void *worker);

/* Under the lock: moves a finding with its verdict to the batch, counts it, and wakes the client.
 * Returns whether a wake-up must be called once the lock is released. */
bool nw_search_post(NwSearch *search, NwFoundAssembly *finding);

/* Under the lock: the time spent is what it is by now, until the search goes on. */
void nw_search_stop_clock(NwSearch *search);

/* Under the lock: reads a saved position; nothing is changed where it cannot be used. */
bool nw_search_restore_progress(NwSearch *search, GBytes *saved, GError **error);

/* Under the lock: nothing is left to be searched. */
void nw_search_close_posts(NwSearch *search);
GBytes *nw_search_save_progress(NwSearch *search);

#endif
