/* The rows of the list of a hunt, as the clerk hands them on: new ones go to its end, and those of
 * an adopted list come once more, with their way out. Thread: the main one. */
#ifndef NW_APP_FINDING_ROWS_H
#define NW_APP_FINDING_ROWS_H

#include <gio/gio.h>

#include "app/finding_item.h"

/* Rows (NwFindingItem) in the order in which they were made: the new ones first, whose order goes
 * on from the list, then what others learn. Returns how many rows have learnt something. */
guint nw_finding_rows_take(GListStore *list, const GPtrArray *rows);

#endif
