/* A list model of which one item is chosen, whatever happens to the list.
 *
 * GTK's own single selection keeps a position, so whenever rows move it has to look for its item:
 * with 100,000 rows that are being sorted this takes tens of milliseconds each time. A choice
 * keeps the item instead. Is a row selected? It is, if its item is the chosen one. So nothing has
 * to be looked for, rows may come, go and be sorted at no cost, and an item that a filter hides is
 * chosen again when it comes back.
 *
 * Signals:
 *   "chosen"  the maker chose another item, by pointer or keys
 * Thread: the main one. */
#ifndef NW_APP_ASSEMBLIES_ITEM_SELECTION_H
#define NW_APP_ASSEMBLIES_ITEM_SELECTION_H

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define NW_TYPE_ITEM_SELECTION (nw_item_selection_get_type())
G_DECLARE_FINAL_TYPE(NwItemSelection, nw_item_selection, NW, ITEM_SELECTION, GObject)

NwItemSelection *nw_item_selection_new(GListModel *model); /* a reference is taken */

/* The chosen item, whether it is in the model or not; borrowed, NULL for none. Setting it does not
 * emit "chosen". */
gpointer nw_item_selection_get(NwItemSelection *self);
void nw_item_selection_set(NwItemSelection *self, gpointer item);

/* Where it is, or GTK_INVALID_LIST_POSITION. Cost: goes through the list. */
guint nw_item_selection_find(NwItemSelection *self);

G_END_DECLS

#endif
