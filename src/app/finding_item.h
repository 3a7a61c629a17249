/* One row of the list of assemblies: a finding as a GObject, fixed once made but for two things: an
 * assembly that a list was told of (job/adopt.h) learns its way out later, and gets its number when
 * the list is complete. May be made in any thread; it owns its finding.
 *
 * Properties:
 *   "number"  the place in the order of lists (job/words.h) of a complete search, which is also its
 *             number for the notch command; 0 before that, for it would not be the last word
 */
#ifndef NW_APP_FINDING_ITEM_H
#define NW_APP_FINDING_ITEM_H

#include <glib-object.h>

#include "job/finding.h"

G_BEGIN_DECLS

#define NW_TYPE_FINDING_ITEM (nw_finding_item_get_type())
G_DECLARE_FINAL_TYPE(NwFindingItem, nw_finding_item, NW, FINDING_ITEM, GObject)

NwFindingItem *nw_finding_item_new_take(NwFinding *finding, guint order, int difference,
                                        guint32 moved);

/* Takes the finding of `examined`, the same assembly, which is left with none. It happens once
 * (FALSE after that), and what the row had before lives as long as the row. */
gboolean nw_finding_item_learn(NwFindingItem *self, NwFindingItem *examined);

const NwFinding *nw_finding_item_get(NwFindingItem *self);
guint nw_finding_item_get_order(NwFindingItem *self); /* as it came, from 1 */
guint nw_finding_item_get_number(NwFindingItem *self);
void nw_finding_item_set_number(NwFindingItem *self, guint number);

/* Bodies that stand elsewhere than in the intended assembly, seen from the most alike of its
 * turns; -1 if the design has none. `moved` (NULL allowed): which ones. */
int nw_finding_item_get_difference(NwFindingItem *self, guint32 *moved);

/* A body of the first set that comes free, and one of the last to part; -1 if unknown. */
int nw_finding_item_get_leader(NwFindingItem *self);
int nw_finding_item_get_last(NwFindingItem *self);

G_END_DECLS

#endif
