/* The current version of a design, and the way forth from each version.
 *
 * `redo` of a version is its child on the line where the user was last: the child that is current,
 * or has the current version below it, or was so most recently. Whatever makes a version current
 * goes through here, which keeps two things true: a version has a way forth exactly when it has
 * children, and from every version above the current one it leads towards the current one.
 *
 * Inner part of designs.h and history.h. Thread: that of the library; the caller has begun a
 * transaction. Failures: library.h. */
#ifndef NW_STORE_CURRENT_VERSION_H
#define NW_STORE_CURRENT_VERSION_H

#include "design/design.h"
#include "store/library.h"

/* ERROR_GONE unless the version is one of the design. */
gboolean nw_current_version_check(NwLibrary *library, gint64 design_id, gint64 version_id,
                                  GError **error);

/* ERROR_TAKEN unless no design but `except` has that name. */
gboolean nw_current_version_check_name(NwLibrary *library, const char *name, gint64 except,
                                       GError **error);

/* Makes a version of the design the current one, and names the design after it. ERROR_TAKEN if
 * another design has that name by now. */
gboolean nw_current_version_set(NwLibrary *library, gint64 design_id, gint64 version_id,
                                GError **error);

/* What nw_library_add_version does, without its transaction. (In designs.c.) */
gboolean nw_current_version_grow(NwLibrary *library, gint64 design_id, gint64 parent,
                                 const NwDesign *design, const char *note, gint64 *version_id,
                                 GError **error);

/* Sets ERROR_GONE: "the store has no <what>; list its designs". Always FALSE. */
gboolean nw_current_version_gone(const char *what, GError **error);

#endif
