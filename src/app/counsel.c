#include "app/counsel.h"

#include <pthread.h>
#include <stdlib.h>

#include "base/memory.h"
#include "job/advice_record.h"

/* Nodes and states between two looks at what the maker wants, and between two signs of life. */
enum { EFFORT = 4000, TELL_MICROSECONDS = 100000 };

/* Between two saves; and saving takes no more than one part in so many of the time. */
enum { SAVE_MICROSECONDS = 5000000, SAVE_SHARE = 20 };

struct NwCounsel {
    /* Fixed when it is made. */
    NwDesign *design;
    char *path, *question;
    gint64 version;
    NwAdvisorOptions options;
    NwCounselCall *call;
    gpointer data;
    GThread *thread;

    /* The thread's own. */
    NwFounds founds;
    NwAdvisor *advisor;
    NwLibrary *library; /* NULL: it cannot be kept */
    gint64 next_save;
    gboolean saved; /* nothing is new since */
    guint posted;   /* since it was last told to go */
    gint64 told;

    pthread_mutex_t lock; /* guards everything below */
    pthread_cond_t changed;
    NwCounselState state;
    NwStatus status;
    gboolean go, leaving, orphan;
    GPtrArray *tray; /* NwAdvice */
    GArray *misses;
    NwAdvisorProgress progress;
    gboolean has_front;
    NwFront front;
    char *trouble;
    guint source; /* the pending wake-up, or 0 */
};

static gboolean wake(gpointer data) {
    NwCounsel *counsel = data;
    pthread_mutex_lock(&counsel->lock);
    counsel->source = 0;
    pthread_mutex_unlock(&counsel->lock);
    counsel->call(counsel->data);
    return G_SOURCE_REMOVE;
}

/* Under the lock. */
static void ask_for_wake(NwCounsel *counsel) {
    if (!counsel->source && !counsel->leaving)
        counsel->source = g_idle_add_full(G_PRIORITY_DEFAULT_IDLE, wake, counsel, NULL);
}

/* ---- the thread -------------------------------------------------------------------------- */

static void set_state(NwCounsel *counsel, NwCounselState state, NwStatus status) {
    pthread_mutex_lock(&counsel->lock);
    counsel->state = state;
    counsel->status = status;
    ask_for_wake(counsel);
    pthread_mutex_unlock(&counsel->lock);
}

/* Takes the error over. */
static void note_trouble(NwCounsel *counsel, GError *error) {
    pthread_mutex_lock(&counsel->lock);
    g_free(counsel->trouble);
    counsel->trouble = g_strdup(error->message);
    ask_for_wake(counsel);
    pthread_mutex_unlock(&counsel->lock);
    g_error_free(error);
}

static void keep(NwCounsel *counsel, gboolean complete) {
    GError *error = NULL;
    gint64 before = g_get_monotonic_time();
    if (!counsel->library || counsel->saved)
        return;
    if (!nw_advice_record_save(counsel->library, counsel->version, counsel->question,
                               counsel->advisor, complete, &error))
        note_trouble(counsel, error);
    gint64 after = g_get_monotonic_time();
    counsel->saved = TRUE;
    counsel->next_save = after + MAX(SAVE_MICROSECONDS, SAVE_SHARE * (after - before));
}

/* Lays down what an earlier session found. */
static void take_up(NwCounsel *counsel) {
    GError *error = NULL;
    gboolean taken = FALSE;
    size_t count;
    if (counsel->version < 0)
        return; /* the version could not be saved: the maker was told */
    counsel->library = nw_library_open(counsel->path, NW_LIBRARY_READ_WRITE, &error);
    if (!counsel->library ||
        !nw_advice_record_take_up(counsel->library, counsel->version, counsel->question,
                                  counsel->advisor, &taken, &error))
        note_trouble(counsel, error);
    counsel->saved = taken;
    if (!taken)
        return;
    const NwProposal *const *proposals = nw_advisor_proposals(counsel->advisor, &count);
    GPtrArray *rows = g_ptr_array_new();
    for (size_t i = 0; i < count; i++)
        g_ptr_array_add(rows, nw_advice_new(counsel->advisor, proposals[i], counsel->options.cook));
    pthread_mutex_lock(&counsel->lock);
    g_ptr_array_extend_and_steal(counsel->tray, rows);
    nw_advisor_progress(counsel->advisor, &counsel->progress);
    pthread_mutex_unlock(&counsel->lock);
}

