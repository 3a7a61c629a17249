#include "app/hunt.h"

#include <stdlib.h>

#include "app/clerk.h"
#include "app/finding_rows.h"
#include "design/faults.h"
#include "job/harvest.h"
#include "job/words.h"
#include "store/runs.h"

/* Rows taken in one turn of the main loop, and how often progress is looked at. */
enum { ROWS_A_TURN = 5000, TICK_MILLISECONDS = 150 };

struct _NwHunt {
    GObject parent;
    NwDocument *document;
    NwClerk *clerk;   /* NULL: no search for this version yet */
    NwDesign *design; /* what the findings belong to */
    gint64 version;   /* and which version that is */
    GListStore *findings;
    NwHuntState state;
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

G_DEFINE_FINAL_TYPE(NwHunt, nw_hunt, G_TYPE_OBJECT)

enum { CHANGED, NUMBERED, SIGNALS };
static guint signals[SIGNALS];

static void tell(NwHunt *self) {
    g_signal_emit(self, signals[CHANGED], 0);
}

/* Stops what runs (which saves it) and keeps its findings. */
static void drop_clerk(NwHunt *self) {
    self->lent = FALSE;
    g_clear_handle_id(&self->tick, g_source_remove);
    g_clear_pointer(&self->clerk, nw_clerk_free);
}

static void forget_findings(NwHunt *self) {
    drop_clerk(self);
    g_list_store_remove_all(self->findings);
    self->progress = (NwSearchProgress){.seconds_left = -1};
    self->state = NW_HUNT_IDLE;
    self->adopted = self->examining = FALSE;
    self->learned = self->numbered = 0;
}

/* ---- numbers ----------------------------------------------------------------------------- */

static int compare_items(gconstpointer a, gconstpointer b) {
    const NwFinding *first = nw_finding_item_get(*(NwFindingItem *const *)a);
    const NwFinding *second = nw_finding_item_get(*(NwFindingItem *const *)b);
    return nw_words_compare(&first, &second);
}

/* A number is the place in the order of lists, as it is for the command. It is given once the list
 * is complete, and does not change after that. */
static void number_rows(NwHunt *self) {
    GListModel *list = G_LIST_MODEL(self->findings);
    guint count = g_list_model_get_n_items(list);
    if (self->state != NW_HUNT_COMPLETE || count != self->progress.found || count == self->numbered)
        return;
    GPtrArray *items = g_ptr_array_new_full(count, g_object_unref);
    for (guint i = 0; i < count; i++)
        g_ptr_array_add(items, g_list_model_get_item(list, i));
    g_ptr_array_sort(items, compare_items);
    for (guint i = 0; i < count; i++)
        nw_finding_item_set_number(items->pdata[i], i + 1);
    g_ptr_array_unref(items);
    self->numbered = count;
    g_signal_emit(self, signals[NUMBERED], 0);
}

/* ---- progress ---------------------------------------------------------------------------- */

/* While what was adopted is examined, the list is as complete as it will be. The last ways out are
 * on their way to it for some moments longer than the search. */
static void look_at_adopted(NwHunt *self) {
    NwSearchProgress adopted;
    self->examining = FALSE;
    if (!nw_clerk_has_adopted(self->clerk, &adopted) || self->progress.state == NW_SEARCH_FAILED ||
        (self->progress.state == NW_SEARCH_COMPLETE && self->learned >= self->progress.found))
        return;
    self->examining = TRUE;
    self->progress = adopted;
}

static void look_at_trouble(NwHunt *self) {
    GError *error = NULL;
    g_free(self->message);
    self->message = nw_clerk_dup_trouble(self->clerk);
    if (self->message || nw_harvest_check(&self->progress, &error))
        return;
    self->message = g_strdup(error->message);
    g_error_free(error);
}

/* Reads the state of the search; the list may lag behind it by what is still in the tray. */
static void look_at_progress(NwHunt *self) {
    gboolean was_examining = self->examining;
    nw_clerk_progress(self->clerk, &self->progress);
    look_at_trouble(self);
    NwClerkState clerk = nw_clerk_get_state(self->clerk);
    look_at_adopted(self);
    if (was_examining && !self->examining)
        self->numbered = 0; /* what was undecided may be no longer */
    gboolean waiting = self->state == NW_HUNT_IDLE || self->state == NW_HUNT_READING;
    if (self->state == NW_HUNT_RUNNING && clerk == NW_CLERK_FAILED)
        self->state = NW_HUNT_FAILED;
    else if (self->state == NW_HUNT_RUNNING && self->progress.state == NW_SEARCH_COMPLETE)
        self->state = NW_HUNT_COMPLETE;
    else if ((self->state == NW_HUNT_RUNNING || self->state == NW_HUNT_COMPLETE) &&
             self->progress.state == NW_SEARCH_FAILED)
        self->state = NW_HUNT_FAILED;
    else if (waiting && nw_clerk_was_complete(self->clerk))
        self->state = NW_HUNT_COMPLETE;
    else if (waiting && nw_clerk_was_begun(self->clerk))
        self->state = NW_HUNT_PAUSED;
    else if (waiting && clerk != NW_CLERK_PREPARING)
        self->state = NW_HUNT_IDLE;
    else if (waiting && nw_clerk_has_earlier(self->clerk))
        self->state = NW_HUNT_READING;
    number_rows(self);
}

static gboolean on_tick(gpointer data) {
    NwHunt *self = data;
    look_at_progress(self);
    gboolean running = self->state == NW_HUNT_RUNNING || self->examining;
    if (!running)
        self->tick = 0;
    tell(self);
    return running ? G_SOURCE_CONTINUE : G_SOURCE_REMOVE;
}

/* The clerk has laid something in the tray. */
static void on_call(gpointer data) {
    NwHunt *self = data;
    if (!self->clerk)
        return;
    GPtrArray *rows = nw_clerk_take(self->clerk, ROWS_A_TURN);
    self->learned += nw_finding_rows_take(self->findings, rows);
    g_ptr_array_unref(rows);
    if (self->tick) {
        number_rows(self);
    } else {
        look_at_progress(self);
        tell(self);
    }
}

static void make_clerk(NwHunt *self, gboolean anew, NwFounds *told) {
    NwLibrary *library = nw_document_get_library(self->document);
    const NwDesign *design = nw_document_get_design(self->document);
    NwSearchOptions options = {.diagonals = self->diagonals};
    forget_findings(self);
    g_clear_pointer(&self->message, g_free);
    nw_design_free(self->design);
    self->design = nw_design_copy(design);
    self->version = nw_document_get_version(self->document);
    self->clerk = nw_clerk_new(design, nw_library_get_path(library), self->version, &options, anew,
                               told, on_call, self);
}

/* Whether the store has a run of this version, by whatever options. */
static gboolean store_has_run(NwHunt *self, gint64 version) {
    return nw_library_has_run(nw_document_get_library(self->document), version);
}

/* What the store has comes into the list; the clerk will tell how that stands. */
static void read_again(NwHunt *self) {
    make_clerk(self, FALSE, NULL);
    self->state = NW_HUNT_READING;
}

/* A new version leaves the findings of the one before it standing, but stale. Another design, or
 * a version that was searched before (by undo, say), shows its own. */
static void on_design_changed(NwHunt *self) {
    if (nw_document_in_stroke(self->document))
        return; /* no version yet */
    const NwDesign *design = nw_document_get_design(self->document);
    gint64 version = nw_document_get_version(self->document);
    if (!design) {
        forget_findings(self);
        g_clear_pointer(&self->design, nw_design_free);
        tell(self);
        return;
    }
    if (self->design && version == self->version && self->state != NW_HUNT_STALE)
        return;
    gboolean same_design = self->design && strcmp(self->design->name, design->name) == 0;
    if (store_has_run(self, version)) {
        read_again(self);
    } else if (same_design && g_list_model_get_n_items(G_LIST_MODEL(self->findings)) > 0) {
        drop_clerk(self);
        self->state = NW_HUNT_STALE;
        self->examining = FALSE;
    } else {
        forget_findings(self);
        g_clear_pointer(&self->design, nw_design_free);
    }
    tell(self);
}

static void nw_hunt_dispose(GObject *object) {
    NwHunt *self = NW_HUNT(object);
    drop_clerk(self);
    if (self->document)
        g_signal_handlers_disconnect_by_data(self->document, self);
    g_clear_object(&self->document);
    g_clear_object(&self->findings);
    G_OBJECT_CLASS(nw_hunt_parent_class)->dispose(object);
}

static void nw_hunt_finalize(GObject *object) {
    NwHunt *self = NW_HUNT(object);
    nw_design_free(self->design);
    g_free(self->message);
    G_OBJECT_CLASS(nw_hunt_parent_class)->finalize(object);
}

static void nw_hunt_class_init(NwHuntClass *class) {
    G_OBJECT_CLASS(class)->dispose = nw_hunt_dispose;
    G_OBJECT_CLASS(class)->finalize = nw_hunt_finalize;
    static const char *const names[SIGNALS] = {"changed", "numbered"};
    for (int i = 0; i < SIGNALS; i++)
        signals[i] = g_signal_new(names[i], NW_TYPE_HUNT, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 0);
}

static void nw_hunt_init(NwHunt *self) {
    self->findings = g_list_store_new(NW_TYPE_FINDING_ITEM);
    self->progress.seconds_left = -1;
}

NwHunt *nw_hunt_new(NwDocument *document) {
    NwHunt *self = g_object_new(NW_TYPE_HUNT, NULL);
    self->document = g_object_ref(document);
    g_signal_connect_swapped(document, "changed", G_CALLBACK(on_design_changed), self);
    on_design_changed(self);
    return self;
}

void nw_hunt_set_diagonals(NwHunt *self, gboolean diagonals) {
    if (self->diagonals == diagonals)
        return;
    self->diagonals = diagonals;
    nw_document_end_stroke(self->document);
    if (nw_document_get_design(self->document))
        make_clerk(self, FALSE, NULL);
    tell(self);
}

gboolean nw_hunt_get_diagonals(NwHunt *self) {
    return self->diagonals;
}

static void go(NwHunt *self) {
    self->state = NW_HUNT_RUNNING;
    nw_clerk_go(self->clerk);
    if (!self->tick)
        self->tick = g_timeout_add(TICK_MILLISECONDS, on_tick, self);
    tell(self);
}

/* A fault that makes a search meaningless is told in words, and nothing is begun. Volumes that
 * cannot match are left to the search, which then proves that nothing fits. */
static gboolean refuse_faults(NwHunt *self, GError **error) {
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

gboolean nw_hunt_start(NwHunt *self, GError **error) {
    nw_document_end_stroke(self->document); /* what is searched is a version */
    if (refuse_faults(self, error))
        return FALSE;
    gboolean goes_on = self->clerk && nw_clerk_get_state(self->clerk) != NW_CLERK_FAILED &&
                       (self->state == NW_HUNT_PAUSED || self->state == NW_HUNT_COMPLETE ||
                        self->state == NW_HUNT_READING);
    if (!goes_on)
        make_clerk(self, FALSE, NULL);
    if (self->state != NW_HUNT_COMPLETE)
        go(self);
    return TRUE;
}

gboolean nw_hunt_start_anew(NwHunt *self, GError **error) {
    nw_document_end_stroke(self->document);
    if (refuse_faults(self, error))
        return FALSE;
    make_clerk(self, TRUE, NULL);
    go(self);
    return TRUE;
}

void nw_hunt_adopt(NwHunt *self, NwFounds *founds) {
    gboolean has_none =
        self->state == NW_HUNT_STALE || (self->state == NW_HUNT_IDLE && !self->clerk);
    if (founds->count && has_none) {
        make_clerk(self, FALSE, founds);
        self->adopted = TRUE;
        go(self);
    }
    nw_founds_clear(founds);
}

void nw_hunt_lend(NwHunt *self) {
    NwLibrary *library = nw_document_get_library(self->document);
    gboolean has_end =
        self->state == NW_HUNT_FAILED || (self->state == NW_HUNT_COMPLETE && !self->examining);
    if (has_end || nw_document_get_version(self->document) < 0 || nw_library_is_read_only(library))
        return;
    gboolean running = self->state == NW_HUNT_RUNNING;
    drop_clerk(self);
    if (running)
        self->state = NW_HUNT_PAUSED;
    self->lent = TRUE;
    self->goes_on = running || self->examining;
    tell(self);
}

void nw_hunt_take_back(NwHunt *self) {
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

guint64 nw_hunt_get_reading(NwHunt *self) {
    return self->state == NW_HUNT_READING ? nw_clerk_has_earlier(self->clerk) : 0;
}

gboolean nw_hunt_is_examining(NwHunt *self) {
    return self->examining;
}

/* Whether the list was known at once, as far as that can be told yet. */
static gboolean is_adopted(NwHunt *self) {
    NwSearchProgress adopted;
    return self->adopted && (nw_clerk_get_state(self->clerk) == NW_CLERK_PREPARING ||
                             nw_clerk_has_adopted(self->clerk, &adopted));
}

void nw_hunt_pause(NwHunt *self) {
    if (self->state != NW_HUNT_RUNNING || is_adopted(self))
        return;
    nw_clerk_pause(self->clerk);
    self->state = NW_HUNT_PAUSED;
    g_clear_handle_id(&self->tick, g_source_remove);
    look_at_progress(self);
    tell(self);
}

NwHuntState nw_hunt_get_state(NwHunt *self) {
    return self->state;
}

void nw_hunt_get_progress(NwHunt *self, NwSearchProgress *progress) {
    *progress = self->progress;
}

GListModel *nw_hunt_get_findings(NwHunt *self) {
    return G_LIST_MODEL(self->findings);
}

const NwDesign *nw_hunt_get_design(NwHunt *self) {
    return self->design;
}

const char *nw_hunt_get_message(NwHunt *self) {
    return self->message;
}
