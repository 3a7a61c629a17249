#include "app/clerk.h"

#include <pthread.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "fit/difference.h"
#include "job/record.h"
#include "job/words.h"

/* A round with a store writes a transaction, one without only moves rows. */
enum { ROUND_MILLISECONDS = 60, SAVING_ROUND_MILLISECONDS = 250 };

struct NwClerk {
    /* Fixed when it is made. */
    NwDesign *design;
    char *path;
    gint64 version;
    NwSearchOptions options;
    gboolean anew;
    NwFounds told;
    NwClerkCall *call;
    gpointer data;
    GThread *thread;

    /* The thread's own until the clerk is ready, and fixed from then on. */
    NwSearch *search;
    NwLibrary *library;
    NwRecord *record; /* NULL: it is not kept */
    NwAssembly intended;
    gboolean has_intended;
    gboolean was_complete, was_begun, was_older;
    GHashTable *orders; /* of those adopted, by key; NULL: none are */
    NwSearchProgress adopted;

    pthread_mutex_t lock; /* guards everything below */
    pthread_cond_t changed;
    NwClerkState state;
    gboolean go, held, started, leaving;
    NwSetupProgress setup; /* while it prepares */
    GPtrArray *tray;       /* NwFindingItem, in order; taken ones are cut off its head */
    guint taken;
    guint laid_down; /* rows, without those that came once more */
    guint64 earlier; /* assemblies that the store has */
    guint source;    /* the pending wake-up, or 0 */
    char *trouble;
    char *note; /* what is to be told once, and no trouble */
};

/* ---- the tray ---------------------------------------------------------------------------- */

static gboolean wake(gpointer data) {
    NwClerk *clerk = data;
    pthread_mutex_lock(&clerk->lock);
    clerk->source = 0;
    pthread_mutex_unlock(&clerk->lock);
    clerk->call(clerk->data);
    return G_SOURCE_REMOVE;
}

/* Under the lock. */
static void ask_for_wake(NwClerk *clerk) {
    if (!clerk->source && !clerk->leaving)
        clerk->source = g_idle_add_full(G_PRIORITY_DEFAULT_IDLE, wake, clerk, NULL);
}

/* An assembly that was adopted has its place in the order. */
static guint order_of(NwClerk *clerk, const NwFinding *finding) {
    guint order = 0;
    if (clerk->orders)
        order = GPOINTER_TO_UINT(g_hash_table_lookup(clerk->orders, &finding->key));
    return order ? order : ++clerk->laid_down;
}

static NwFindingItem *row_of(NwClerk *clerk, NwFinding *finding) {
    guint32 moved = 0;
    int difference = -1;
    const NwFit *fit = nw_search_fit(clerk->search);
    if (clerk->has_intended)
        difference =
            nw_fit_difference(fit, finding->placements, clerk->intended.placements, &moved);
    return nw_finding_item_new_take(finding, order_of(clerk, finding), difference, moved);
}

/* Turns findings into rows, which takes the lock only to lay them down. */
static void lay_down(NwClerk *clerk, GPtrArray *findings) {
    GPtrArray *rows = g_ptr_array_sized_new(findings->len);
    for (guint i = 0; i < findings->len; i++) {
        g_ptr_array_add(rows, row_of(clerk, findings->pdata[i]));
        findings->pdata[i] = NULL;
    }
    g_ptr_array_unref(findings);
    pthread_mutex_lock(&clerk->lock);
    g_ptr_array_extend_and_steal(clerk->tray, rows);
    ask_for_wake(clerk);
    pthread_mutex_unlock(&clerk->lock);
}

GPtrArray *nw_clerk_take(NwClerk *clerk, guint most) {
    GPtrArray *rows = g_ptr_array_new_with_free_func(g_object_unref);
    pthread_mutex_lock(&clerk->lock);
    while (clerk->taken < clerk->tray->len && rows->len < most) {
        g_ptr_array_add(rows, clerk->tray->pdata[clerk->taken]);
        clerk->tray->pdata[clerk->taken++] = NULL;
    }
    if (clerk->taken < clerk->tray->len) {
        ask_for_wake(clerk);
    } else {
        g_ptr_array_set_size(clerk->tray, 0);
        clerk->taken = 0;
    }
    pthread_mutex_unlock(&clerk->lock);
    return rows;
}

