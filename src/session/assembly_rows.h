/* The rows of the list of a search, as the worker hands them on: new ones go to its end, and those
 * of an adopted list come once more, with their way out. Thread: the main one. */
#ifndef NW_SESSION_ASSEMBLY_ROWS_H
#define NW_SESSION_ASSEMBLY_ROWS_H

#include <gio/gio.h>

#include "session/assembly_item.h"

/* Rows (NwAssemblyItem) in the order in which they were made: the new ones first, whose order goes
 * on from the list, then what others learn. Returns how many rows have learnt something. */
guint nw_assembly_rows_take(GListStore *list, const GPtrArray *rows);

#endif
