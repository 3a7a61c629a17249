#include "app/document.h"

#include <glib/gi18n.h>

#include "design/edit.h"
#include "design/frame.h"
#include "store/history.h"

/* What a stroke in hand changes: the design or the selection, kept to be given back on cancel. */
typedef struct Stroke {
    gboolean active;
    NwTouch touch;
    NwDesign *before;
    NwSolid *selection_before;
} Stroke;

struct _NwDocument {
    GObject parent;
    NwLibrary *library;
    NwDesign *design;
    gint64 design_id, version;
    gint64 saved;       /* the version last read or written */
    gint64 unsaved;     /* the number of the last one that could not be saved */
    NwHistory *history; /* NULL where it could not be read */
    Stroke stroke;

    int piece;
    char *solo; /* the name of the piece that is shown alone, or NULL */
    NwSolid *selection;
    NwBrush brush;
    NwTouch touch;
    GHashTable *flags; /* by the name of the piece */
};

G_DEFINE_FINAL_TYPE(NwDocument, nw_document, G_TYPE_OBJECT)

enum { CHANGED, SELECTED, TROUBLE, SIGNALS };
static guint signals[SIGNALS];

static void tell(NwDocument *self, int signal) {
    g_signal_emit(self, signals[signal], 0);
}

static void tell_trouble(NwDocument *self, const char *message) {
    g_signal_emit(self, signals[TROUBLE], 0, message);
}

static void take_trouble(NwDocument *self, GError *error) {
    tell_trouble(self, error->message);
    g_error_free(error);
}

static void clear_stroke(NwDocument *self) {
    nw_design_free(self->stroke.before);
    nw_solid_free(self->stroke.selection_before);
    self->stroke = (Stroke){0};
}

static void nw_document_finalize(GObject *object) {
    NwDocument *self = NW_DOCUMENT(object);
    clear_stroke(self);
    nw_design_free(self->design);
    nw_solid_free(self->selection);
    g_hash_table_unref(self->flags);
    g_free(self->solo);
    if (self->history)
        nw_history_free(self->history);
    G_OBJECT_CLASS(nw_document_parent_class)->finalize(object);
}

