#include "session/search_session.h"

#include <stdlib.h>

#include "design/faults.h"
#include "job/run_store.h"
#include "job/search_results.h"
#include "session/assembly_rows.h"
#include "session/search_worker.h"
#include "store/runs.h"
#include "text/words.h"

/* Rows taken in one turn of the main loop, and how often progress is looked at. */
enum { ROWS_A_TURN = 5000, TICK_MILLISECONDS = 150 };

struct _NwSearchSession {
    GObject parent;
    NwDocument *document;
    NwSearchWorker *worker; /* NULL: no search for this version yet */
    NwDesign *design;       /* what the findings belong to */
    gint64 version;         /* and which version that is */
    GListStore *findings;
    NwSearchSessionState state;
    NwSearchProgress progress;
    gboolean adopted;   /* the list was known at once, and is only examined now */
    gboolean examining; /* it still is */
    guint learned;      /* rows of it that have their way out */
    guint numbered;     /* rows that have their number */
    gboolean lent;      /* the run in the store is another's, until it is taken back */
    gboolean goes_on;   /* then */
    gboolean diagonals;
    guint tick;
    char *message;
};

G_DEFINE_FINAL_TYPE(NwSearchSession, nw_search_session, G_TYPE_OBJECT)

enum { CHANGED, NUMBERED, SIGNALS };
static guint signals[SIGNALS];

static void tell(NwSearchSession *self) {
    g_signal_emit(self, signals[CHANGED], 0);
}

/* Stops what runs (which saves it) and keeps its findings. */
static void drop_worker(NwSearchSession *self) {
    self->lent = FALSE;
    g_clear_handle_id(&self->tick, g_source_remove);
    g_clear_pointer(&self->worker, nw_search_worker_free);
}

static void forget_findings(NwSearchSession *self) {
    drop_worker(self);
    g_list_store_remove_all(self->findings);
    self->progress = (NwSearchProgress){.seconds_left = -1};
    self->state = NW_SEARCH_SESSION_IDLE;
    self->adopted = self->examining = FALSE;
    self->learned = self->numbered = 0;
}

/* ---- numbers ----------------------------------------------------------------------------- */

static int compare_items(gconstpointer a, gconstpointer b) {
    const NwFoundAssembly *first = nw_assembly_item_get(*(NwAssemblyItem *const *)a);
    const NwFoundAssembly *second = nw_assembly_item_get(*(NwAssemblyItem *const *)b);
    return nw_words_compare(&first, &second);
}

/* A number is the place in the order of lists, as it is for the command. It is given once the list
 * is complete, and does not change after that. */
static void number_rows(NwSearchSession *self) {
    GListModel *list = G_LIST_MODEL(self->findings);
    guint count = g_list_model_get_n_items(list);
    if (self->state != NW_SEARCH_SESSION_COMPLETE || count != self->progress.found ||
        count == self->numbered)
        return;
    GPtrArray *items = g_ptr_array_new_full(count, g_object_unref);
    for (guint i = 0; i < count; i++)
        g_ptr_array_add(items, g_list_model_get_item(list, i));
    g_ptr_array_sort(items, compare_items);
    for (guint i = 0; i < count; i++)
        nw_assembly_item_set_number(items->pdata[i], i + 1);
    g_ptr_array_unref(items);
    self->numbered = count;
    g_signal_emit(self, signals[NUMBERED], 0);
}

/* ---- progress ---------------------------------------------------------------------------- */

/* While what was adopted is examined, the list is as complete as it will be. The last ways out are
 * on their way to it for some moments longer than the search. */
static void look_at_adopted(NwSearchSession *self) {
    NwSearchProgress adopted;
    self->examining = FALSE;
    if (!nw_search_worker_has_adopted(self->worker, &adopted) ||
        self->progress.state == NW_SEARCH_FAILED ||
        (self->progress.state == NW_SEARCH_COMPLETE && self->learned >= self->progress.found))
        return;
    self->examining = TRUE;
    self->progress = adopted;
}

static void look_at_trouble(NwSearchSession *self) {
    GError *error = NULL;
    g_free(self->message);
    self->message = nw_search_worker_dup_trouble(self->worker);
    if (self->message || nw_search_results_check(&self->progress, &error))
        return;
    self->message = g_strdup(error->message);
    g_error_free(error);
}