/* ---- the thread -------------------------------------------------------------------------- */

/* Saves where the search stands and lays down what it found. */
static void save_and_lay_down(NwClerk *clerk) {
    GPtrArray *batch = NULL;
    GError *error = NULL;
    if (!clerk->record) {
        lay_down(clerk, nw_search_take(clerk->search, 0));
        return;
    }
    nw_record_save(clerk->record, clerk->search, &batch, &error);
    pthread_mutex_lock(&clerk->lock);
    g_free(clerk->trouble);
    clerk->trouble = error ? g_strdup(error->message) : NULL;
    pthread_mutex_unlock(&clerk->lock);
    g_clear_error(&error);
    lay_down(clerk, batch);
}

static gboolean has_ended(const NwSearchProgress *progress) {
    return progress->state == NW_SEARCH_COMPLETE || progress->state == NW_SEARCH_FAILED ||
           progress->state == NW_SEARCH_STOPPED;
}

/* While a search is paused nothing moves, and nothing is written. */
static gboolean has_moved(const NwSearchProgress *now, const NwSearchProgress *before) {
    return now->state != before->state || now->share > before->share ||
           now->found != before->found ||
           memcmp(now->verdicts, before->verdicts, sizeof now->verdicts) != 0;
}

static void drain(NwClerk *clerk) {
    NwSearchProgress before = {0}, now;
    int round = clerk->record ? SAVING_ROUND_MILLISECONDS : ROUND_MILLISECONDS;
    for (gboolean ended = FALSE; !ended; before = now) {
        g_usleep((gulong)round * 1000);
        pthread_mutex_lock(&clerk->lock);
        gboolean leaving = clerk->leaving;
        pthread_mutex_unlock(&clerk->lock);
        if (leaving)
            break;
        nw_search_progress(clerk->search, &now);
        ended = has_ended(&now);
        if (ended || has_moved(&now, &before))
            save_and_lay_down(clerk);
    }
}

/* ---- preparing --------------------------------------------------------------------------- */

/* A version that could not be saved is searched all the same, and not kept. */
static gboolean open_store(NwClerk *clerk, GError **error) {
    if (clerk->version < 0)
        return TRUE;
    clerk->library = nw_library_open(clerk->path, NW_LIBRARY_READ_WRITE, error);
    if (!clerk->library)
        return FALSE;
    GError *failure = NULL;
    clerk->record = nw_record_open(clerk->library, clerk->version, &clerk->options, &failure);
    if (failure) {
        g_propagate_error(error, failure);
        return FALSE;
    }
    if (!clerk->record)
        return TRUE; /* a store that can only be read and has no such run */
    if (clerk->anew && !nw_record_restart(clerk->record, error))
        return FALSE;
    const NwRun *run_before = nw_record_run(clerk->record);
    clerk->was_begun = run_before->resume != NULL;
    pthread_mutex_lock(&clerk->lock);
    clerk->earlier = (guint64)run_before->found;
    ask_for_wake(clerk);
    pthread_mutex_unlock(&clerk->lock);
    return TRUE;
}

/* Takes over what it was told, unless the store knows better. */
static void adopt(NwClerk *clerk) {
    const NwFounds *told = &clerk->told;
    if (!told->count || clerk->laid_down || clerk->was_begun || clerk->was_complete)
        return;
    GPtrArray *findings = nw_search_adopt(clerk->search, told, &clerk->adopted);
    if (!findings)
        return;
    GHashTable *orders = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL);
    for (guint i = 0; i < findings->len; i++) {
        const NwFinding *finding = findings->pdata[i];
        g_hash_table_insert(orders, g_memdup2(&finding->key, sizeof finding->key),
                            GUINT_TO_POINTER(i + 1));
    }
    lay_down(clerk, findings);
    clerk->orders = orders;
}

/* Between two steps of preparing: tells how far it is, and waits while it is held. FALSE: it is to
 * leave. */
