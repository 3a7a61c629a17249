#include "session/block_session.h"

#include <glib/gi18n.h>

#include "session/edit_command.h"
#include "session/search_import.h"

struct _NwBlockSession {
    GObject parent;
    NwDocument *document;
    NwSearchSession *session;
    NwBlockWorker *worker; /* NULL while idle or stopped */
    gint64 version;        /* that was asked about */
    guint64 cook;
    gboolean pairs, diagonals;
    NwBlockSessionState state;
    NwStatus status;
    NwAdvisorProgress progress;
    char *trouble;
    gboolean has_front;
    NwFront front;
    GListStore *list;
    GArray *misses;
};

G_DEFINE_FINAL_TYPE(NwBlockSession, nw_block_session, G_TYPE_OBJECT)

enum { CHANGED, SIGNALS };
static guint signals[SIGNALS];

static void tell(NwBlockSession *self) {
    g_signal_emit(self, signals[CHANGED], 0);
}

static const NwBlockSessionState states[] = {
    [NW_BLOCK_WORKER_PREPARING] = NW_BLOCK_SESSION_PREPARING,
    [NW_BLOCK_WORKER_WORKING] = NW_BLOCK_SESSION_WORKING,
    [NW_BLOCK_WORKER_PAUSED] = NW_BLOCK_SESSION_PAUSED,
    [NW_BLOCK_WORKER_DONE] = NW_BLOCK_SESSION_DONE,
    [NW_BLOCK_WORKER_FAILED] = NW_BLOCK_SESSION_FAILED,
};

/* Everything that the worker has to tell. */
static void take(NwBlockSession *self) {
    self->state = states[nw_block_worker_get_state(self->worker)];
    self->status = nw_block_worker_get_status(self->worker);
    nw_block_worker_progress(self->worker, &self->progress);
    self->has_front = nw_block_worker_get_front(self->worker, &self->front);
    g_free(self->trouble);
    self->trouble = nw_block_worker_dup_trouble(self->worker);
    g_clear_pointer(&self->misses, g_array_unref);
    self->misses = nw_block_worker_dup_misses(self->worker);
    GPtrArray *rows = nw_block_worker_take(self->worker);
    if (rows->len)
        g_list_store_splice(self->list, g_list_model_get_n_items(G_LIST_MODEL(self->list)), 0,
                            rows->pdata, rows->len);
    g_ptr_array_unref(rows);
}

static void on_call(gpointer data) {
    NwBlockSession *self = data;
    if (!self->worker)
        return;
    take(self);
    tell(self);
}

static void clear(NwBlockSession *self) {
    g_clear_pointer(&self->worker, nw_block_worker_free);
    g_list_store_remove_all(self->list);
    g_array_set_size(self->misses, 0);
    self->progress = (NwAdvisorProgress){0};
    self->has_front = FALSE;
    g_clear_pointer(&self->trouble, g_free);
    self->state = NW_BLOCK_SESSION_IDLE;
    self->status = NW_OK;
}

void nw_block_session_ask(NwBlockSession *self, guint64 cook, gboolean pairs) {
    nw_document_end_stroke(self->document); /* what is asked about is a version */
    const NwDesign *design = nw_document_get_design(self->document);
    NwAdvisorOptions options = {
        .baseline = {.diagonals = nw_search_session_get_diagonals(self->session)},
        .cook = cook,
        .pairs = pairs};
    NwLibrary *library = nw_document_get_library(self->document);
    clear(self);
    if (!design)
        return;
    NwFounds founds = nw_search_session_founds(self->session);
    self->version = nw_document_get_version(self->document);
    self->cook = cook;
    self->pairs = pairs;
    self->diagonals = options.baseline.diagonals;
    self->state = NW_BLOCK_SESSION_PREPARING;
    self->worker = nw_block_worker_new(design, nw_library_get_path(library), self->version,
                                       &options, &founds, on_call, self);
    tell(self);
}

void nw_block_session_pause(NwBlockSession *self) {
    if (self->worker)
        nw_block_worker_pause(self->worker);
}

void nw_block_session_go_on(NwBlockSession *self) {
    if (self->worker)
        nw_block_worker_go(self->worker);
}

void nw_block_session_stop(NwBlockSession *self) {
    if (!self->worker || self->state == NW_BLOCK_SESSION_DONE ||
        self->state == NW_BLOCK_SESSION_FAILED)
        return;
    take(self);
    g_clear_pointer(&self->worker, nw_block_worker_free);
    self->state = NW_BLOCK_SESSION_STOPPED;
    tell(self);
}

void nw_block_session_drop(NwBlockSession *self) {
    if (self->state == NW_BLOCK_SESSION_IDLE)
        return;
    clear(self);
    tell(self);
}

NwBlockSessionState nw_block_session_get_state(NwBlockSession *self) {
    return self->state;
}