/* Reads the state of the search; the list may lag behind it by what is still in the tray. */
static void look_at_progress(NwSearchSession *self) {
    gboolean was_examining = self->examining;
    nw_search_worker_progress(self->worker, &self->progress);
    look_at_trouble(self);
    NwWorkerState worker = nw_search_worker_get_state(self->worker);
    look_at_adopted(self);
    if (was_examining && !self->examining)
        self->numbered = 0; /* what was undecided may be no longer */
    gboolean waiting =
        self->state == NW_SEARCH_SESSION_IDLE || self->state == NW_SEARCH_SESSION_READING;
    if (self->state == NW_SEARCH_SESSION_RUNNING && worker == NW_SEARCH_WORKER_FAILED)
        self->state = NW_SEARCH_SESSION_FAILED;
    else if (self->state == NW_SEARCH_SESSION_RUNNING && self->progress.state == NW_SEARCH_COMPLETE)
        self->state = NW_SEARCH_SESSION_COMPLETE;
    else if ((self->state == NW_SEARCH_SESSION_RUNNING ||
              self->state == NW_SEARCH_SESSION_COMPLETE) &&
             self->progress.state == NW_SEARCH_FAILED)
        self->state = NW_SEARCH_SESSION_FAILED;
    else if (waiting && nw_search_worker_was_complete(self->worker))
        self->state = NW_SEARCH_SESSION_COMPLETE;
    else if (waiting && nw_search_worker_was_begun(self->worker))
        self->state = NW_SEARCH_SESSION_PAUSED;
    else if (waiting && worker != NW_SEARCH_WORKER_PREPARING)
        self->state = NW_SEARCH_SESSION_IDLE;
    else if (waiting && nw_search_worker_has_earlier(self->worker))
        self->state = NW_SEARCH_SESSION_READING;
    number_rows(self);
}

static gboolean on_tick(gpointer data) {
    NwSearchSession *self = data;
    look_at_progress(self);
    gboolean running = self->state == NW_SEARCH_SESSION_RUNNING || self->examining;
    if (!running)
        self->tick = 0;
    tell(self);
    return running ? G_SOURCE_CONTINUE : G_SOURCE_REMOVE;
}

/* The worker has laid something in the tray. */
static void on_call(gpointer data) {
    NwSearchSession *self = data;
    if (!self->worker)
        return;
    GPtrArray *rows = nw_search_worker_take(self->worker, ROWS_A_TURN);
    self->learned += nw_assembly_rows_take(self->findings, rows);
    g_ptr_array_unref(rows);
    if (self->tick) {
        number_rows(self);
    } else {
        look_at_progress(self);
        tell(self);
    }
}

static void make_worker(NwSearchSession *self, gboolean anew, NwFounds *told) {
    NwLibrary *library = nw_document_get_library(self->document);
    const NwDesign *design = nw_document_get_design(self->document);
    NwSearchOptions options = {.diagonals = self->diagonals};
    forget_findings(self);
    g_clear_pointer(&self->message, g_free);
    nw_design_free(self->design);
    self->design = nw_design_copy(design);
    self->version = nw_document_get_version(self->document);
    self->worker = nw_search_worker_new(design, nw_library_get_path(library), self->version,
                                        &options, anew, told, on_call, self);
}

/* Whether the store has a run of this version, by whatever options. */
static gboolean store_has_run(NwSearchSession *self, gint64 version) {
    return nw_library_has_run(nw_document_get_library(self->document), version);
}

/* What the store has comes into the list; the worker will tell how that stands. */
static void read_again(NwSearchSession *self) {
    make_worker(self, FALSE, NULL);
    self->state = NW_SEARCH_SESSION_READING;
}

/* A new version leaves the findings of the one before it standing, but stale. Another design, or
 * a version that was searched before (by undo, say), shows its own. */
static void on_version(NwSearchSession *self) {
    const NwDesign *design = nw_document_get_design(self->document);
    gint64 version = nw_document_get_version(self->document);
    if (!design) {
        forget_findings(self);
        g_clear_pointer(&self->design, nw_design_free);
        tell(self);
        return;
    }
    if (self->design && version == self->version && self->state != NW_SEARCH_SESSION_STALE)
        return;
    gboolean same_design = self->design && strcmp(self->design->name, design->name) == 0;
    if (store_has_run(self, version)) {
        read_again(self);
    } else if (same_design && g_list_model_get_n_items(G_LIST_MODEL(self->findings)) > 0) {
        drop_worker(self);
        self->state = NW_SEARCH_SESSION_STALE;
        self->examining = FALSE;
    } else {
        forget_findings(self);
        g_clear_pointer(&self->design, nw_design_free);
    }
    tell(self);
}

