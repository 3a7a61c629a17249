#include "job/search.h"

#include <stdlib.h>

#include "base/memory.h"
#include "job/condition.h"
#include "job/first_look.h"

/* Effort of a step of setting up: some hundredths of a second. */
enum { SETUP_EFFORT = 10000 };

G_DEFINE_QUARK(nw_search_error, nw_search_error)

static int thread_count(const NwSearchOptions *options) {
    int wanted = options->threads > 0 ? options->threads : (int)g_get_num_processors();
    return CLAMP(wanted, 1, NW_THREADS_MAX);
}

static const char *refusal(NwStatus status, const NwDesign *design) {
    if (status == NW_EMPTY)
        return design->piece_count ? "the envelope has no parts: give it some cells"
                                   : "the design has no pieces: draw at least one";
    if (status == NW_TOO_MANY)
        return "the design is too large to search: use fewer parts, pieces or copies";
    return nw_status_text(status);
}

static void free_finding(gpointer finding) {
    nw_found_assembly_free(finding);
}

GPtrArray *nw_findings_new(void) {
    return g_ptr_array_new_with_free_func(free_finding);
}

NwSearch *nw_search_begin(const NwDesign *design, const NwSearchOptions *options, GBytes *saved,
                          GError **error) {
    NwFitSetup *setup;
    NwStatus status = nw_fit_setup_new(design, (NwFitOptions){0}, &setup);
    if (status != NW_OK) {
        g_set_error(error, NW_SEARCH_ERROR, NW_SEARCH_ERROR_DESIGN, "%s", refusal(status, design));
        return NULL;
    }
    NwSearch *search = nw_alloc(1, sizeof *search);
    search->options = *options;
    if (!search->options.max_states)
        search->options.max_states = NW_STATES_DEFAULT;
    search->setup = setup;
    search->progress.setup = nw_fit_setup_progress(setup);
    search->saved = saved ? g_bytes_ref(saved) : NULL;
    search->thread_count = thread_count(options);
    pthread_mutex_init(&search->lock, NULL);
    nw_condition_init(&search->changed);
    search->batch = nw_findings_new();
    g_queue_init(&search->open);
    g_queue_init(&search->waiting);
    return search;
}

/* The whole tree waits for a worker. */
static void open_tree(NwSearch *search) {
    NwCover *cover = nw_cover_new(search->fit->matrix);
    NwOpen *open = nw_alloc(1, sizeof *open);
    nw_cover_save(cover, &open->position);
    open->left = nw_cover_left(cover);
    if (open->position.length > 0)
        g_queue_push_tail(&search->open, open);
    else
        free(open);
    nw_cover_free(cover);
}

/* The fit is there: what follows from it, and where to go on. */
static NwStatus settle(NwSearch *search, GError **error) {
    NwAssembly intended;
    search->has_intended = nw_fit_intended(search->fit, &intended) == NW_OK;
    search->intended_key = search->has_intended ? intended.key : 0;
    search->fingerprint = nw_matrix_fingerprint(search->fit->matrix);
    nw_first_look_find(search);
    GBytes *saved = search->saved;
    double spent = search->seconds_before;
    search->seconds_before = 0;
    search->saved = NULL;
    bool good = !saved || nw_search_restore_progress(search, saved, error);
    search->seconds_before += spent;
    if (!saved || !good)
        open_tree(search);
    nw_first_look_begin(search);
    if (saved)
        g_bytes_unref(saved);
    return good ? NW_OK : NW_BAD_RESUME;
}

NwStatus nw_search_set_up(NwSearch *search, GError **error) {
    if (search->fit)
        return NW_OK;
    gint64 begun = g_get_monotonic_time();
    NwFit *fit;
    NwStatus status = nw_fit_setup_step(search->setup, SETUP_EFFORT, &fit);
    if (status != NW_OK && status != NW_STOPPED)
        g_set_error(error, NW_SEARCH_ERROR, NW_SEARCH_ERROR_DESIGN, "%s", refusal(status, NULL));
    pthread_mutex_lock(&search->lock);
    search->progress.setup = nw_fit_setup_progress(search->setup);
    if (status == NW_OK) {
        search->fit = fit;
        nw_fit_setup_free(search->setup);
        search->setup = NULL;
        status = settle(search, error);
    }
    search->seconds_before += (double)(g_get_monotonic_time() - begun) / 1e6;
    pthread_mutex_unlock(&search->lock);
    return status;
}

