/* What the maker is pointing at on the bench: the chosen piece, the selection, the brush, and the
 * flags of pieces. */
#include <string.h>

#include "session/document_private.h"

static void set_piece(NwDocument *self, int piece) {
    if (piece == self->piece)
        return;
    self->piece = piece;
    nw_document_notify(self, NW_DOCUMENT_PIECE);
}

void nw_document_mend_pointing(NwDocument *self) {
    int count = (int)self->design->piece_count, piece = MIN(self->piece, count - 1);
    set_piece(self, piece < 0 && count ? 0 : piece);
    if (nw_document_get_solo(self) < 0)
        g_clear_pointer(&self->solo, g_free);
    nw_document_take_selection(self,
                               nw_solid_intersection(self->selection, self->design->envelope));
}

void nw_document_forget_pointing(NwDocument *self) {
    set_piece(self, -1);
    g_clear_pointer(&self->solo, g_free);
    g_hash_table_remove_all(self->flags);
    nw_document_take_selection(self, nw_solid_new());
}

int nw_document_get_piece(NwDocument *self) {
    return self->piece;
}

void nw_document_set_piece(NwDocument *self, int piece) {
    int count = self->design ? (int)self->design->piece_count : 0;
    set_piece(self, CLAMP(piece, -1, count - 1));
}

const NwSolid *nw_document_get_selection(NwDocument *self) {
    return self->selection;
}

void nw_document_take_selection(NwDocument *self, NwSolid *selection) {
    gboolean same = nw_solid_equal(self->selection, selection);
    nw_solid_free(self->selection);
    self->selection = selection;
    if (!same)
        nw_document_notify(self, NW_DOCUMENT_SELECTION);
}

NwTouch nw_document_get_touch(NwDocument *self) {
    return self->touch;
}

void nw_document_set_touch(NwDocument *self, NwTouch touch) {
    if (touch == self->touch)
        return;
    self->touch = touch;
    nw_document_notify(self, NW_DOCUMENT_TOUCH);
}

void nw_document_take_brush(NwDocument *self) {
    if (self->touch == NW_TOUCH_LOOK)
        nw_document_set_touch(self, NW_TOUCH_GIVE);
}

NwBrush nw_document_get_brush(NwDocument *self) {
    return self->brush;
}

void nw_document_set_brush(NwDocument *self, NwBrush brush) {
    if (brush == self->brush)
        return;
    self->brush = brush;
    nw_document_notify(self, NW_DOCUMENT_BRUSH);
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
    nw_document_notify(self, flag == NW_PIECE_LOCKED ? NW_DOCUMENT_LOCKED : NW_DOCUMENT_SHOWN);
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
    nw_document_notify(self, NW_DOCUMENT_SHOWN);
}

gboolean nw_document_shows(NwDocument *self, int piece) {
    int solo = nw_document_get_solo(self);
    if (solo >= 0)
        return piece == solo;
    return !(nw_document_get_flags(self, piece) & NW_PIECE_HIDDEN);
}

guint64 nw_document_get_shown(NwDocument *self) {
    guint64 shown = 0;
    int count = self->design ? (int)self->design->piece_count : 0;
    for (int piece = 0; piece < count; piece++)
        if (nw_document_shows(self, piece))
            shown |= G_GUINT64_CONSTANT(1) << piece;
    return shown;
}

guint64 nw_document_get_locked(NwDocument *self) {
    guint64 locked = 0;
    int count = self->design ? (int)self->design->piece_count : 0;
    for (int piece = 0; piece < count; piece++)
        if (nw_document_get_flags(self, piece) & NW_PIECE_LOCKED)
            locked |= G_GUINT64_CONSTANT(1) << piece;
    return locked;
}