static void nw_search_session_dispose(GObject *object) {
    NwSearchSession *self = NW_SEARCH_SESSION(object);
    drop_worker(self);
    if (self->document)
        g_signal_handlers_disconnect_by_data(self->document, self);
    g_clear_object(&self->document);
    g_clear_object(&self->findings);
    G_OBJECT_CLASS(nw_search_session_parent_class)->dispose(object);
}

static void nw_search_session_finalize(GObject *object) {
    NwSearchSession *self = NW_SEARCH_SESSION(object);
    nw_design_free(self->design);
    g_free(self->message);
    G_OBJECT_CLASS(nw_search_session_parent_class)->finalize(object);
}

static void nw_search_session_class_init(NwSearchSessionClass *class) {
    G_OBJECT_CLASS(class)->dispose = nw_search_session_dispose;
    G_OBJECT_CLASS(class)->finalize = nw_search_session_finalize;
    static const char *const names[SIGNALS] = {"changed", "numbered"};
    for (int i = 0; i < SIGNALS; i++)
        signals[i] = g_signal_new(names[i], NW_TYPE_SEARCH_SESSION, G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 0);
}

static void nw_search_session_init(NwSearchSession *self) {
    self->findings = g_list_store_new(NW_TYPE_ASSEMBLY_ITEM);
    self->progress.seconds_left = -1;
}

NwSearchSession *nw_search_session_new(NwDocument *document) {
    NwSearchSession *self = g_object_new(NW_TYPE_SEARCH_SESSION, NULL);
    self->document = g_object_ref(document);
    g_signal_connect_swapped(document, "notify::version", G_CALLBACK(on_version), self);
    on_version(self);
    return self;
}

void nw_search_session_set_diagonals(NwSearchSession *self, gboolean diagonals) {
    if (self->diagonals == diagonals)
        return;
    self->diagonals = diagonals;
    nw_document_end_stroke(self->document);
    if (nw_document_get_design(self->document))
        make_worker(self, FALSE, NULL);
    tell(self);
}

gboolean nw_search_session_get_diagonals(NwSearchSession *self) {
    return self->diagonals;
}

static void go(NwSearchSession *self) {
    self->state = NW_SEARCH_SESSION_RUNNING;
    nw_search_worker_go(self->worker);
    if (!self->tick)
        self->tick = g_timeout_add(TICK_MILLISECONDS, on_tick, self);
    tell(self);
}

/* A fault that makes a search meaningless is told in words, and nothing is begun. Volumes that
 * cannot match are left to the search, which then proves that nothing fits. */
static gboolean refuse_faults(NwSearchSession *self, GError **error) {
    const NwDesign *design = nw_document_get_design(self->document);
    NwFault *faults;
    size_t count = nw_design_faults(design, &faults);
    gboolean refused = FALSE;
    for (size_t i = 0; i < count && !refused; i++) {
        if (nw_fault_is_about_size(&faults[i]))
            continue;
        char *text = nw_fault_text(design, &faults[i]);
        g_set_error(error, NW_SEARCH_ERROR, NW_SEARCH_ERROR_DESIGN, "%s", text);
        free(text);
        refused = TRUE;
    }
    free(faults);
    return refused;
}

gboolean nw_search_session_start(NwSearchSession *self, GError **error) {
    nw_document_end_stroke(self->document); /* what is searched is a version */
    if (refuse_faults(self, error))
        return FALSE;
    gboolean goes_on =
        self->worker && nw_search_worker_get_state(self->worker) != NW_SEARCH_WORKER_FAILED &&
        (self->state == NW_SEARCH_SESSION_PAUSED || self->state == NW_SEARCH_SESSION_COMPLETE ||
         self->state == NW_SEARCH_SESSION_READING);
    if (!goes_on)
        make_worker(self, FALSE, NULL);
    if (self->state != NW_SEARCH_SESSION_COMPLETE)
        go(self);
    return TRUE;
}

gboolean nw_search_session_start_anew(NwSearchSession *self, GError **error) {
    nw_document_end_stroke(self->document);
    if (refuse_faults(self, error))
        return FALSE;
    make_worker(self, TRUE, NULL);
    go(self);
    return TRUE;
}

gboolean nw_search_session_toggle(NwSearchSession *self, GError **error) {
    switch (self->state) {
    case NW_SEARCH_SESSION_RUNNING:
        nw_search_session_pause(self);
        return TRUE;
    case NW_SEARCH_SESSION_FAILED:
        return nw_search_session_start_anew(self, error);
    default:
        return nw_search_session_start(self, error);
    }
}

