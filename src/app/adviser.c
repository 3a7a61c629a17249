#include "app/adviser.h"

#include <glib/gi18n.h>

#include "app/act.h"
#include "app/hunt_founds.h"

struct _NwAdviser {
    GObject parent;
    NwDocument *document;
    NwHunt *hunt;
    NwCounsel *counsel; /* NULL while idle or stopped */
    gint64 version;     /* that was asked about */
    guint64 cook;
    gboolean pairs, diagonals;
    NwAdviserState state;
    NwStatus status;
    NwAdvisorProgress progress;
    char *trouble;
    gboolean has_front;
    NwFront front;
    GListStore *list;
    GArray *misses;
};

G_DEFINE_FINAL_TYPE(NwAdviser, nw_adviser, G_TYPE_OBJECT)

enum { CHANGED, SIGNALS };
static guint signals[SIGNALS];

static void tell(NwAdviser *self) {
    g_signal_emit(self, signals[CHANGED], 0);
}

static const NwAdviserState states[] = {
    [NW_COUNSEL_PREPARING] = NW_ADVISER_PREPARING, [NW_COUNSEL_WORKING] = NW_ADVISER_WORKING,
    [NW_COUNSEL_PAUSED] = NW_ADVISER_PAUSED,       [NW_COUNSEL_DONE] = NW_ADVISER_DONE,
    [NW_COUNSEL_FAILED] = NW_ADVISER_FAILED,
};

/* Everything that the counsel has to tell. */
static void take(NwAdviser *self) {
    self->state = states[nw_counsel_get_state(self->counsel)];
    self->status = nw_counsel_get_status(self->counsel);
    nw_counsel_progress(self->counsel, &self->progress);
    self->has_front = nw_counsel_get_front(self->counsel, &self->front);
    g_free(self->trouble);
    self->trouble = nw_counsel_dup_trouble(self->counsel);
    g_clear_pointer(&self->misses, g_array_unref);
    self->misses = nw_counsel_dup_misses(self->counsel);
    GPtrArray *rows = nw_counsel_take(self->counsel);
    if (rows->len)
        g_list_store_splice(self->list, g_list_model_get_n_items(G_LIST_MODEL(self->list)), 0,
                            rows->pdata, rows->len);
    g_ptr_array_unref(rows);
}

static void on_call(gpointer data) {
    NwAdviser *self = data;
    if (!self->counsel)
        return;
    take(self);
    tell(self);
}

static void clear(NwAdviser *self) {
    g_clear_pointer(&self->counsel, nw_counsel_free);
    g_list_store_remove_all(self->list);
    g_array_set_size(self->misses, 0);
    self->progress = (NwAdvisorProgress){0};
    self->has_front = FALSE;
    g_clear_pointer(&self->trouble, g_free);
    self->state = NW_ADVISER_IDLE;
    self->status = NW_OK;
}

void nw_adviser_ask(NwAdviser *self, guint64 cook, gboolean pairs) {
    nw_document_end_stroke(self->document); /* what is asked about is a version */
    const NwDesign *design = nw_document_get_design(self->document);
    NwAdvisorOptions options = {
        .ground = {.diagonals = nw_hunt_get_diagonals(self->hunt)}, .cook = cook, .pairs = pairs};
    NwLibrary *library = nw_document_get_library(self->document);
    clear(self);
    if (!design)
        return;
    NwFounds founds = nw_hunt_founds(self->hunt);
    self->version = nw_document_get_version(self->document);
    self->cook = cook;
    self->pairs = pairs;
    self->diagonals = options.ground.diagonals;
    self->state = NW_ADVISER_PREPARING;
    self->counsel = nw_counsel_new(design, nw_library_get_path(library), self->version, &options,
                                   &founds, on_call, self);
    tell(self);
}

void nw_adviser_pause(NwAdviser *self) {
    if (self->counsel)
        nw_counsel_pause(self->counsel);
}

void nw_adviser_go_on(NwAdviser *self) {
    if (self->counsel)
        nw_counsel_go(self->counsel);
}

void nw_adviser_stop(NwAdviser *self) {
    if (!self->counsel || self->state == NW_ADVISER_DONE || self->state == NW_ADVISER_FAILED)
        return;
    take(self);
    g_clear_pointer(&self->counsel, nw_counsel_free);
    self->state = NW_ADVISER_STOPPED;
    tell(self);
}

void nw_adviser_drop(NwAdviser *self) {
    if (self->state == NW_ADVISER_IDLE)
        return;
    clear(self);
    tell(self);
}

NwAdviserState nw_adviser_get_state(NwAdviser *self) {
    return self->state;
}

