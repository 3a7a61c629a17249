/* The design store: one SQLite file with designs, their versions, runs and assemblies.
 *
 * How a store is opened. SQLite writes early and silently: it rolls back journals, makes side
 * files, switches modes. A file that is not ours must see none of that, so the opener goes
 *
 *     read 100 bytes  ->  look on, immutable  ->  connect  ->  migrate
 *
 * 1. The file's own header, read with read(): SQLite's 16 bytes, our application_id, and a
 *    user_version we know. Anything else is refused here, before SQLite has seen the file. An
 *    empty file is not ours either: a store is born complete (create.h), so nothing we make is
 *    ever empty, and another program may be about to fill it.
 * 2. If no side file holds anything, SQLite reads the file as immutable, which takes no lock and
 *    makes no side file: PRAGMA quick_check, and the schema letter by letter. quick_check reads
 *    the whole file; libraries are megabytes, and it is what lets us refuse a damaged store
 *    before the first write. (A side file with content means that the store is in use or was
 *    killed. It then belongs to the store, and the same tests run on the real connection, which
 *    writes nothing to store or log until they are passed; only a rollback journal, which we
 *    never make ourselves, is applied by SQLite as it connects.)
 * 3. WAL, foreign keys, full sync, 3 seconds of patience with other programs.
 * 4. Steps of the schema that the store lacks, all in one transaction (schema.h).
 *
 * A store that cannot be written to is opened for reading. It is then taken as unchanging unless
 * a log beside it has content.
 *
 * Every call that writes is one transaction. A killed process loses what it had not committed.
 * Ownership: the caller closes. Thread: one at a time; a worker opens the file again for itself.
 * On failure a call returns FALSE or NULL, with an error in NW_LIBRARY_ERROR whose message is one
 * sentence that names the file and says what to do. */
#ifndef NW_STORE_LIBRARY_H
#define NW_STORE_LIBRARY_H

#include "store/error.h"

typedef struct NwLibrary NwLibrary;

typedef enum NwLibraryMode {
    NW_LIBRARY_READ_ONLY,  /* nothing is changed through it */
    NW_LIBRARY_READ_WRITE, /* the store must be there */
    NW_LIBRARY_CREATE,     /* as READ_WRITE, and made when nothing is there */
} NwLibraryMode;

/* Opens the store at `path`, or at the default place for NULL. In the two writing modes a store
 * that can only be read opens too: ask nw_library_is_read_only. Cost: reads the whole file once. */
NwLibrary *nw_library_open(const char *path, NwLibraryMode mode, GError **error);
void nw_library_close(NwLibrary *library); /* NULL is allowed */

/* $XDG_DATA_HOME/notchwright/library.notch */
char *nw_library_dup_default_path(void);
const char *nw_library_get_path(const NwLibrary *library);
gboolean nw_library_is_read_only(const NwLibrary *library);

#endif
