/* What can go wrong with a store, in one sentence each. Thread: any. */
#ifndef NW_STORE_ERROR_H
#define NW_STORE_ERROR_H

#include <glib.h>

#define NW_LIBRARY_ERROR (nw_library_error_quark())

typedef enum NwLibraryError {
    NW_LIBRARY_ERROR_NOT_FOUND, /* no file there, or no way to it */
    NW_LIBRARY_ERROR_NOT_OURS,  /* a file, but not a store of ours */
    NW_LIBRARY_ERROR_NEWER,     /* a store of a later version */
    NW_LIBRARY_ERROR_DAMAGED,   /* a store with wrong content */
    NW_LIBRARY_ERROR_READ_ONLY, /* it would have to be written to */
    NW_LIBRARY_ERROR_IN_USE,    /* another program holds it */
    NW_LIBRARY_ERROR_FAILED,    /* the disk is full or failing */
    NW_LIBRARY_ERROR_TAKEN,     /* a design of that name or a run of those options is there */
    NW_LIBRARY_ERROR_GONE,      /* no design, version or run with that number or name */
    NW_LIBRARY_ERROR_UNFIT,     /* what was handed in breaks a rule of the store */
} NwLibraryError;

GQuark nw_library_error_quark(void);

/* Sets the error for a result code of SQLite, or for a rule of ours; `path` is the store's. Always
 * FALSE. */
gboolean nw_library_fail(const char *path, int code, GError **error);
gboolean nw_library_refuse(const char *path, NwLibraryError what, GError **error);

#endif