NwStatus nw_adviser_get_status(NwAdviser *self) {
    return self->status;
}

guint64 nw_adviser_get_cook(NwAdviser *self) {
    return self->cook;
}

gboolean nw_adviser_get_pairs(NwAdviser *self) {
    return self->pairs;
}

const char *nw_adviser_get_trouble(NwAdviser *self) {
    return self->trouble;
}

void nw_adviser_get_progress(NwAdviser *self, NwAdvisorProgress *progress) {
    *progress = self->progress;
}

gboolean nw_adviser_get_front(NwAdviser *self, NwFront *front) {
    gboolean goes_on = self->state == NW_ADVISER_WORKING || self->state == NW_ADVISER_PAUSED;
    *front = self->front;
    return goes_on && self->has_front;
}

GListModel *nw_adviser_get_list(NwAdviser *self) {
    return G_LIST_MODEL(self->list);
}

const GArray *nw_adviser_get_misses(NwAdviser *self) {
    return self->misses;
}

/* ---- applying ---------------------------------------------------------------------------- */

/* The design that was proved, in which every piece is drawn where it stands, takes the place of the
 * one that was asked about, which is the one in `design`: the version tells. */
static NwStatus apply(NwDesign *design, gpointer data) {
    NwDesign *proved = nw_design_copy(nw_advice_get_after(data)), old = *design;
    *design = *proved;
    *proved = old;
    nw_design_free(proved);
    return NW_OK;
}

/* What the proof has found becomes the list, if it is about the slides that the hunt now allows.
 * A search would find the same. */
static void hand_over(NwAdviser *self, NwAdvice *advice) {
    size_t bodies = nw_advice_get_after(advice)->intended_count;
    NwFounds founds = nw_founds_copy(nw_advice_get_founds(advice), bodies);
    if (founds.count && self->diagonals == nw_hunt_get_diagonals(self->hunt))
        nw_hunt_adopt(self->hunt, &founds);
    else
        nw_hunt_start(self->hunt, NULL); /* a proved design has no fault to refuse */
    nw_founds_clear(&founds);
}

gboolean nw_adviser_apply(NwAdviser *self, NwAdvice *advice) {
    const NwAdviceFacts *facts = nw_advice_get_facts(advice);
    if (nw_document_get_version(self->document) != self->version)
        return FALSE;
    for (int i = 0; i < facts->count; i++) {
        const NwChange *change = &facts->changes[i];
        if ((change->from >= 0 && !nw_act_may_change(self->document, change->from)) ||
            (change->to >= 0 && !nw_act_may_change(self->document, change->to)))
            return FALSE;
    }
    /* The list of the adviser is dropped while the document changes. */
    g_object_ref(advice);
    gboolean applied = nw_document_apply(self->document, _("Block a cook"), apply, advice);
    if (applied)
        hand_over(self, advice);
    g_object_unref(advice);
    return applied;
}

/* ---- the object -------------------------------------------------------------------------- */

static void on_design_changed(NwAdviser *self) {
    if (self->state != NW_ADVISER_IDLE && nw_document_get_version(self->document) != self->version)
        nw_adviser_drop(self);
}

static void nw_adviser_dispose(GObject *object) {
    NwAdviser *self = NW_ADVISER(object);
    g_clear_pointer(&self->counsel, nw_counsel_free);
    if (self->document)
        g_signal_handlers_disconnect_by_data(self->document, self);
    g_clear_object(&self->document);
    g_clear_object(&self->hunt);
    g_clear_object(&self->list);
    g_clear_pointer(&self->misses, g_array_unref);
    g_clear_pointer(&self->trouble, g_free);
    G_OBJECT_CLASS(nw_adviser_parent_class)->dispose(object);
}

static void nw_adviser_class_init(NwAdviserClass *class) {
    G_OBJECT_CLASS(class)->dispose = nw_adviser_dispose;
    signals[CHANGED] = g_signal_new("changed", NW_TYPE_ADVISER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 0);
}

static void nw_adviser_init(NwAdviser *self) {
    self->list = g_list_store_new(NW_TYPE_ADVICE);
    self->misses = g_array_new(FALSE, FALSE, sizeof(NwMiss));
}

NwAdviser *nw_adviser_new(NwDocument *document, NwHunt *hunt) {
    NwAdviser *self = g_object_new(NW_TYPE_ADVISER, NULL);
    self->document = g_object_ref(document);
    self->hunt = g_object_ref(hunt);
    g_signal_connect_swapped(document, "changed", G_CALLBACK(on_design_changed), self);
    return self;
}