static gboolean prepare(NwCounsel *counsel) {
    NwStatus status = nw_advisor_new(counsel->design, counsel->options, &counsel->advisor);
    /* What was found earlier spares a search; if it does not match, the advisor searches. */
    if (status == NW_OK && counsel->founds.count &&
        nw_advisor_learn(counsel->advisor, counsel->founds.list, counsel->founds.count) != NW_OK) {
        nw_advisor_free(counsel->advisor);
        status = nw_advisor_new(counsel->design, counsel->options, &counsel->advisor);
    }
    nw_founds_clear(&counsel->founds);
    if (status == NW_OK)
        take_up(counsel);
    counsel->next_save = g_get_monotonic_time() + SAVE_MICROSECONDS;
    set_state(counsel, status == NW_OK ? NW_COUNSEL_WORKING : NW_COUNSEL_FAILED, status);
    return status == NW_OK;
}

/* Whether it is to wait, or to leave. */
static gboolean is_to_rest(NwCounsel *counsel) {
    pthread_mutex_lock(&counsel->lock);
    gboolean rests = !counsel->go || counsel->leaving;
    pthread_mutex_unlock(&counsel->lock);
    return rests;
}

/* Waits while it is paused. FALSE: leave. */
static gboolean may_go_on(NwCounsel *counsel) {
    if (is_to_rest(counsel) || g_get_monotonic_time() > counsel->next_save)
        keep(counsel, FALSE);
    pthread_mutex_lock(&counsel->lock);
    while (!counsel->go && !counsel->leaving) {
        if (counsel->state != NW_COUNSEL_PAUSED) {
            counsel->state = NW_COUNSEL_PAUSED;
            ask_for_wake(counsel);
        }
        pthread_cond_wait(&counsel->changed, &counsel->lock);
        counsel->posted = 0;
    }
    counsel->state = NW_COUNSEL_WORKING;
    gboolean stays = !counsel->leaving;
    pthread_mutex_unlock(&counsel->lock);
    return stays;
}

/* Lays down a proposal, if there is one, and where it stands. */
static void tell(NwCounsel *counsel, const NwProposal *proposal, gboolean last) {
    gint64 now = g_get_monotonic_time();
    if (!proposal && !last && now - counsel->told < TELL_MICROSECONDS)
        return;
    NwAdvice *advice =
        proposal ? nw_advice_new(counsel->advisor, proposal, counsel->options.cook) : NULL;
    size_t miss_count;
    const NwMiss *misses = nw_advisor_misses(counsel->advisor, &miss_count);
    counsel->told = now;
    pthread_mutex_lock(&counsel->lock);
    if (advice)
        g_ptr_array_add(counsel->tray, advice);
    if (counsel->misses->len < miss_count)
        g_array_append_vals(counsel->misses, misses + counsel->misses->len,
                            (guint)(miss_count - counsel->misses->len));
    nw_advisor_progress(counsel->advisor, &counsel->progress);
    counsel->has_front = nw_advisor_get_front(counsel->advisor, &counsel->front);
    if (advice && ++counsel->posted == NW_COUNSEL_BATCH)
        counsel->go = FALSE;
    ask_for_wake(counsel);
    pthread_mutex_unlock(&counsel->lock);
}

static void advise(NwCounsel *counsel) {
    while (may_go_on(counsel)) {
        const NwProposal *proposal;
        NwStatus status = nw_advisor_step(counsel->advisor, EFFORT, &proposal);
        counsel->saved = FALSE;
        gboolean ended = status != NW_OK && status != NW_STOPPED;
        tell(counsel, proposal, ended);
        if (!ended)
            continue;
        if (status == NW_NONE)
            keep(counsel, TRUE);
        set_state(counsel, status == NW_NONE ? NW_COUNSEL_DONE : NW_COUNSEL_FAILED, status);
        return;
    }
}

static void destroy(NwCounsel *counsel) {
    g_ptr_array_unref(counsel->tray);
    g_array_unref(counsel->misses);
    nw_founds_clear(&counsel->founds);
    nw_advisor_free(counsel->advisor);
    nw_library_close(counsel->library);
    nw_design_free(counsel->design);
    g_free(counsel->path);
    g_free(counsel->question);
    g_free(counsel->trouble);
    pthread_cond_destroy(&counsel->changed);
    pthread_mutex_destroy(&counsel->lock);
    free(counsel);
}

