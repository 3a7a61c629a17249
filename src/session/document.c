#include "session/document_private.h"

#include <glib/gi18n.h>

#include "design/edit.h"
#include "design/frame.h"

G_DEFINE_FINAL_TYPE(NwDocument, nw_document, G_TYPE_OBJECT)

enum { TROUBLE, SIGNALS };
static guint signals[SIGNALS];

static GParamSpec *properties[NW_DOCUMENT_PROPERTIES];

void nw_document_notify(NwDocument *self, NwDocumentProperty property) {
    g_object_notify_by_pspec(G_OBJECT(self), properties[property]);
}

static void take_trouble(NwDocument *self, GError *error) {
    g_signal_emit(self, signals[TROUBLE], 0, error->message);
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

static void nw_document_get_property(GObject *object, guint id, GValue *value, GParamSpec *spec) {
    NwDocument *self = NW_DOCUMENT(object);
    switch (id) {
    case NW_DOCUMENT_DESIGN:
        g_value_set_pointer(value, self->design);
        break;
    case NW_DOCUMENT_VERSION:
        g_value_set_int64(value, self->version);
        break;
    case NW_DOCUMENT_GONE:
        g_value_set_boolean(value, self->gone);
        break;
    case NW_DOCUMENT_PIECE:
        g_value_set_int(value, self->piece);
        break;
    case NW_DOCUMENT_SELECTION:
        g_value_set_pointer(value, self->selection);
        break;
    case NW_DOCUMENT_TOUCH:
        g_value_set_int(value, (int)self->touch);
        break;
    case NW_DOCUMENT_BRUSH:
        g_value_set_int(value, (int)self->brush);
        break;
    case NW_DOCUMENT_SHOWN:
        g_value_set_uint64(value, nw_document_get_shown(self));
        break;
    case NW_DOCUMENT_LOCKED:
        g_value_set_uint64(value, nw_document_get_locked(self));
        break;
    default:
        G_OBJECT_WARN_INVALID_PROPERTY_ID(object, id, spec);
    }
}

static void nw_document_set_property(GObject *object, guint id, const GValue *value,
                                     GParamSpec *spec) {
    NwDocument *self = NW_DOCUMENT(object);
    switch (id) {
    case NW_DOCUMENT_PIECE:
        nw_document_set_piece(self, g_value_get_int(value));
        break;
    case NW_DOCUMENT_TOUCH:
        nw_document_set_touch(self, (NwTouch)g_value_get_int(value));
        break;
    case NW_DOCUMENT_BRUSH:
        nw_document_set_brush(self, (NwBrush)g_value_get_int(value));
        break;
    default:
        G_OBJECT_WARN_INVALID_PROPERTY_ID(object, id, spec);
    }
}

static void nw_document_class_init(NwDocumentClass *class) {
    GObjectClass *object = G_OBJECT_CLASS(class);
    const GParamFlags seen = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;
    const GParamFlags set = seen | G_PARAM_WRITABLE | G_PARAM_EXPLICIT_NOTIFY;
    object->finalize = nw_document_finalize;
    object->get_property = nw_document_get_property;
    object->set_property = nw_document_set_property;
    properties[NW_DOCUMENT_DESIGN] = g_param_spec_pointer("design", NULL, NULL, seen);
    properties[NW_DOCUMENT_VERSION] =
        g_param_spec_int64("version", NULL, NULL, G_MININT64, G_MAXINT64, 0, seen);
    properties[NW_DOCUMENT_GONE] = g_param_spec_boolean("gone", NULL, NULL, FALSE, seen);
    properties[NW_DOCUMENT_PIECE] =
        g_param_spec_int("piece", NULL, NULL, -1, NW_PIECES_MAX - 1, -1, set);
    properties[NW_DOCUMENT_SELECTION] = g_param_spec_pointer("selection", NULL, NULL, seen);
    properties[NW_DOCUMENT_TOUCH] =
        g_param_spec_int("touch", NULL, NULL, NW_TOUCH_GIVE, NW_TOUCH_LOOK, NW_TOUCH_GIVE, set);
    properties[NW_DOCUMENT_BRUSH] =
        g_param_spec_int("brush", NULL, NULL, 0, NW_BRUSH_COUNT - 1, NW_BRUSH_PART, set);
    properties[NW_DOCUMENT_SHOWN] =
        g_param_spec_uint64("shown", NULL, NULL, 0, G_MAXUINT64, 0, seen);
    properties[NW_DOCUMENT_LOCKED] =
        g_param_spec_uint64("locked", NULL, NULL, 0, G_MAXUINT64, 0, seen);
    g_object_class_install_properties(object, NW_DOCUMENT_PROPERTIES, properties);
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

/* ---- gone from the store ------------------------------------------------------------------ */

static void set_gone(NwDocument *self, gboolean gone) {
    if (self->gone == gone)
        return;
    self->gone = gone;
    if (gone)
        g_clear_pointer(&self->history, nw_history_free);
    nw_document_notify(self, NW_DOCUMENT_GONE);
}

void nw_document_look(NwDocument *self) {
    gboolean has = TRUE;
    if (!self->design || self->gone)
        return;
    nw_library_has_design(self->library, self->design_id, &has, NULL);
    set_gone(self, !has);
}

gboolean nw_document_is_gone(NwDocument *self) {
    return self->gone;
}

/* ---- another design ----------------------------------------------------------------------- */

/* Whoever holds something that belonged to the design as it was hears of it first, and so does
 * whoever draws it; then whoever works on versions, and finds that nothing of the old one is left.
 * By then all of the document is as it will be. */
static void begin_version(NwDocument *self) {
    g_object_freeze_notify(G_OBJECT(self));
}

static void end_version(NwDocument *self) {
    nw_document_notify(self, NW_DOCUMENT_DESIGN);
    g_object_thaw_notify(G_OBJECT(self));
    nw_document_notify(self, NW_DOCUMENT_VERSION);
}

/* ---- opening and going about in time ----------------------------------------------------- */

static void read_history(NwDocument *self) {
    g_clear_pointer(&self->history, nw_history_free);
    self->history = nw_library_load_history(self->library, self->design_id, NULL);
}

static void take_version(NwDocument *self, NwDesign *design, gint64 version) {
    clear_stroke(self);
    nw_design_free(self->design);
    self->design = design;
    self->version = self->saved = version;
    set_gone(self, FALSE);
    read_history(self);
    nw_document_mend_pointing(self);
}

/* Shows a version that is in the store already. */
static gboolean show_version(NwDocument *self, gint64 version, GError **error) {
    NwDesign *design = nw_library_load_design(self->library, version, error);
    if (!design)
        return FALSE;
    begin_version(self);
    take_version(self, design, version);
    end_version(self);
    return TRUE;
}

static gboolean has_parts_given(const NwDesign *design) {
    for (size_t i = 0; i < design->piece_count; i++)
        if (design->pieces[i].solid->count)
            return TRUE;
    return FALSE;
}

gboolean nw_document_open(NwDocument *self, const char *name, GError **error) {
    NwDesignEntry *entry = nw_library_find_design(self->library, name, error);
    NwDesign *design =
        entry ? nw_library_load_design(self->library, entry->current_version, error) : NULL;
    if (design) {
        begin_version(self);
        self->design_id = entry->id;
        nw_document_forget_pointing(self);
        take_version(self, design, entry->current_version);
        nw_document_set_touch(self, has_parts_given(design) ? NW_TOUCH_LOOK : NW_TOUCH_GIVE);
        end_version(self);
    }
    if (entry)
        nw_design_entry_free(entry);
    return design != NULL;
}

gboolean nw_document_create(NwDocument *self, const NwDesign *design, GError **error) {
    return nw_library_add_design(self->library, design, NULL, NULL, NULL, error) &&
           nw_document_open(self, design->name, error);
}

void nw_document_close(NwDocument *self) {
    begin_version(self);
    clear_stroke(self);
    g_clear_pointer(&self->design, nw_design_free);
    g_clear_pointer(&self->history, nw_history_free);
    self->design_id = self->version = self->saved = 0;
    set_gone(self, FALSE);
    nw_document_forget_pointing(self);
    end_version(self);
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
    return self->version >= 0 || self->gone;
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
    begin_version(self);
    nw_design_settle(self->design); /* as the store does with what it keeps */
    if (!self->gone && nw_library_save_edit(self->library, self->design_id, self->design, what,
                                            &self->saved, &error)) {
        self->version = self->saved;
    } else {
        self->version = --self->unsaved;
        nw_document_look(self);
        if (error && !self->gone)
            take_trouble(self, g_steal_pointer(&error));
        g_clear_error(&error);
    }
    if (!self->gone)
        read_history(self);
    nw_document_mend_pointing(self);
    end_version(self);
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
    case NW_TOUCH_LOOK:
        break;
    }
    if (edit.changed)
        nw_document_notify(self, NW_DOCUMENT_DESIGN);
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
    g_object_freeze_notify(G_OBJECT(self));
    nw_design_free(self->design);
    self->design = g_steal_pointer(&self->stroke.before);
    nw_document_take_selection(self, g_steal_pointer(&self->stroke.selection_before));
    clear_stroke(self);
    nw_document_notify(self, NW_DOCUMENT_DESIGN);
    g_object_thaw_notify(G_OBJECT(self));
}
