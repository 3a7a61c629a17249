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

typedef enum NwDocumentProperty {
    NW_DOCUMENT_DESIGN = 1,
    NW_DOCUMENT_VERSION,
    NW_DOCUMENT_GONE,
    NW_DOCUMENT_PIECE,
    NW_DOCUMENT_SELECTION,
    NW_DOCUMENT_TOUCH,
    NW_DOCUMENT_BRUSH,
    NW_DOCUMENT_SHOWN,
    NW_DOCUMENT_LOCKED,
    NW_DOCUMENT_PROPERTIES
} NwDocumentProperty;

void nw_document_notify(NwDocument *self, NwDocumentProperty property);

/* After the design has become another: pointers at what is no longer there are let go. */
void nw_document_mend_pointing(NwDocument *self);

/* Before another one comes: all pointers and flags. */
void nw_document_forget_pointing(NwDocument *self);

#endif
