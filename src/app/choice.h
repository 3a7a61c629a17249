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
#ifndef NW_APP_CHOICE_H
#define NW_APP_CHOICE_H

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define NW_TYPE_CHOICE (nw_choice_get_type())
G_DECLARE_FINAL_TYPE(NwChoice, nw_choice, NW, CHOICE, GObject)

NwChoice *nw_choice_new(GListModel *model); /* a reference is taken */

/* The chosen item, whether it is in the model or not; borrowed, NULL for none. Setting it does not
 * emit "chosen". */
gpointer nw_choice_get(NwChoice *self);
void nw_choice_set(NwChoice *self, gpointer item);

/* Where it is, or GTK_INVALID_LIST_POSITION. Cost: goes through the list. */
guint nw_choice_find(NwChoice *self);

G_END_DECLS

#endif
