/* Undo and redo that survive a restart, and versions by name.
 *
 * Every edit is a version whose parent is the version it was made from, so versions form a tree.
 * Nothing but the place in it changes when an edit is undone:
 *
 *     undo  makes the parent of the current version current;
 *     redo  makes that child of the current version current through which the user went last
 *           (current_version.h). After undo and another edit, redo follows the new line; the old
 * one is still in the tree, and a version on it can be made current (nw_library_set_current).
 *
 * A version with a note is *named*: its user wants to find it again. Named versions, versions that
 * were searched (they have runs), and the current one are never removed. Of all others a design
 * keeps the NW_HISTORY_KEPT newest; saving an edit removes what is older. The children of a removed
 * version become children of its parent, and the way forth that led to it leads on past it: chains
 * stay whole, and undo from far back steps over several edits at once. When the first version of
 * all is removed, its children have no parent, and undo ends with them.
 *
 * Each call is one transaction. Thread: that of the library. Failures: library.h. */
#ifndef NW_STORE_HISTORY_H
#define NW_STORE_HISTORY_H

#include "store/designs.h"

enum { NW_HISTORY_KEPT = 500 };

/* What can be done from the current version: ids of versions, 0 for none. */
typedef struct NwHistory {
    gint64 current, undo, redo;
    char *undo_action, *redo_action; /* what would be taken back, and done again; or "" */
} NwHistory;

void nw_history_free(NwHistory *history);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(NwHistory, nw_history_free)

/* ERROR_GONE if there is no such design. */
NwHistory *nw_library_load_history(NwLibrary *library, gint64 design_id, GError **error);

/* Saves an edit of the current version; `action` (NULL allowed) says what it was, for the undo
 * menu. An edit that changed nothing adds nothing. Otherwise as nw_library_add_version. */
gboolean nw_library_save_edit(NwLibrary *library, gint64 design_id, const NwDesign *design,
                              const char *action, gint64 *version_id, GError **error);

/* Undoes or redoes one edit. ERROR_GONE if there is nothing to undo or redo; ERROR_TAKEN if the
 * design had another name then and another design has that name by now. `version_id` (NULL allowed)
 * receives the version that is current then. */
gboolean nw_library_undo(NwLibrary *library, gint64 design_id, gint64 *version_id, GError **error);
gboolean nw_library_redo(NwLibrary *library, gint64 design_id, gint64 *version_id, GError **error);

/* Names a version; "" takes its name away. */
gboolean nw_library_name_version(NwLibrary *library, gint64 version_id, const char *note,
                                 GError **error);

/* The named versions of a design (NwVersionEntry), oldest first. */
GPtrArray *nw_library_list_named(NwLibrary *library, gint64 design_id, GError **error);

/* Removes all but the `kept` newest of the versions that may be removed. `removed` (NULL allowed)
 * receives how many went. */
gboolean nw_library_prune(NwLibrary *library, gint64 design_id, int kept, int *removed,
                          GError **error);

#endif