NwStatus nw_block_session_get_status(NwBlockSession *self) {
    return self->status;
}

guint64 nw_block_session_get_cook(NwBlockSession *self) {
    return self->cook;
}

gboolean nw_block_session_get_pairs(NwBlockSession *self) {
    return self->pairs;
}

const char *nw_block_session_get_trouble(NwBlockSession *self) {
    return self->trouble;
}

void nw_block_session_get_progress(NwBlockSession *self, NwAdvisorProgress *progress) {
    *progress = self->progress;
}

gboolean nw_block_session_get_front(NwBlockSession *self, NwFront *front) {
    gboolean goes_on =
        self->state == NW_BLOCK_SESSION_WORKING || self->state == NW_BLOCK_SESSION_PAUSED;
    *front = self->front;
    return goes_on && self->has_front;
}

GListModel *nw_block_session_get_list(NwBlockSession *self) {
    return G_LIST_MODEL(self->list);
}

const GArray *nw_block_session_get_misses(NwBlockSession *self) {
    return self->misses;
}

/* ---- applying ---------------------------------------------------------------------------- */

/* The design that was proved, in which every piece is drawn where it stands, takes the place of the
 * one that was asked about, which is the one in `design`: the version tells. */
static NwStatus apply(NwDesign *design, gpointer data) {
    NwDesign *proved = nw_design_copy(nw_proposal_item_get_after(data)), old = *design;
    *design = *proved;
    *proved = old;
    nw_design_free(proved);
    return NW_OK;
}

/* What the proof has found becomes the list, if it is about the slides that the search now allows.
 * A search would find the same. */
static void hand_over(NwBlockSession *self, NwProposalItem *advice) {
    size_t bodies = nw_proposal_item_get_after(advice)->intended_count;
    NwFounds founds = nw_founds_copy(nw_proposal_item_get_founds(advice), bodies);
    if (founds.count && self->diagonals == nw_search_session_get_diagonals(self->session))
        nw_search_session_adopt(self->session, &founds);
    else
        nw_search_session_start(self->session, NULL); /* a proved design has no fault to refuse */
    nw_founds_clear(&founds);
}

gboolean nw_block_session_apply(NwBlockSession *self, NwProposalItem *advice) {
    const NwProposalFacts *facts = nw_proposal_item_get_facts(advice);
    if (nw_document_get_version(self->document) != self->version)
        return FALSE;
    for (int i = 0; i < facts->count; i++) {
        const NwChange *change = &facts->changes[i];
        if ((change->from >= 0 && !nw_command_may_change(self->document, change->from)) ||
            (change->to >= 0 && !nw_command_may_change(self->document, change->to)))
            return FALSE;
    }
    /* The list of the block session is dropped while the document changes. */
    g_object_ref(advice);
    gboolean applied = nw_document_apply(self->document, _("Block a cook"), apply, advice);
    if (applied)
        hand_over(self, advice);
    g_object_unref(advice);
    return applied;
}

/* ---- the object -------------------------------------------------------------------------- */

static void on_version(NwBlockSession *self) {
    if (self->state != NW_BLOCK_SESSION_IDLE &&
        nw_document_get_version(self->document) != self->version)
        nw_block_session_drop(self);
}

static void nw_block_session_dispose(GObject *object) {
    NwBlockSession *self = NW_BLOCK_SESSION(object);
    g_clear_pointer(&self->worker, nw_block_worker_free);
    if (self->document)
        g_signal_handlers_disconnect_by_data(self->document, self);
    g_clear_object(&self->document);
    g_clear_object(&self->session);
    g_clear_object(&self->list);
    g_clear_pointer(&self->misses, g_array_unref);
    g_clear_pointer(&self->trouble, g_free);
    G_OBJECT_CLASS(nw_block_session_parent_class)->dispose(object);
}

static void nw_block_session_class_init(NwBlockSessionClass *class) {
    G_OBJECT_CLASS(class)->dispose = nw_block_session_dispose;
    signals[CHANGED] = g_signal_new("changed", NW_TYPE_BLOCK_SESSION, G_SIGNAL_RUN_LAST, 0, NULL,
                                    NULL, NULL, G_TYPE_NONE, 0);
}

static void nw_block_session_init(NwBlockSession *self) {
    self->list = g_list_store_new(NW_TYPE_PROPOSAL_ITEM);
    self->misses = g_array_new(FALSE, FALSE, sizeof(NwMiss));
}

NwBlockSession *nw_block_session_new(NwDocument *document, NwSearchSession *session) {
    NwBlockSession *self = g_object_new(NW_TYPE_BLOCK_SESSION, NULL);
    self->document = g_object_ref(document);
    self->session = g_object_ref(session);
    g_signal_connect_swapped(document, "notify::version", G_CALLBACK(on_version), self);
    return self;
}
