#include "session/search_worker.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "fit/difference.h"
#include "job/background.h"
#include "job/run_store.h"
#include "text/words.h"

/* A round with a store writes a transaction, one without only moves rows. */
enum { ROUND_MILLISECONDS = 60, SAVING_ROUND_MILLISECONDS = 250 };

struct NwSearchWorker {
    /* Fixed when it is made. */
    NwDesign *design;
    char *path;
    gint64 version;
    NwSearchOptions options;
    gboolean anew;
    NwFounds told;
    NwBackground background;

    /* The thread's own until the worker is ready, and fixed from then on. */
    NwSearch *search;
    NwLibrary *library;
    NwRunStore *record; /* NULL: it is not kept */
    NwAssembly intended;
    gboolean has_intended;
    gboolean was_complete, was_begun, was_older;
    GHashTable *orders; /* of those adopted, by key; NULL: none are */
    NwSearchProgress adopted;

    /* Under the lock of the background. */
    NwWorkerState state;
    gboolean go, held, started;
    NwSetupProgress setup; /* while it prepares */
    GPtrArray *tray;       /* NwAssemblyItem, in order; taken ones are cut off its head */
    guint taken;
    guint laid_down; /* rows, without those that came once more */
    guint64 earlier; /* assemblies that the store has */
    char *trouble;
    char *note; /* what is to be told once, and no trouble */
};

/* ---- the tray ---------------------------------------------------------------------------- */

/* An assembly that was adopted has its place in the order. */
static guint order_of(NwSearchWorker *worker, const NwFoundAssembly *finding) {
    guint order = 0;
    if (worker->orders)
        order = GPOINTER_TO_UINT(g_hash_table_lookup(worker->orders, &finding->key));
    return order ? order : ++worker->laid_down;
}

static NwAssemblyItem *row_of(NwSearchWorker *worker, NwFoundAssembly *finding) {
    guint32 moved = 0;
    int difference = -1;
    const NwFit *fit = nw_search_fit(worker->search);
    if (worker->has_intended)
        difference =
            nw_fit_difference(fit, finding->placements, worker->intended.placements, &moved);
    return nw_assembly_item_new_take(finding, order_of(worker, finding), difference, moved);
}

/* Turns findings into rows, which takes the lock only to lay them down. */
static void lay_down(NwSearchWorker *worker, GPtrArray *findings) {
    GPtrArray *rows = g_ptr_array_sized_new(findings->len);
    for (guint i = 0; i < findings->len; i++) {
        g_ptr_array_add(rows, row_of(worker, findings->pdata[i]));
        findings->pdata[i] = NULL;
    }
    g_ptr_array_unref(findings);
    NW_BACKGROUND_HOLD(&worker->background);
    g_ptr_array_extend_and_steal(worker->tray, rows);
    nw_background_wake(&worker->background);
}

GPtrArray *nw_search_worker_take(NwSearchWorker *worker, guint most) {
    GPtrArray *rows = g_ptr_array_new_with_free_func(g_object_unref);
    NW_BACKGROUND_HOLD(&worker->background);
    while (worker->taken < worker->tray->len && rows->len < most) {
        g_ptr_array_add(rows, worker->tray->pdata[worker->taken]);
        worker->tray->pdata[worker->taken++] = NULL;
    }
    if (worker->taken < worker->tray->len) {
        nw_background_wake(&worker->background);
    } else {
        g_ptr_array_set_size(worker->tray, 0);
        worker->taken = 0;
    }
    return rows;
}

/* ---- the thread -------------------------------------------------------------------------- */

/* Saves where the search stands and lays down what it found. */
static void save_and_lay_down(NwSearchWorker *worker) {
    GPtrArray *batch = NULL;
    GError *error = NULL;
    if (!worker->record) {
        lay_down(worker, nw_search_take(worker->search, 0));
        return;
    }
    nw_run_store_save(worker->record, worker->search, &batch, &error);
    nw_background_lock(&worker->background);
    g_free(worker->trouble);
    worker->trouble = error ? g_strdup(error->message) : NULL;
    nw_background_unlock(&worker->background);
    g_clear_error(&error);
    lay_down(worker, batch);
}

/* While a search is paused nothing moves, and nothing is written. */
static gboolean has_moved(const NwSearchProgress *now, const NwSearchProgress *before) {
    return now->state != before->state || now->share > before->share ||
           now->found != before->found ||
           memcmp(now->verdicts, before->verdicts, sizeof now->verdicts) != 0;
}

/* Until the search is at its end, or was stopped since this is to leave: then a round is over
 * early. What could not be saved is tried once more when it leaves. */
