/* A look at a file before SQLite may touch it: whose is it, can it be written, is it at rest?
 * The essay is in library.h. Thread: any. */
#ifndef NW_STORE_FILE_PROBE_H
#define NW_STORE_FILE_PROBE_H

#include <glib.h>

#include "store/error.h"

typedef struct NwFileProbe {
    gboolean there;    /* a file of that name; with FALSE nothing else is said */
    gboolean writable; /* the file and its folder can be written */
    gboolean at_rest;  /* no side file holds anything, so the file is all there is */
    gint64 size, changed_ns;
} NwFileProbe;

/* Reads the first bytes of the file. FALSE for what is not ours, or newer, or not readable; a file
 * that is not there is no failure. Alters nothing. */
gboolean nw_file_probe(const char *path, NwFileProbe *look, GError **error);

/* Whether both looks saw the same file at rest, so that what was read between them holds. */
gboolean nw_file_probe_held(const NwFileProbe *before, const NwFileProbe *after);

#endif