NwSearch *nw_search_new_unless(const NwDesign *design, const NwSearchOptions *options,
                               gboolean (*stop)(void), GError **error) {
    NwSearch *search = nw_search_begin(design, options, NULL, error);
    NwStatus status = NW_STOPPED;
    while (search && status == NW_STOPPED && !(stop && stop()))
        status = nw_search_set_up(search, error);
    if (status != NW_OK)
        g_clear_pointer(&search, nw_search_free);
    return search;
}

NwSearch *nw_search_new(const NwDesign *design, const NwSearchOptions *options, GBytes *saved,
                        GError **error) {
    NwSearch *search = nw_search_begin(design, options, saved, error);
    NwStatus status = NW_STOPPED;
    while (search && status == NW_STOPPED)
        status = nw_search_set_up(search, error);
    if (search && status == NW_OK)
        return search;
    nw_search_free(search);
    return NULL;
}

const NwFit *nw_search_fit(const NwSearch *search) {
    return search->fit;
}

int nw_search_threads(const NwSearch *search) {
    return search->thread_count;
}

gboolean nw_search_has_intended(const NwSearch *search) {
    return search->has_intended;
}

gboolean nw_search_is_intended(const NwSearch *search, guint64 key) {
    return search->has_intended && key == search->intended_key;
}

gboolean nw_search_is_drawn(const NwSearch *search, guint64 key) {
    return search->first_is_drawn && key == search->first_key;
}

void nw_search_set_wake(NwSearch *search, NwSearchWake *wake, gpointer data) {
    search->wake = wake;
    search->wake_data = data;
}

/* ---- time and share, under the lock ------------------------------------------------------ */

static double seconds_running(const NwSearch *search) {
    return search->started ? (double)(g_get_monotonic_time() - search->started) / 1e6 : 0;
}

static double share_done(const NwSearch *search) {
    double left = search->fit ? 0 : 1;
    for (const GList *link = search->open.head; link; link = link->next)
        left += ((const NwOpen *)link->data)->left;
    for (int i = 0; i < search->thread_count; i++)
        if (search->workers[i].open)
            left += search->workers[i].open->left;
    return MAX(1 - left, 0);
}

/* An estimate needs a second of work and a fiftieth of the tree behind it. */
static double seconds_left(const NwSearch *search, double share) {
    double spent = seconds_running(search), gained = share - search->share_before;
    if (spent < 1 || gained < 0.02)
        return -1;
    return spent * (1 - share) / gained;
}

static void start_clock(NwSearch *search) {
    search->started = g_get_monotonic_time();
    search->share_before = share_done(search);
}

void nw_search_stop_clock(NwSearch *search) {
    search->seconds_before += seconds_running(search);
    search->started = 0;
}

void nw_search_progress(NwSearch *search, NwSearchProgress *progress) {
    pthread_mutex_lock(&search->lock);
    bool ended = !search->working;
    *progress = search->progress;
    progress->state = search->state;
    progress->share = search->state == NW_SEARCH_COMPLETE ? 1 : MIN(share_done(search), 0.9999);
    progress->seconds = search->seconds_before + seconds_running(search);
    progress->seconds_left = ended ? -1 : seconds_left(search, progress->share);
    pthread_mutex_unlock(&search->lock);
}

/* ---- control ----------------------------------------------------------------------------- */

void nw_search_start(NwSearch *search) {
    pthread_mutex_lock(&search->lock);
    if (search->state == NW_SEARCH_READY && search->fit) {
        search->state = NW_SEARCH_RUNNING;
        search->working = search->thread_count;
        for (int i = 0; i < search->thread_count; i++)
            search->workers[i] = (NwWorker){.search = search};
        start_clock(search);
        for (int i = 0; i < search->thread_count; i++)
            if (pthread_create(&search->workers[i].thread, NULL, nw_worker_run,
                               &search->workers[i]) != 0)
                g_error("cannot start a thread");
    }
    pthread_mutex_unlock(&search->lock);
}