static void drain(NwSearchWorker *worker) {
    NwSearchProgress before = {0}, now;
    int round = worker->record ? SAVING_ROUND_MILLISECONDS : ROUND_MILLISECONDS;
    for (gboolean ended = FALSE; !ended; before = now) {
        ended = nw_search_await(worker->search, round);
        nw_search_progress(worker->search, &now);
        if (ended || has_moved(&now, &before))
            save_and_lay_down(worker);
    }
    nw_background_lock(&worker->background);
    gboolean again = worker->trouble != NULL;
    while (again && nw_background_wait(&worker->background))
        continue;
    nw_background_unlock(&worker->background);
    if (again)
        save_and_lay_down(worker);
}

/* ---- preparing --------------------------------------------------------------------------- */

/* A version that could not be saved is searched all the same, and not kept. */
static gboolean open_store(NwSearchWorker *worker, GError **error) {
    if (worker->version < 0)
        return TRUE;
    worker->library = nw_library_open(worker->path, NW_LIBRARY_READ_WRITE, error);
    if (!worker->library)
        return FALSE;
    GError *failure = NULL;
    worker->record =
        nw_run_store_open(worker->library, worker->version, &worker->options, &failure);
    if (failure) {
        g_propagate_error(error, failure);
        return FALSE;
    }
    if (!worker->record)
        return TRUE; /* a store that can only be read and has no such run */
    if (worker->anew && !nw_run_store_restart(worker->record, error))
        return FALSE;
    const NwRun *run_before = nw_run_store_run(worker->record);
    worker->was_begun = run_before->resume != NULL;
    nw_background_lock(&worker->background);
    worker->earlier = (guint64)run_before->found;
    nw_background_wake(&worker->background);
    nw_background_unlock(&worker->background);
    return TRUE;
}

/* Takes over what it was told, unless the store knows better. */
static void adopt(NwSearchWorker *worker) {
    const NwFounds *told = &worker->told;
    if (!told->count || worker->laid_down || worker->was_begun || worker->was_complete)
        return;
    GPtrArray *findings = nw_search_adopt(worker->search, told, &worker->adopted);
    if (!findings)
        return;
    GHashTable *orders = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL);
    for (guint i = 0; i < findings->len; i++) {
        const NwFoundAssembly *finding = findings->pdata[i];
        g_hash_table_insert(orders, g_memdup2(&finding->key, sizeof finding->key),
                            GUINT_TO_POINTER(i + 1));
    }
    lay_down(worker, findings);
    worker->orders = orders;
}

/* Between two steps of preparing: tells how far it is, and waits while it is held. FALSE: it is to
 * leave. */
static gboolean goes_on_preparing(NwSearchWorker *worker) {
    NwSearchProgress progress;
    nw_search_progress(worker->search, &progress);
    NW_BACKGROUND_HOLD(&worker->background);
    worker->setup = progress.setup;
    while (worker->held && nw_background_wait(&worker->background))
        continue;
    return nw_background_is_wanted(&worker->background);
}

/* Lays down what the store has, as it is read. */
static gboolean read_earlier(NwSearchWorker *worker, GError **error) {
    GPtrArray *page;
    while ((page = nw_run_store_read(worker->record, worker->search, error)) && page->len) {
        lay_down(worker, page);
        if (!goes_on_preparing(worker))
            return FALSE;
    }
    if (!page)
        return FALSE;
    g_ptr_array_unref(page);
    worker->was_complete = nw_run_store_recall(worker->record, worker->search);
    worker->was_older = nw_run_store_was_older(worker->record);
    return TRUE;
}

static gboolean set_up(NwSearchWorker *worker, GError **error) {
    NwStatus status = NW_STOPPED;
    while (status == NW_STOPPED && goes_on_preparing(worker))
        status = worker->record ? nw_run_store_set_up(worker->record, worker->search, error)
                                : nw_search_set_up(worker->search, error);
    return status == NW_OK;
}

static gboolean make_search(NwSearchWorker *worker, GError **error) {
    worker->search =
        worker->record
            ? nw_run_store_begin_search(worker->record, worker->design, &worker->options, error)
            : nw_search_begin(worker->design, &worker->options, NULL, error);
    if (!worker->search || !set_up(worker, error))
        return FALSE;
    worker->has_intended =
        nw_search_has_intended(worker->search) &&
        nw_fit_intended(nw_search_fit(worker->search), &worker->intended) == NW_OK;
    if (worker->record && !read_earlier(worker, error))
        return FALSE;
    adopt(worker);
    return TRUE;
}

static void prepare(NwSearchWorker *worker) {
    GError *error = NULL;
    gboolean good = open_store(worker, &error) && make_search(worker, &error);
    nw_background_lock(&worker->background);
    worker->state = good ? NW_SEARCH_WORKER_READY : NW_SEARCH_WORKER_FAILED;
    worker->setup = (NwSetupProgress){0};
    if (worker->was_older)
        worker->note = g_strdup(nw_words_older());
    if (error)
        worker->trouble = g_strdup(error->message);
    nw_background_wake(&worker->background);
    nw_background_unlock(&worker->background);
    g_clear_error(&error);
}