void nw_search_session_adopt(NwSearchSession *self, NwFounds *founds) {
    gboolean has_none = self->state == NW_SEARCH_SESSION_STALE ||
                        (self->state == NW_SEARCH_SESSION_IDLE && !self->worker);
    if (founds->count && has_none) {
        make_worker(self, FALSE, founds);
        self->adopted = TRUE;
        go(self);
    }
    nw_founds_clear(founds);
}

void nw_search_session_lend(NwSearchSession *self) {
    NwLibrary *library = nw_document_get_library(self->document);
    gboolean has_end = self->state == NW_SEARCH_SESSION_FAILED ||
                       (self->state == NW_SEARCH_SESSION_COMPLETE && !self->examining);
    if (has_end || nw_document_get_version(self->document) < 0 || nw_library_is_read_only(library))
        return;
    gboolean running = self->state == NW_SEARCH_SESSION_RUNNING;
    drop_worker(self);
    if (running)
        self->state = NW_SEARCH_SESSION_PAUSED;
    self->lent = TRUE;
    self->goes_on = running || self->examining;
    tell(self);
}

void nw_search_session_take_back(NwSearchSession *self) {
    if (!self->lent)
        return;
    gboolean goes_on = self->goes_on;
    self->lent = FALSE;
    if (!goes_on && !store_has_run(self, nw_document_get_version(self->document)))
        return;
    read_again(self);
    if (goes_on)
        go(self);
    else
        tell(self);
}

guint64 nw_search_session_get_reading(NwSearchSession *self) {
    return self->state == NW_SEARCH_SESSION_READING ? nw_search_worker_has_earlier(self->worker)
                                                    : 0;
}

gboolean nw_search_session_is_examining(NwSearchSession *self) {
    return self->examining;
}

/* Whether the list was known at once, as far as that can be told yet. */
static gboolean is_adopted(NwSearchSession *self) {
    NwSearchProgress adopted;
    return self->adopted &&
           (nw_search_worker_get_state(self->worker) == NW_SEARCH_WORKER_PREPARING ||
            nw_search_worker_has_adopted(self->worker, &adopted));
}

void nw_search_session_pause(NwSearchSession *self) {
    if (self->state != NW_SEARCH_SESSION_RUNNING || is_adopted(self))
        return;
    nw_search_worker_pause(self->worker);
    self->state = NW_SEARCH_SESSION_PAUSED;
    g_clear_handle_id(&self->tick, g_source_remove);
    look_at_progress(self);
    tell(self);
}

NwSearchSessionState nw_search_session_get_state(NwSearchSession *self) {
    return self->state;
}

void nw_search_session_get_progress(NwSearchSession *self, NwSearchProgress *progress) {
    *progress = self->progress;
}

/* Into the run of this version, if it is kept. */
static gboolean keep_improved(NwSearchSession *self, const NwFoundAssembly *finding,
                              GError **error) {
    NwLibrary *library = nw_document_get_library(self->document);
    if (self->version < 0 || nw_document_is_gone(self->document) ||
        nw_library_is_read_only(library))
        return TRUE;
    NwSearchOptions options = {.diagonals = self->diagonals};
    GError *failure = NULL;
    NwRunStore *record = nw_run_store_find(library, self->version, &options, &failure);
    gboolean kept = record ? nw_run_store_improve(record, finding, &failure) : !failure;
    nw_run_store_free(record);
    if (failure)
        g_propagate_error(error, failure);
    return kept;
}

NwAssemblyItem *nw_search_session_improve(NwSearchSession *self, NwAssemblyItem *item,
                                          NwFoundAssembly *finding, GError **error) {
    guint at, moved;
    const NwFoundAssembly *before = nw_assembly_item_get(item);
    if (!g_list_store_find(self->findings, item, &at)) {
        nw_found_assembly_free(finding);
        return NULL;
    }
    finding->key = before->key;
    finding->intended = before->intended;
    finding->drawn = before->drawn;
    keep_improved(self, finding, error);
    int difference = nw_assembly_item_get_difference(item, &moved);
    NwAssemblyItem *better =
        nw_assembly_item_new_take(finding, nw_assembly_item_get_order(item), difference, moved);
    nw_assembly_item_set_number(better, nw_assembly_item_get_number(item));
    gpointer rows[] = {better};
    g_list_store_splice(self->findings, at, 1, rows, 1);
    g_object_unref(better);
    return better;
}

GListModel *nw_search_session_get_assemblies(NwSearchSession *self) {
    return G_LIST_MODEL(self->findings);
}

const NwDesign *nw_search_session_get_design(NwSearchSession *self) {
    return self->design;
}

const char *nw_search_session_get_message(NwSearchSession *self) {
    return self->message;
}