void nw_search_pause(NwSearch *search) {
    pthread_mutex_lock(&search->lock);
    if (search->state == NW_SEARCH_RUNNING) {
        search->state = NW_SEARCH_PAUSED;
        nw_search_stop_clock(search);
    }
    pthread_mutex_unlock(&search->lock);
}

void nw_search_go_on(NwSearch *search) {
    pthread_mutex_lock(&search->lock);
    if (search->state == NW_SEARCH_PAUSED) {
        search->state = NW_SEARCH_RUNNING;
        start_clock(search);
        pthread_cond_broadcast(&search->changed);
    }
    pthread_mutex_unlock(&search->lock);
}

void nw_search_stop(NwSearch *search) {
    pthread_mutex_lock(&search->lock);
    search->stopping = true;
    pthread_cond_broadcast(&search->changed);
    pthread_mutex_unlock(&search->lock);
    for (int i = 0; i < search->thread_count; i++)
        if (search->workers[i].search) {
            pthread_join(search->workers[i].thread, NULL);
            search->workers[i].search = NULL;
        }
    pthread_mutex_lock(&search->lock);
    nw_search_stop_clock(search);
    pthread_mutex_unlock(&search->lock);
}

void nw_search_free(NwSearch *search) {
    if (!search)
        return;
    nw_search_stop(search);
    for (int i = 0; i < search->thread_count; i++) {
        nw_found_assembly_free(search->workers[i].examining);
        free(search->workers[i].open);
    }
    g_queue_clear_full(&search->open, free);
    g_queue_clear_full(&search->waiting, free_finding);
    nw_first_look_drop(search);
    g_ptr_array_unref(search->batch);
    pthread_mutex_destroy(&search->lock);
    pthread_cond_destroy(&search->changed);
    if (search->saved)
        g_bytes_unref(search->saved);
    nw_fit_setup_free(search->setup);
    nw_fit_free(search->fit);
    free(search);
}

/* ---- findings ---------------------------------------------------------------------------- */

bool nw_search_post(NwSearch *search, NwFoundAssembly *finding) {
    NwSearchProgress *progress = &search->progress;
    progress->verdicts[finding->verdict]++;
    if (finding->verdict == NW_OPENS) {
        if (finding->intended)
            progress->intended_opens = TRUE;
        else if (search->has_intended)
            progress->cooks++;
    }
    g_ptr_array_add(search->batch, finding);
    if (search->batch->len == 1)
        pthread_cond_broadcast(&search->changed);
    bool wake = !search->wake_pending;
    search->wake_pending = true;
    return wake;
}

GPtrArray *nw_search_take(NwSearch *search, int milliseconds) {
    struct timespec deadline = nw_condition_deadline(milliseconds);
    pthread_mutex_lock(&search->lock);
    while (!search->batch->len && search->working)
        if (pthread_cond_timedwait(&search->changed, &search->lock, &deadline) != 0)
            break;
    GPtrArray *batch = search->batch;
    search->batch = nw_findings_new();
    search->wake_pending = false;
    if (batch->len >= NW_BATCH_MAX)
        pthread_cond_broadcast(&search->changed);
    pthread_mutex_unlock(&search->lock);
    return batch;
}

gboolean nw_search_await(NwSearch *search, int milliseconds) {
    struct timespec deadline = nw_condition_deadline(milliseconds);
    pthread_mutex_lock(&search->lock);
    while (search->working &&
           pthread_cond_timedwait(&search->changed, &search->lock, &deadline) == 0)
        continue;
    gboolean ended = !search->working;
    pthread_mutex_unlock(&search->lock);
    return ended;
}

void nw_search_close_posts(NwSearch *search) {
    g_queue_clear_full(&search->open, free);
}

GBytes *nw_search_save(NwSearch *search) {
    pthread_mutex_lock(&search->lock);
    GBytes *saved = nw_search_save_progress(search);
    pthread_mutex_unlock(&search->lock);
    return saved;
}
