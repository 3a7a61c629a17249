/* What was drawn, in one version: a whole NwDesign as rows, and back. Inner part of designs.h.
 * Thread: that of the library; the caller has begun a transaction. */
#ifndef NW_STORE_DESIGN_ROWS_H
#define NW_STORE_DESIGN_ROWS_H

#include "design/design.h"
#include "store/library.h"

/* What keeps a design from being stored, or NULL: a name that is not UTF-8, a colour that is not
 * "#rrggbb", no copies, too many pieces or copies, an intended assembly that does not list every
 * copy once as a turned and shifted piece. An unfinished design (empty pieces, no envelope) is
 * fine. */
const char *nw_design_rows_fault(const NwDesign *design);

/* SHA-256 of everything that a version keeps of a design; 32 bytes. */
GBytes *nw_design_rows_dup_digest(const NwDesign *design);

gboolean nw_design_rows_write(NwLibrary *library, gint64 version_id, const NwDesign *design,
                              GError **error);
NwDesign *nw_design_rows_read(NwLibrary *library, gint64 version_id, GError **error);

#endif
