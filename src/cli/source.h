/* Where a verb's DESIGN comes from: a file, standard input, or a design in the store.
 *
 * "-" is standard input. Anything that names a file, or holds a slash or ends in .json, is a file.
 * Everything else is the name of a design in the store. Ownership: `open` fills, `close` frees. */
#ifndef NW_CLI_SOURCE_H
#define NW_CLI_SOURCE_H

#include "store/designs.h"

typedef struct NwSource {
    NwDesign *design;
    NwLibrary *library; /* NULL for a design that is not kept in a store */
    gint64 version;
    char *words; /* that name it to another verb, as one types them in a shell */
} NwSource;

/* Reads the design. With `writing`, a store that it comes from is opened for writing. */
gboolean nw_source_open(NwSource *source, const char *argument, const char *store, gboolean writing,
                        GError **error);

/* If a store is named, adds a design that came from a file to it (or, where a design of its name
 * is there, a version of that one), so that its searches are kept. */
gboolean nw_source_keep(NwSource *source, const char *store, GError **error);
void nw_source_close(NwSource *source);

/* Faults of the design that make a search meaningless: prints the first on standard error and
 * returns TRUE. Volumes that cannot match are only remarked upon. */
gboolean nw_source_refuse_faults(const NwSource *source);

#endif