static gpointer run(gpointer data) {
    NwCounsel *counsel = data;
    if (prepare(counsel))
        advise(counsel);
    pthread_mutex_lock(&counsel->lock);
    gboolean orphan = counsel->orphan;
    pthread_mutex_unlock(&counsel->lock);
    if (orphan)
        destroy(counsel);
    return NULL;
}

/* ---- from the main thread ---------------------------------------------------------------- */

NwCounsel *nw_counsel_new(const NwDesign *design, const char *path, gint64 version,
                          const NwAdvisorOptions *options, NwFounds *founds, NwCounselCall *call,
                          gpointer data) {
    NwCounsel *counsel = nw_alloc(1, sizeof *counsel);
    pthread_mutex_init(&counsel->lock, NULL);
    pthread_cond_init(&counsel->changed, NULL);
    counsel->design = nw_design_copy(design);
    counsel->path = g_strdup(path);
    counsel->version = version;
    counsel->options = *options;
    counsel->question = nw_stored_advice_question(options);
    counsel->founds = *founds;
    *founds = (NwFounds){0};
    counsel->call = call;
    counsel->data = data;
    counsel->go = TRUE;
    counsel->tray = g_ptr_array_new_with_free_func(g_object_unref);
    counsel->misses = g_array_new(FALSE, FALSE, sizeof(NwMiss));
    counsel->thread = g_thread_new("counsel", run, counsel);
    return counsel;
}

void nw_counsel_free(NwCounsel *counsel) {
    if (!counsel)
        return;
    pthread_mutex_lock(&counsel->lock);
    counsel->leaving = TRUE;
    counsel->orphan = counsel->state == NW_COUNSEL_PREPARING;
    gboolean orphan = counsel->orphan;
    GThread *thread = counsel->thread;
    if (counsel->source)
        g_source_remove(counsel->source);
    counsel->source = 0;
    pthread_cond_broadcast(&counsel->changed);
    pthread_mutex_unlock(&counsel->lock);
    if (orphan) {
        g_thread_unref(thread);
        return;
    }
    g_thread_join(thread);
    destroy(counsel);
}

void nw_counsel_go(NwCounsel *counsel) {
    pthread_mutex_lock(&counsel->lock);
    counsel->go = TRUE;
    pthread_cond_broadcast(&counsel->changed);
    pthread_mutex_unlock(&counsel->lock);
}

void nw_counsel_pause(NwCounsel *counsel) {
    pthread_mutex_lock(&counsel->lock);
    counsel->go = FALSE;
    pthread_mutex_unlock(&counsel->lock);
}

NwCounselState nw_counsel_get_state(NwCounsel *counsel) {
    pthread_mutex_lock(&counsel->lock);
    NwCounselState state = counsel->state;
    pthread_mutex_unlock(&counsel->lock);
    return state;
}

NwStatus nw_counsel_get_status(NwCounsel *counsel) {
    pthread_mutex_lock(&counsel->lock);
    NwStatus status = counsel->status;
    pthread_mutex_unlock(&counsel->lock);
    return status;
}

void nw_counsel_progress(NwCounsel *counsel, NwAdvisorProgress *progress) {
    pthread_mutex_lock(&counsel->lock);
    *progress = counsel->progress;
    pthread_mutex_unlock(&counsel->lock);
}

char *nw_counsel_dup_trouble(NwCounsel *counsel) {
    pthread_mutex_lock(&counsel->lock);
    char *trouble = g_strdup(counsel->trouble);
    pthread_mutex_unlock(&counsel->lock);
    return trouble;
}

gboolean nw_counsel_get_front(NwCounsel *counsel, NwFront *front) {
    pthread_mutex_lock(&counsel->lock);
    gboolean has_front = counsel->has_front;
    *front = counsel->front;
    pthread_mutex_unlock(&counsel->lock);
    return has_front;
}

GPtrArray *nw_counsel_take(NwCounsel *counsel) {
    pthread_mutex_lock(&counsel->lock);
    GPtrArray *rows = counsel->tray;
    counsel->tray = g_ptr_array_new_with_free_func(g_object_unref);
    pthread_mutex_unlock(&counsel->lock);
    return rows;
}

GArray *nw_counsel_dup_misses(NwCounsel *counsel) {
    pthread_mutex_lock(&counsel->lock);
    GArray *misses = g_array_copy(counsel->misses);
    pthread_mutex_unlock(&counsel->lock);
    return misses;
}
