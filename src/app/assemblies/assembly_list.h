/* The list of assemblies: filtered, sorted, and one of them chosen.
 *
 *     findings -> filter -> sort -> one chosen -> columns
 *
 * It holds 100,000 rows that arrive at 20,000 a second without keeping the window waiting
 * (tests/bench/stream.c measures it): the findings come in splices, filter and sort are
 * incremental with comparators in C. A chosen row stays chosen wherever new rows push it, also
 * when a filter hides it for a while.
 *
 * Signals:
 *   "chosen"     the maker chose a row (nw_assembly_list_get_chosen)
 *   "activated"  and pressed Enter on it, or clicked it twice
 *   "tally"      the counts of nw_assembly_list_get_count or of what is shown are others
 *   "menu"       (x, y) the maker asks for the menu of the chosen row, there in the list
 * Thread: the main one. */
#ifndef NW_APP_ASSEMBLIES_ASSEMBLY_LIST_H
#define NW_APP_ASSEMBLIES_ASSEMBLY_LIST_H

#include <gtk/gtk.h>

#include "session/assembly_state.h"

G_BEGIN_DECLS

#define NW_TYPE_ASSEMBLY_LIST (nw_assembly_list_get_type())
G_DECLARE_FINAL_TYPE(NwAssemblyList, nw_assembly_list, NW, ASSEMBLY_LIST, GtkWidget)

/* NwAssemblyItem; a reference is taken. */
void nw_assembly_list_set_assemblies(NwAssemblyList *self, GListModel *findings);

/* The design that names the pieces; borrowed, and looked at whenever a row is drawn anew. */
void nw_assembly_list_set_design(NwAssemblyList *self, const NwDesign *design);
const NwDesign *nw_assembly_list_get_design(NwAssemblyList *self);

/* Borrowed; NULL for none. Choosing does not emit "chosen"; what the list does not have is kept
 * in mind, and chosen if it comes. */
NwAssemblyItem *nw_assembly_list_get_chosen(NwAssemblyList *self);
void nw_assembly_list_choose(NwAssemblyList *self, NwAssemblyItem *item);

/* The intended assembly among the findings, or NULL; borrowed. */
NwAssemblyItem *nw_assembly_list_get_intended(NwAssemblyList *self);

/* Shows only rows whose state has its bit in `states` (0: any) and that the piece leads (-1: any).
 */
void nw_assembly_list_narrow(NwAssemblyList *self, guint states, int leading_piece);

guint nw_assembly_list_get_count(NwAssemblyList *self, NwAssemblyState state); /* filter or not */
guint nw_assembly_list_get_shown(NwAssemblyList *self);

/* Sorts by a column, as a click on its head does; -1: the usual order. */
void nw_assembly_list_sort(NwAssemblyList *self, int column, GtkSortType direction);

/* The numbers of the rows are others now. */
void nw_assembly_list_renumber(NwAssemblyList *self);

G_END_DECLS

#endif
