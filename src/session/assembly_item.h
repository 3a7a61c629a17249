/* One row of the list of assemblies: a finding as a GObject, fixed once made but for two things: an
 * assembly that a list was told of (job/search_seed.h) learns its way out later, and gets its
 * number when the list is complete. May be made in any thread; it owns its finding.
 *
 * Properties:
 *   "number"  the place in the order of lists (text/words.h) of a complete search, which is also
 * its number for the notch command; 0 before that, for it would not be the last word
 */
#ifndef NW_SESSION_ASSEMBLY_ITEM_H
#define NW_SESSION_ASSEMBLY_ITEM_H

#include <glib-object.h>

#include "assembly/found_assembly.h"

G_BEGIN_DECLS

#define NW_TYPE_ASSEMBLY_ITEM (nw_assembly_item_get_type())
G_DECLARE_FINAL_TYPE(NwAssemblyItem, nw_assembly_item, NW, ASSEMBLY_ITEM, GObject)

NwAssemblyItem *nw_assembly_item_new_take(NwFoundAssembly *finding, guint order, int difference,
                                          guint32 moved);

/* Takes the finding of `examined`, the same assembly, which is left with none. It happens once
 * (FALSE after that), and what the row had before lives as long as the row. */
gboolean nw_assembly_item_learn(NwAssemblyItem *self, NwAssemblyItem *examined);

const NwFoundAssembly *nw_assembly_item_get(NwAssemblyItem *self);
guint nw_assembly_item_get_order(NwAssemblyItem *self); /* as it came, from 1 */
guint nw_assembly_item_get_number(NwAssemblyItem *self);
void nw_assembly_item_set_number(NwAssemblyItem *self, guint number);

/* Bodies that stand elsewhere than in the intended assembly, seen from the most alike of its
 * turns; -1 if the design has none. `moved` (NULL allowed): which ones. */
int nw_assembly_item_get_difference(NwAssemblyItem *self, guint32 *moved);

/* A body of the first set that comes free, and one of the last to part; -1 if unknown. */
int nw_assembly_item_get_leader(NwAssemblyItem *self);
int nw_assembly_item_get_last(NwAssemblyItem *self);

G_END_DECLS

#endif
