/* Assemblies as a run found them.
 *
 * The canonical key names an assembly within its run, and lists are in its order, so they are the
 * same for any number of threads. The way out is the caller's bytes.
 * Ownership: an assembly owns its placements and way out. Thread: that of the library.
 * Failures: library.h. */
#ifndef NW_STORE_ASSEMBLIES_H
#define NW_STORE_ASSEMBLIES_H

#include "design/design.h"
#include "store/library.h"

typedef enum NwStoredStatus {
    NW_STORED_OPENS,       /* it comes apart */
    NW_STORED_UNREACHABLE, /* it fits, and is proved never to come apart */
    NW_STORED_UNDECIDED,   /* a limit was reached before either was known */
    NW_STORED_UNEXAMINED,  /* nobody has looked yet */
    NW_STORED_STATUS_COUNT
} NwStoredStatus;

const char *nw_stored_status_name(NwStoredStatus status);

typedef struct NwStoredAssembly {
    guint64 key;
    NwStoredStatus status;
    int level, total;  /* slides to the first separation, and of the whole way out */
    int at_least;      /* slides of any way out, proved; 0: not looked for */
    gboolean verified; /* an independent checker has confirmed it */
    gint64 states;     /* states that the search of slides saw */
    NwPlacement *placements;
    gsize placement_count;
    GBytes *way_out; /* NULL for none */
} NwStoredAssembly;

/* Copies the placements; everything else is 0, and the status unexamined. */
NwStoredAssembly *nw_stored_assembly_new(guint64 key, const NwPlacement *placements, gsize count);
void nw_stored_assembly_free(NwStoredAssembly *assembly); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(NwStoredAssembly, nw_stored_assembly_free)

/* Up to `limit` assemblies of a run by rising key, from the first, or after the key `after` if it
 * is not NULL. Fewer than `limit` means that there are no more. Nothing stays open between calls,
 * so a long list can be read page by page while a search writes. */
GPtrArray *nw_library_load_assemblies(NwLibrary *library, gint64 run_id, const guint64 *after,
                                      int limit, GError **error);

/* One assembly; ERROR_GONE if the run has none with that key. */
NwStoredAssembly *nw_library_load_assembly(NwLibrary *library, gint64 run_id, guint64 key,
                                           GError **error);

/* Replaces one of a run by what is known better of it; the state of the run stays as it is. */
gboolean nw_library_improve_assembly(NwLibrary *library, gint64 run_id, NwStoredAssembly *assembly,
                                     GError **error);

/* For runs.c: adds or replaces within the caller's transaction. */
gboolean nw_library_put_assemblies(NwLibrary *library, gint64 run_id, GPtrArray *assemblies,
                                   GError **error);

#endif