static gboolean goes_on_preparing(NwClerk *clerk) {
    NwSearchProgress progress;
    nw_search_progress(clerk->search, &progress);
    pthread_mutex_lock(&clerk->lock);
    clerk->setup = progress.setup;
    while (clerk->held && !clerk->leaving)
        pthread_cond_wait(&clerk->changed, &clerk->lock);
    gboolean goes_on = !clerk->leaving;
    pthread_mutex_unlock(&clerk->lock);
    return goes_on;
}

/* Lays down what the store has, as it is read. */
static gboolean read_earlier(NwClerk *clerk, GError **error) {
    GPtrArray *page;
    while ((page = nw_record_read(clerk->record, clerk->search, error)) && page->len) {
        lay_down(clerk, page);
        if (!goes_on_preparing(clerk))
            return FALSE;
    }
    if (!page)
        return FALSE;
    g_ptr_array_unref(page);
    clerk->was_complete = nw_record_recall(clerk->record, clerk->search);
    clerk->was_older = nw_record_was_older(clerk->record);
    return TRUE;
}

static gboolean set_up(NwClerk *clerk, GError **error) {
    NwStatus status = NW_STOPPED;
    while (status == NW_STOPPED && goes_on_preparing(clerk))
        status = clerk->record ? nw_record_set_up(clerk->record, clerk->search, error)
                               : nw_search_set_up(clerk->search, error);
    return status == NW_OK;
}

static gboolean make_search(NwClerk *clerk, GError **error) {
    clerk->search =
        clerk->record ? nw_record_begin_search(clerk->record, clerk->design, &clerk->options, error)
                      : nw_search_begin(clerk->design, &clerk->options, NULL, error);
    if (!clerk->search || !set_up(clerk, error))
        return FALSE;
    clerk->has_intended = nw_search_has_intended(clerk->search) &&
                          nw_fit_intended(nw_search_fit(clerk->search), &clerk->intended) == NW_OK;
    if (clerk->record && !read_earlier(clerk, error))
        return FALSE;
    adopt(clerk);
    return TRUE;
}

static void prepare(NwClerk *clerk) {
    GError *error = NULL;
    gboolean good = open_store(clerk, &error) && make_search(clerk, &error);
    pthread_mutex_lock(&clerk->lock);
    clerk->state = good ? NW_CLERK_READY : NW_CLERK_FAILED;
    clerk->setup = (NwSetupProgress){0};
    if (clerk->was_older)
        clerk->note = g_strdup(nw_words_older());
    if (error)
        clerk->trouble = g_strdup(error->message);
    ask_for_wake(clerk);
    pthread_mutex_unlock(&clerk->lock);
    g_clear_error(&error);
}

/* Waits for the word to go, or to leave; TRUE to go. */
static gboolean wait_for_go(NwClerk *clerk) {
    pthread_mutex_lock(&clerk->lock);
    while (clerk->state == NW_CLERK_READY && !clerk->go && !clerk->leaving)
        pthread_cond_wait(&clerk->changed, &clerk->lock);
    gboolean go = clerk->state == NW_CLERK_READY && clerk->go && !clerk->leaving;
    clerk->started = go;
    if (go)
        nw_search_start(clerk->search);
    pthread_mutex_unlock(&clerk->lock);
    return go;
}

static void destroy(NwClerk *clerk) {
    for (guint i = clerk->taken; i < clerk->tray->len; i++)
        g_object_unref(clerk->tray->pdata[i]);
    g_ptr_array_unref(clerk->tray);
    nw_search_free(clerk->search);
    nw_record_free(clerk->record);
    nw_library_close(clerk->library);
    nw_design_free(clerk->design);
    nw_founds_clear(&clerk->told);
    g_clear_pointer(&clerk->orders, g_hash_table_unref);
    pthread_cond_destroy(&clerk->changed);
    pthread_mutex_destroy(&clerk->lock);
    g_free(clerk->trouble);
    g_free(clerk->note);
    g_free(clerk->path);
    free(clerk);
}

static gpointer run(gpointer data) {
    NwClerk *clerk = data;
    prepare(clerk);
    if (wait_for_go(clerk))
        drain(clerk);
    return NULL;
}