static void nw_document_class_init(NwDocumentClass *class) {
    G_OBJECT_CLASS(class)->finalize = nw_document_finalize;
    signals[CHANGED] = g_signal_new("changed", NW_TYPE_DOCUMENT, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 0);
    signals[SELECTED] = g_signal_new("selected", NW_TYPE_DOCUMENT, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                     NULL, G_TYPE_NONE, 0);
    signals[TROUBLE] = g_signal_new("trouble", NW_TYPE_DOCUMENT, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void nw_document_init(NwDocument *self) {
    self->piece = -1;
    self->selection = nw_solid_new();
    self->flags = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
}

NwDocument *nw_document_new(NwLibrary *library) {
    NwDocument *self = g_object_new(NW_TYPE_DOCUMENT, NULL);
    self->library = library;
    return self;
}

NwLibrary *nw_document_get_library(NwDocument *self) {
    return self->library;
}

const NwDesign *nw_document_get_design(NwDocument *self) {
    return self->design;
}

gint64 nw_document_get_design_id(NwDocument *self) {
    return self->design_id;
}

gint64 nw_document_get_version(NwDocument *self) {
    return self->version;
}

/* ---- opening and going about in time ----------------------------------------------------- */

static void read_history(NwDocument *self) {
    g_clear_pointer(&self->history, nw_history_free);
    self->history = nw_library_load_history(self->library, self->design_id, NULL);
}

/* Pointers at what is no longer there are let go. */
static void mend_pointers(NwDocument *self) {
    int count = (int)self->design->piece_count;
    if (self->piece >= count)
        self->piece = count - 1;
    if (self->piece < 0 && count)
        self->piece = 0;
    if (nw_document_get_solo(self) < 0)
        g_clear_pointer(&self->solo, g_free);
    NwSolid *inside = nw_solid_intersection(self->selection, self->design->envelope);
    nw_solid_free(self->selection);
    self->selection = inside;
}

/* Shows a version that is in the store already. */
static gboolean show_version(NwDocument *self, gint64 version, GError **error) {
    NwDesign *design = nw_library_load_design(self->library, version, error);
    if (!design)
        return FALSE;
    nw_design_settle(design); /* one that cannot be settled is shown as it is drawn */
    clear_stroke(self);
    nw_design_free(self->design);
    self->design = design;
    self->version = self->saved = version;
    read_history(self);
    mend_pointers(self);
    tell(self, CHANGED);
    return TRUE;
}

gboolean nw_document_open(NwDocument *self, const char *name, GError **error) {
    NwDesignEntry *entry = nw_library_find_design(self->library, name, error);
    if (!entry)
        return FALSE;
    self->design_id = entry->id;
    gint64 version = entry->current_version;
    nw_design_entry_free(entry);
    self->piece = -1;
    g_clear_pointer(&self->solo, g_free);
    g_hash_table_remove_all(self->flags);
    nw_document_take_selection(self, nw_solid_new());
    return show_version(self, version, error);
}

gboolean nw_document_create(NwDocument *self, const NwDesign *design, GError **error) {
    NwDesign *settled = nw_design_copy(design);
    nw_design_settle(settled);
    gboolean added = nw_library_add_design(self->library, settled, NULL, NULL, NULL, error) &&
                     nw_document_open(self, settled->name, error);
    nw_design_free(settled);
    return added;
}

void nw_document_close(NwDocument *self) {
    clear_stroke(self);
    g_clear_pointer(&self->design, nw_design_free);
    g_clear_pointer(&self->history, nw_history_free);
    self->design_id = self->version = self->saved = 0;
    self->piece = -1;
    tell(self, CHANGED);
}

gboolean nw_document_go_to_version(NwDocument *self, gint64 version) {
    GError *error = NULL;
    if (nw_library_set_current(self->library, self->design_id, version, &error) &&
        show_version(self, version, &error))
        return TRUE;
    take_trouble(self, error);
    return FALSE;
}

static gboolean step(NwDocument *self, gboolean (*go)(NwLibrary *, gint64, gint64 *, GError **)) {
    gint64 version;
    GError *error = NULL;
    nw_document_cancel_stroke(self);
    if (go(self->library, self->design_id, &version, &error) && show_version(self, version, &error))
        return TRUE;
    take_trouble(self, error);
    return FALSE;
}

static gboolean is_saved(NwDocument *self) {
    return self->version >= 0;
}

static gboolean back_to_saved(NwDocument *self) {
    GError *error = NULL;
    if (show_version(self, self->saved, &error))
        return TRUE;
    take_trouble(self, error);
    return FALSE;
}

gboolean nw_document_undo(NwDocument *self) {
    if (!is_saved(self))
        return back_to_saved(self);
    return self->history && self->history->undo && step(self, nw_library_undo);
}

gboolean nw_document_redo(NwDocument *self) {
    return is_saved(self) && self->history && self->history->redo && step(self, nw_library_redo);
}

static char *dup_action(gint64 version, const char *action) {
    if (!version)
        return NULL;
    return g_strdup(action && *action ? action : _("Edit"));
}

char *nw_document_dup_undo(NwDocument *self) {
    if (!is_saved(self))
        return g_strdup(_("Everything since it was last saved"));
    return self->history ? dup_action(self->history->undo, self->history->undo_action) : NULL;
}

char *nw_document_dup_redo(NwDocument *self) {
    return self->history && is_saved(self)
               ? dup_action(self->history->redo, self->history->redo_action)
               : NULL;
}

/* ---- changing it ------------------------------------------------------------------------- */

/* Writes the design as it is now as a version. What cannot be saved is shown all the same: the
 * maker's work stays on the bench, with a word on what is wrong. */
static void save(NwDocument *self, const char *what) {
    GError *error = NULL;
    if (nw_library_save_edit(self->library, self->design_id, self->design, what, &self->saved,
                             &error)) {
        self->version = self->saved;
    } else {
        self->version = --self->unsaved;
        take_trouble(self, error);
    }
    read_history(self);
    mend_pointers(self);
    tell(self, CHANGED);
}

gboolean nw_document_apply(NwDocument *self, const char *what, NwDocumentEdit *edit,
                           gpointer data) {
    if (!self->design)
        return FALSE;
    NwDesign *changed = nw_design_copy(self->design);
    NwStatus status = edit(changed, data);
    if (status != NW_OK) {
        nw_design_free(changed);
        return FALSE;
    }
    nw_document_cancel_stroke(self);
    nw_design_free(self->design);
    self->design = changed;
    save(self, what);
    return TRUE;
}

void nw_document_begin_stroke(NwDocument *self, NwTouch touch) {
    if (!self->design || self->stroke.active)
        return;
    self->stroke = (Stroke){.active = TRUE, .touch = touch};
    self->stroke.before = nw_design_copy(self->design);
    self->stroke.selection_before = nw_solid_copy(self->selection);
}

gboolean nw_document_in_stroke(NwDocument *self) {
    return self->stroke.active;
}

void nw_document_touch(NwDocument *self, const NwSolid *parts) {
    if (!self->stroke.active)
        return;
    NwEdit edit = {.design = self->design, .locked = nw_document_get_locked(self)};
    switch (self->stroke.touch) {
    case NW_TOUCH_GIVE:
        if (self->piece >= 0)
            nw_edit_give(&edit, parts, self->piece);
        break;
    case NW_TOUCH_TAKE:
        nw_edit_take(&edit, parts);
        break;
    case NW_TOUCH_SELECT:
        nw_document_take_selection(self, nw_solid_union(self->selection, parts));
        break;
    case NW_TOUCH_UNSELECT:
        nw_document_take_selection(self, nw_solid_difference(self->selection, parts));
        break;
    }
    if (edit.changed)
        tell(self, CHANGED);
}

static gboolean same_pieces(const NwDesign *a, const NwDesign *b) {
    for (size_t i = 0; i < a->piece_count; i++)
        if (!nw_solid_equal(a->pieces[i].solid, b->pieces[i].solid))
            return FALSE;
    return TRUE;
}

void nw_document_end_stroke(NwDocument *self) {
    if (!self->stroke.active)
        return;
    gboolean changed = !same_pieces(self->stroke.before, self->design);
    gboolean gave = self->stroke.touch == NW_TOUCH_GIVE;
    clear_stroke(self);
    if (changed)
        save(self, gave ? _("Give parts") : _("Take parts away"));
}

void nw_document_cancel_stroke(NwDocument *self) {
    if (!self->stroke.active)
        return;
    nw_design_free(self->design);
    self->design = g_steal_pointer(&self->stroke.before);
    nw_document_take_selection(self, g_steal_pointer(&self->stroke.selection_before));
    clear_stroke(self);
    tell(self, CHANGED);
}

/* ---- pointing at it ---------------------------------------------------------------------- */

int nw_document_get_piece(NwDocument *self) {
    return self->piece;
}

void nw_document_set_piece(NwDocument *self, int piece) {
    int count = self->design ? (int)self->design->piece_count : 0;
    piece = CLAMP(piece, -1, count - 1);
    if (piece == self->piece)
        return;
    self->piece = piece;
    tell(self, SELECTED);
}

const NwSolid *nw_document_get_selection(NwDocument *self) {
    return self->selection;
}

void nw_document_take_selection(NwDocument *self, NwSolid *selection) {
    gboolean same = nw_solid_equal(self->selection, selection);
    nw_solid_free(self->selection);
    self->selection = selection;
    if (!same)
        tell(self, SELECTED);
}

NwTouch nw_document_get_touch(NwDocument *self) {
    return self->touch;
}

void nw_document_set_touch(NwDocument *self, NwTouch touch) {
    if (touch == self->touch)
        return;
    self->touch = touch;
    tell(self, SELECTED);
}

NwBrush nw_document_get_brush(NwDocument *self) {
    return self->brush;
}

void nw_document_set_brush(NwDocument *self, NwBrush brush) {
    if (brush == self->brush)
        return;
    self->brush = brush;
    tell(self, SELECTED);
}

static const char *name_of(NwDocument *self, int piece) {
    if (!self->design || piece < 0 || (size_t)piece >= self->design->piece_count)
        return NULL;
    return self->design->pieces[piece].name;
}

guint nw_document_get_flags(NwDocument *self, int piece) {
    const char *name = name_of(self, piece);
    return name ? GPOINTER_TO_UINT(g_hash_table_lookup(self->flags, name)) : 0;
}

void nw_document_set_flag(NwDocument *self, int piece, NwPieceFlag flag, gboolean on) {
    const char *name = name_of(self, piece);
    guint before = nw_document_get_flags(self, piece);
    guint flags = on ? before | flag : before & ~(guint)flag;
    if (!name || flags == before)
        return;
    g_hash_table_insert(self->flags, g_strdup(name), GUINT_TO_POINTER(flags));
    tell(self, SELECTED);
}

int nw_document_get_solo(NwDocument *self) {
    int count = self->solo && self->design ? (int)self->design->piece_count : 0;
    for (int piece = 0; piece < count; piece++)
        if (strcmp(self->design->pieces[piece].name, self->solo) == 0)
            return piece;
    return -1;
}

void nw_document_set_solo(NwDocument *self, int piece) {
    if (piece == nw_document_get_solo(self))
        return;
    g_free(self->solo);
    self->solo = g_strdup(name_of(self, piece));
    tell(self, SELECTED);
}

gboolean nw_document_shows(NwDocument *self, int piece) {
    int solo = nw_document_get_solo(self);
    if (solo >= 0)
        return piece == solo;
    return !(nw_document_get_flags(self, piece) & NW_PIECE_HIDDEN);
}

guint64 nw_document_get_locked(NwDocument *self) {
    guint64 locked = 0;
    int count = self->design ? (int)self->design->piece_count : 0;
    for (int piece = 0; piece < count; piece++)
        if (nw_document_get_flags(self, piece) & NW_PIECE_LOCKED)
            locked |= G_GUINT64_CONSTANT(1) << piece;
    return locked;
}
