/* The inside of a document, for document.c and document_selection.c. */
#ifndef NW_SESSION_DOCUMENT_PRIVATE_H
#define NW_SESSION_DOCUMENT_PRIVATE_H

#include "session/document.h"
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
    gboolean gone;      /* from the store, by somebody else's hand */
    Stroke stroke;

    int piece;
    char *solo; /* the name of the piece that is shown alone, or NULL */
    NwSolid *selection;
    NwBrush brush;
    NwTouch touch;
    GHashTable *flags; /* by the name of the piece */
};

void nw_document_tell_selected(NwDocument *self);

/* After the design has become another: pointers at what is no longer there are let go. */
void nw_document_mend_pointing(NwDocument *self);

#endif