/* ---- from the main thread ---------------------------------------------------------------- */

NwClerk *nw_clerk_new(const NwDesign *design, const char *path, gint64 version,
                      const NwSearchOptions *options, gboolean anew, NwFounds *told,
                      NwClerkCall *call, gpointer data) {
    NwClerk *clerk = nw_alloc(1, sizeof *clerk);
    pthread_mutex_init(&clerk->lock, NULL);
    pthread_cond_init(&clerk->changed, NULL);
    clerk->tray = g_ptr_array_new();
    clerk->design = nw_design_copy(design);
    clerk->path = g_strdup(path);
    clerk->version = version;
    clerk->options = *options;
    clerk->anew = anew;
    if (told) {
        clerk->told = *told;
        *told = (NwFounds){0};
    }
    clerk->call = call;
    clerk->data = data;
    clerk->thread = g_thread_new("clerk", run, clerk);
    return clerk;
}

void nw_clerk_free(NwClerk *clerk) {
    if (!clerk)
        return;
    pthread_mutex_lock(&clerk->lock);
    clerk->leaving = TRUE;
    gboolean started = clerk->started;
    if (clerk->source)
        g_source_remove(clerk->source);
    clerk->source = 0;
    pthread_cond_broadcast(&clerk->changed);
    pthread_mutex_unlock(&clerk->lock);
    if (started)
        nw_search_stop(clerk->search);
    g_thread_join(clerk->thread);
    if (started)
        save_and_lay_down(clerk);
    destroy(clerk);
}

void nw_clerk_go(NwClerk *clerk) {
    pthread_mutex_lock(&clerk->lock);
    clerk->go = TRUE;
    clerk->held = FALSE;
    if (clerk->started)
        nw_search_go_on(clerk->search);
    pthread_cond_broadcast(&clerk->changed);
    pthread_mutex_unlock(&clerk->lock);
}

void nw_clerk_pause(NwClerk *clerk) {
    pthread_mutex_lock(&clerk->lock);
    clerk->go = FALSE;
    clerk->held = TRUE;
    if (clerk->started)
        nw_search_pause(clerk->search);
    pthread_mutex_unlock(&clerk->lock);
}

NwClerkState nw_clerk_get_state(NwClerk *clerk) {
    pthread_mutex_lock(&clerk->lock);
    NwClerkState state = clerk->state;
    pthread_mutex_unlock(&clerk->lock);
    return state;
}

gboolean nw_clerk_was_complete(NwClerk *clerk) {
    return nw_clerk_get_state(clerk) == NW_CLERK_READY && clerk->was_complete;
}

gboolean nw_clerk_was_begun(NwClerk *clerk) {
    return nw_clerk_get_state(clerk) == NW_CLERK_READY && clerk->was_begun;
}

guint64 nw_clerk_has_earlier(NwClerk *clerk) {
    pthread_mutex_lock(&clerk->lock);
    guint64 earlier = clerk->earlier;
    pthread_mutex_unlock(&clerk->lock);
    return earlier;
}

gboolean nw_clerk_has_adopted(NwClerk *clerk, NwSearchProgress *progress) {
    if (nw_clerk_get_state(clerk) != NW_CLERK_READY || !clerk->orders)
        return FALSE;
    *progress = clerk->adopted;
    return TRUE;
}

void nw_clerk_progress(NwClerk *clerk, NwSearchProgress *progress) {
    *progress = (NwSearchProgress){.seconds_left = -1};
    pthread_mutex_lock(&clerk->lock);
    gboolean ready = clerk->state == NW_CLERK_READY;
    progress->setup = clerk->setup;
    pthread_mutex_unlock(&clerk->lock);
    if (ready)
        nw_search_progress(clerk->search, progress);
}

char *nw_clerk_dup_trouble(NwClerk *clerk) {
    pthread_mutex_lock(&clerk->lock);
    char *trouble = g_strdup(clerk->trouble ? clerk->trouble : clerk->note);
    pthread_mutex_unlock(&clerk->lock);
    return trouble;
}