/* Waits for the word to go, or to leave; TRUE to go. */
static gboolean wait_for_go(NwSearchWorker *worker) {
    NW_BACKGROUND_HOLD(&worker->background);
    gboolean wanted = worker->state == NW_SEARCH_WORKER_READY;
    while (wanted && !worker->go)
        wanted = nw_background_wait(&worker->background);
    worker->started = wanted && nw_background_is_wanted(&worker->background);
    if (worker->started)
        nw_search_start(worker->search);
    return worker->started;
}

static void run(gpointer data) {
    NwSearchWorker *worker = data;
    prepare(worker);
    if (wait_for_go(worker))
        drain(worker);
}

/* ---- from the main thread ---------------------------------------------------------------- */

NwSearchWorker *nw_search_worker_new(const NwDesign *design, const char *path, gint64 version,
                                     const NwSearchOptions *options, gboolean anew, NwFounds *told,
                                     NwSearchWorkerCall *call, gpointer data) {
    NwSearchWorker *worker = nw_alloc(1, sizeof *worker);
    worker->tray = g_ptr_array_new();
    worker->design = nw_design_copy(design);
    worker->path = g_strdup(path);
    worker->version = version;
    worker->options = *options;
    worker->anew = anew;
    if (told) {
        worker->told = *told;
        *told = (NwFounds){0};
    }
    nw_background_begin(&worker->background, "search", run, worker, call, data);
    return worker;
}

void nw_search_worker_free(NwSearchWorker *worker) {
    if (!worker)
        return;
    nw_background_ask_to_leave(&worker->background);
    nw_background_lock(&worker->background);
    gboolean started = worker->started; /* or never */
    nw_background_unlock(&worker->background);
    if (started)
        nw_search_stop(worker->search);
    nw_background_end(&worker->background);
    for (guint i = worker->taken; i < worker->tray->len; i++)
        g_object_unref(worker->tray->pdata[i]);
    g_ptr_array_unref(worker->tray);
    nw_search_free(worker->search);
    nw_run_store_free(worker->record);
    nw_library_close(worker->library);
    nw_design_free(worker->design);
    nw_founds_clear(&worker->told);
    g_clear_pointer(&worker->orders, g_hash_table_unref);
    g_free(worker->trouble);
    g_free(worker->note);
    g_free(worker->path);
    free(worker);
}

void nw_search_worker_go(NwSearchWorker *worker) {
    NW_BACKGROUND_HOLD(&worker->background);
    worker->go = TRUE;
    worker->held = FALSE;
    if (worker->started)
        nw_search_go_on(worker->search);
    nw_background_tell_change(&worker->background);
}

void nw_search_worker_pause(NwSearchWorker *worker) {
    NW_BACKGROUND_HOLD(&worker->background);
    worker->go = FALSE;
    worker->held = TRUE;
    if (worker->started)
        nw_search_pause(worker->search);
}

NwWorkerState nw_search_worker_get_state(NwSearchWorker *worker) {
    NW_BACKGROUND_HOLD(&worker->background);
    return worker->state;
}

gboolean nw_search_worker_was_complete(NwSearchWorker *worker) {
    return nw_search_worker_get_state(worker) == NW_SEARCH_WORKER_READY && worker->was_complete;
}

gboolean nw_search_worker_was_begun(NwSearchWorker *worker) {
    return nw_search_worker_get_state(worker) == NW_SEARCH_WORKER_READY && worker->was_begun;
}

guint64 nw_search_worker_has_earlier(NwSearchWorker *worker) {
    NW_BACKGROUND_HOLD(&worker->background);
    return worker->earlier;
}

gboolean nw_search_worker_has_adopted(NwSearchWorker *worker, NwSearchProgress *progress) {
    if (nw_search_worker_get_state(worker) != NW_SEARCH_WORKER_READY || !worker->orders)
        return FALSE;
    *progress = worker->adopted;
    return TRUE;
}

void nw_search_worker_progress(NwSearchWorker *worker, NwSearchProgress *progress) {
    *progress = (NwSearchProgress){.seconds_left = -1};
    nw_background_lock(&worker->background);
    gboolean ready = worker->state == NW_SEARCH_WORKER_READY;
    progress->setup = worker->setup;
    nw_background_unlock(&worker->background);
    if (ready)
        nw_search_progress(worker->search, progress);
}

char *nw_search_worker_dup_trouble(NwSearchWorker *worker) {
    NW_BACKGROUND_HOLD(&worker->background);
    return g_strdup(worker->trouble ? worker->trouble : worker->note);
}
