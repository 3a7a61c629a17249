/* Designs in a store, and the versions of each.
 *
 * A version is a whole design, never changed once written; a design is a name and a current
 * version. Saving adds a version whose parent is the one it was made from, so versions form a
 * tree and nothing is lost by going back. The name of a design is that of its current version: a
 * new name is a new version too. Saving what the current version already says adds nothing.
 *
 * A store keeps designs settled (design/frame.h), whatever frames a file draws its pieces in: the
 * placements of a search belong to the frames of its pieces, and every reader must have the same.
 * Older stores may hold one that is not; it is settled as it is read, and job/run_store.h brings
 * what was found of it into the new frames. A design that cannot be settled stays as it is drawn.
 *
 * Ownership: what is returned is the caller's; lists free their entries. Thread: that of the
 * library. Failures: library.h. */
#ifndef NW_STORE_DESIGNS_H
#define NW_STORE_DESIGNS_H

#include "design/design.h"
#include "store/library.h"
#include "store/runs.h"

/* One line of a list of designs. Times are seconds since 1970. */
typedef struct NwDesignEntry {
    gint64 id, current_version;
    char *name;
    int versions;
    int pieces, bodies; /* of the current version; bodies count copies */
    gint64 modified;    /* when its latest version was saved */
    gint64 run_id;      /* the run saved last of any version, or 0 for none: */
    NwRunState run_state;
    double run_share;
    gint64 run_found; /* assemblies so far */
} NwDesignEntry;

typedef struct NwVersionEntry {
    gint64 id, parent; /* parent 0: the first, or its parent is gone */
    gint64 created;
    char *name, *note;
    char *action; /* what the edit was that made it, or "" (history.h) */
    int pieces, bodies;
    gboolean current;
} NwVersionEntry;

void nw_design_entry_free(NwDesignEntry *entry);
void nw_version_entry_free(NwVersionEntry *entry);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(NwDesignEntry, nw_design_entry_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC(NwVersionEntry, nw_version_entry_free)

/* A new design with its first version. ERROR_TAKEN if the store has one of that name. `note` may
 * be NULL, and so may the two ids. */
gboolean nw_library_add_design(NwLibrary *library, const NwDesign *design, const char *note,
                               gint64 *design_id, gint64 *version_id, GError **error);

/* A new version of a design, made from version `parent` (0: from the current one), which becomes
 * the current one. What is already in the current version adds nothing: *version_id is then that
 * one. ERROR_TAKEN if the name is new and another design has it. */
gboolean nw_library_add_version(NwLibrary *library, gint64 design_id, gint64 parent,
                                const NwDesign *design, const char *note, gint64 *version_id,
                                GError **error);

/* Goes back or forth to another version of the design. */
gboolean nw_library_set_current(NwLibrary *library, gint64 design_id, gint64 version_id,
                                GError **error);

NwDesign *nw_library_load_design(NwLibrary *library, gint64 version_id, GError **error);

/* The version as it was written down, which in an older store may be unsettled. */
NwDesign *nw_library_load_as_drawn(NwLibrary *library, gint64 version_id, GError **error);

/* NwDesignEntry by name; NwVersionEntry by age, oldest first. */
GPtrArray *nw_library_list_designs(NwLibrary *library, GError **error);
GPtrArray *nw_library_list_versions(NwLibrary *library, gint64 design_id, GError **error);

/* ERROR_GONE if there is none of that name. */
NwDesignEntry *nw_library_find_design(NwLibrary *library, const char *name, GError **error);

/* Whether the store has a design of that number; `has` stays as it is if that cannot be read. */
gboolean nw_library_has_design(NwLibrary *library, gint64 design_id, gboolean *has, GError **error);

/* Removes a design, its versions, their runs, and its trials. */
gboolean nw_library_remove_design(NwLibrary *library, gint64 design_id, GError **error);

#endif
